package drawing_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

func svgOf(t testing.TB, p *drawing.Picture, opt drawing.SVGOptions) string {
	t.Helper()
	var out strings.Builder
	require.NoError(t, drawing.SVG(&out, p, opt))
	return out.String()
}

// A golden drawing a way of writing; lines are broken at elements to read the difference.
func TestSVG_golden(t *testing.T) {
	p, plan, rooms := classrooms(2, units.US)
	rooms[0].Design.Devices[3].Turn = 225
	paper := drawing.RoomView(p, plan, rooms[0], rooms, drawing.Options{Furniture: true, Spread: true}).Fit(184, 120)
	screen := drawing.Storey(p, plan, rooms[:1], drawing.Options{Highlight: map[string]bool{"device-r0-ps": true},
		Findings: []drawing.Finding{{ID: "1", At: *rooms[0].Design.Devices[3].At, Severity: drawing.Error, Text: "PS-1 is outside its room"}}})
	for name, got := range map[string]string{"room_paper.svg": svgOf(t, paper, drawing.SVGOptions{File: true}), "storey_screen.svg": svgOf(t, screen, drawing.SVGOptions{Screen: true})} {
		got = strings.ReplaceAll(got, "><", ">\n<")
		file := filepath.Join("testdata", name)
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err, "run the test with -update once")
		assert.Equal(t, string(want), got, "%s: if it is meant, run with -update and read the difference", name)
	}
}

func TestToPaper_isWhatTheSVGTellsTheBrowser(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	pic := drawing.Storey(p, plan, rooms, drawing.Options{Scale: drawing.Scale{Ratio: 50}})
	text := svgOf(t, pic, drawing.SVGOptions{Screen: true})
	attr := func(name string) float64 {
		found := regexp.MustCompile(name + `="([^"]+)"`).FindStringSubmatch(text)
		require.Len(t, found, 2, name)
		v, err := strconv.ParseFloat(found[1], 64)
		require.NoError(t, err)
		return v
	}
	x, y, k := attr("data-origin-x"), attr("data-origin-y"), attr("data-per-meter")
	assert.InDelta(t, 20, k, 1e-9, "1 m at 1:50 is 20 mm")
	for _, at := range []geom.Point{{}, {X: 8, Y: 7}, {X: 1.23, Y: 4.56}} {
		want := pic.ToPaper(at)
		assert.InDelta(t, want.X, (at.X-x)*k, 1e-4)
		assert.InDelta(t, want.Y, (y-at.Y)*k, 1e-4)
	}
}

func TestStorey_elementsHaveLastingIDs(t *testing.T) {
	p, plan, rooms := classrooms(2, units.SI)
	text := svgOf(t, drawing.Storey(p, plan, rooms, drawing.Options{}), drawing.SVGOptions{Screen: true})
	for _, id := range []string{"room-r1", "name-r1", "wall-o0", "opening-o0-1", "device-r0-ps", "device-r1-ps", "fixture-r0-f3", "seat-r1-s2"} {
		assert.Equal(t, 1, strings.Count(text, ` id="`+id+`"`), id)
	}
	ids := regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(text, -1)
	seen := map[string]bool{}
	for _, id := range ids {
		assert.False(t, seen[id[1]], "%s stands twice", id[1])
		seen[id[1]] = true
	}
	assert.NotContains(t, text, "style=")
	assert.NotContains(t, text, "fill=", "colors are the style sheet's business on screen")
	paper := svgOf(t, drawing.Storey(p, plan, rooms, drawing.Options{}), drawing.SVGOptions{})
	assert.NotContains(t, paper, " id=", "several drawings may stand on a page")
	assert.NotContains(t, paper, "<use")
}

func TestStorey_showsOnlyTheLayersAskedFor(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	for _, l := range drawing.Layers() {
		pic := drawing.Storey(p, plan, rooms, drawing.Options{Layers: map[drawing.Layer]bool{l: true}, Findings: []drawing.Finding{{ID: "1", At: geom.Pt(1, 1), Severity: drawing.Info}}})
		for _, i := range pic.Items {
			assert.Equal(t, l, i.Layer)
		}
		assert.Equal(t, l != drawing.LayerUnderlay, len(pic.Items) > 0, l)
	}
}

// Whatever a drawing uses, its legend explains.
func TestLegend_explainsEverySymbolAndLine(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	r := rooms[0]
	for i, k := range append(equipment.Kinds(), "") {
		typ := "no such type"
		for j := range p.Book {
			if p.Book[j].Kind == k {
				typ = p.Book[j].ID
			}
		}
		at := geom.Pt(float64(i)*0.7+0.5, 3)
		r.Design.Devices = append(r.Design.Devices, domain.Device{ID: domain.ID(fmt.Sprintf("k%d", i)), Tag: fmt.Sprintf("K-%d", i), Type: typ, At: &at, Turn: float64(i)})
	}
	plan.Walls = append(plan.Walls, domain.Wall{ID: "p", A: geom.Pt(1, 1), B: geom.Pt(3, 1), Kind: domain.Partition, Openings: []domain.Opening{{ID: "g", Kind: domain.Gap, At: 0.5, Width: 1}}},
		domain.Wall{ID: "b", A: geom.Pt(1, 2), B: geom.Pt(3, 2), Kind: domain.Boundary})
	var found []drawing.Finding
	for i, s := range []drawing.Severity{drawing.Error, drawing.Warning, drawing.Info} {
		found = append(found, drawing.Finding{ID: fmt.Sprint(i), At: geom.Pt(4, float64(i)), Severity: s})
	}
	pic := drawing.Storey(p, plan, rooms, drawing.Options{Findings: found, Furniture: true, Spread: true})
	explained := map[string]string{}
	for _, e := range pic.Legend {
		assert.NotContains(t, explained, e.Name, "one entry each")
		explained[e.Name] = e.Meaning
	}
	letters := map[string]bool{}
	for _, i := range pic.Items {
		for _, s := range i.Shapes {
			if symbol, ok := s.(drawing.Symbol); ok {
				assert.NotEmpty(t, explained[symbol.Name], symbol.Name)
				letters[symbol.Name] = true
			}
		}
	}
	assert.Len(t, letters, len(equipment.Kinds())+1+3, "each kind has a symbol of its own")
	for _, name := range []string{"facing", "aside", "luminaire", "seat", "wall", "partition", "boundary", "window", "door", "opening"} {
		assert.NotEmpty(t, explained[name], name)
	}
	for _, k := range equipment.Kinds() {
		assert.Equal(t, k.Traits().Name, explained["device-"+string(k)])
	}
	texts := pic.Texts()
	for _, e := range pic.Legend {
		assert.Contains(t, texts, e.Meaning)
	}
	bare := drawing.Storey(p, nil, rooms[:0], drawing.Options{Furniture: true})
	assert.Empty(t, bare.Legend, "and nothing that is not there")
}

// Screen and paper are drawn with the same pens.
func TestStyles_screenAndPaperAgree(t *testing.T) {
	css, err := os.ReadFile("../../static/css/plan.css")
	require.NoError(t, err)
	for _, s := range drawing.Styles() {
		rule := regexp.MustCompile(`(?m)\.` + string(s) + ` \{([^}]*)\}`).FindSubmatch(css)
		require.NotNil(t, rule, "plan.css has no rule for %s", s)
		look, text := s.Look(), string(rule[1])
		assert.Equal(t, look.Solid, strings.Contains(text, "fill:"), "%s: fill", s)
		assert.Equal(t, width(look.Pen), found(text, "stroke-width"), "%s: pen", s)
		assert.Equal(t, width(look.Dash), found(text, "stroke-dasharray"), "%s: dash", s)
		assert.Equal(t, look.Pen > 0, strings.Contains(text, "stroke:"), "%s: line color", s)
	}
}

func width(mm float64) string {
	if mm == 0 {
		return ""
	}
	return strings.TrimPrefix(units.Trim(mm, 2), "0")
}

func found(rule, property string) string {
	m := regexp.MustCompile(property + `: ([0-9.]+)`).FindStringSubmatch(rule)
	if m == nil {
		return ""
	}
	return m[1]
}

func TestSVG_escapesWhatPeopleWrite(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	rooms[0].Room.Number, rooms[0].Room.Name = `<script>1</script>`, "A & \"B\" \x00 'C' \xff"
	rooms[0].Design.Devices[0].Tag = "</text><x/>"
	for _, opt := range []drawing.SVGOptions{{Screen: true}, {File: true}} {
		text := svgOf(t, drawing.Storey(p, plan, rooms, drawing.Options{Furniture: true}), opt)
		assert.NotContains(t, text, "<script>")
		assert.NotContains(t, text, "<x/>")
		assert.NotContains(t, text, "\x00")
		assert.Contains(t, text, "A &amp; &#34;B&#34;")
	}
}

// Surveyed coordinates draw as well as small ones.
func TestStorey_isTheSameFarFromTheOrigin(t *testing.T) {
	p, plan, rooms := classrooms(2, units.SI)
	near := svgOf(t, drawing.Storey(p, plan, rooms, drawing.Options{}), drawing.SVGOptions{})
	far := geom.Pt(500000, 4000000)
	for i := range plan.Walls {
		plan.Walls[i].A, plan.Walls[i].B = plan.Walls[i].A.Add(far), plan.Walls[i].B.Add(far)
	}
	for _, r := range rooms {
		r.Room.Outline = r.Outline.Translate(far)
		for i := range r.Room.Fixtures {
			r.Room.Fixtures[i].At = r.Room.Fixtures[i].At.Add(far)
		}
		for i := range r.Room.Sitting {
			r.Room.Sitting[i].At = r.Room.Sitting[i].At.Add(far)
		}
		for i := range r.Design.Devices {
			at := r.Design.Devices[i].At.Add(far)
			r.Design.Devices[i].At = &at
		}
	}
	assert.Equal(t, near, svgOf(t, drawing.Storey(p, plan, rooms, drawing.Options{}), drawing.SVGOptions{}))
}

// Nothing is cut off: every mark lies on the paper, and the whole fits the space given.
func TestFit_everythingLiesOnThePaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, plan, rooms := classrooms(rapid.IntRange(1, 6).Draw(t, "rooms"), rapid.SampledFrom([]units.System{units.US, units.SI}).Draw(t, "units"))
		for i := range rooms[0].Design.Devices {
			at := geom.Pt(rapid.Float64Range(-3, 12).Draw(t, "x"), rapid.Float64Range(-3, 12).Draw(t, "y"))
			rooms[0].Design.Devices[i].At = &at
			rooms[0].Design.Devices[i].Turn = rapid.Float64Range(-720, 720).Draw(t, "turn")
		}
		opt := drawing.Options{Furniture: true, Spread: rapid.Bool().Draw(t, "spread")}
		view := drawing.StoreyView(p, plan, rooms, opt)
		if rapid.Bool().Draw(t, "one room") {
			view = drawing.RoomView(p, plan, rooms[0], rooms, opt)
		}
		w, h := rapid.Float64Range(120, 900).Draw(t, "width"), rapid.Float64Range(110, 600).Draw(t, "height")
		pic := view.Fit(w, h)
		assert.LessOrEqual(t, pic.Height, h+0.01)
		assert.InDelta(t, w, pic.Width, 0.01)
		pic.Each(func(s drawing.Shape) { onPaper(t, pic, s) })
	})
}

func onPaper(t *rapid.T, pic *drawing.Picture, s drawing.Shape) {
	in := func(p drawing.Point) {
		assert.True(t, p.X >= -0.01 && p.Y >= -0.01 && p.X <= pic.Width+0.01 && p.Y <= pic.Height+0.01, "%T at %v of %v x %v", s, p, pic.Width, pic.Height)
	}
	switch s := s.(type) {
	case drawing.Area:
		for _, ring := range s.Rings {
			for _, p := range ring {
				in(p)
			}
		}
	case drawing.Line:
		for _, p := range s.Points {
			in(p)
		}
	case drawing.Disc:
		in(s.At.Add(drawing.Point{X: s.Radius, Y: s.Radius}))
		in(s.At.Sub(drawing.Point{X: s.Radius, Y: s.Radius}))
	case drawing.Text:
		in(s.At)
	case drawing.Symbol:
		t.Fatal("Each hands over plain shapes only")
	}
}
