package intake

import (
	"bytes"
	"html"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/store/intake/raster"
)

func scan(t *testing.T, width, height int) string {
	t.Helper()
	pic := image.NewGray(image.Rect(0, 0, width, height))
	pic.Set(1, 1, color.White)
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, pic))
	return out.String()
}

var twoPoints = []string{"ax", "100", "ay", "400", "bx", "500", "by", "400", "distance", "20 m", "direction", "", "x", "2 m", "y", "3 m", "opacity", "40"}

func TestPicture_isPlacedTakenAwayAndPlacedAnew(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("ground floor.png", scan(t, 1000, 500))
	assert.Contains(t, body, "ground floor.png, 1000 x 500 pixels")
	shown := a.Get(address + "/picture")
	assert.Equal(t, "image/png", shown.Header().Get("Content-Type"))
	assert.Equal(t, scan(t, 1000, 500), shown.Body.String())

	got := a.Plain(address+"/apply", append(twoPoints, "storey", "s1")...)
	require.Equal(t, http.StatusSeeOther, got.Code, got.Body.String())
	assert.Equal(t, "/projects/p1/storeys/s1/plan", got.Header().Get("Location"))
	plan, _, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	u := plan.Underlay
	require.NotNil(t, u)
	assert.EqualValues(t, 50, u.Width, "400 pixels are 20 m")
	assert.EqualValues(t, 25, u.Height)
	assert.InDelta(t, -3, u.At.X, 1e-9)
	assert.InDelta(t, 0.4, u.Opacity, 1e-9)
	history, err := a.Store.History(t.Context(), "p1", store.HistoryFilter{})
	require.NoError(t, err)
	assert.Contains(t, history[0].Said, "placed picture ground floor.png beneath Ground")
	assert.Contains(t, history[0].Said, "lengths good to 0.5 %")

	stored := a.Get("/projects/p1/pictures/" + u.Picture)
	assert.Equal(t, "image/png", stored.Header().Get("Content-Type"))
	assert.Contains(t, stored.Header().Get("Cache-Control"), "immutable")
	assert.Equal(t, 404, a.Get("/projects/p2/pictures/"+u.Picture).Code)

	page := a.Get(imports).Body.String()
	assert.Contains(t, page, "Pictures beneath storeys")
	again := a.Plain(imports + "/pictures/s1/again")
	require.Equal(t, 303, again.Code)
	assert.Contains(t, a.Get(again.Header().Get("Location")).Body.String(), "1000 x 500 pixels")
	assert.Equal(t, 404, a.Plain(imports+"/pictures/s2/again").Code)

	require.Equal(t, 303, a.Plain(imports+"/pictures/s1/remove").Code)
	plan, _, err = a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Nil(t, plan.Underlay)
	_, err = a.Store.Undo(t.Context(), store.Request{ProjectID: "p1", Scope: store.PlanSubject("s1")})
	require.NoError(t, err)
	plan, _, err = a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Equal(t, u, plan.Underlay)
}

func TestPicture_refusesAndKeepsWhatWasTyped(t *testing.T) {
	a := newApp(t)
	var photo bytes.Buffer
	require.NoError(t, jpeg.Encode(&photo, image.NewGray(image.Rect(0, 0, 600, 500)), nil))
	address, _ := a.preview("scan.jpg", photo.String())
	for want, change := range map[string][2]string{
		"Choose the storey":                  {"storey", "nowhere"},
		"place across of point A is missing": {"ax", ""},
		"place down of point B is missing":   {"by", "NaN"},
		"is not a length":                    {"distance", "12 in the afternoon"},
		"say how far":                        {"distance", "0"},
		"is no angle":                        {"direction", "north"},
		"The opacity goes from 5 to 100":     {"opacity", "0"},
		"lie on the picture":                 {"bx", "601"},
	} {
		pairs := append([]string{"storey", "s1"}, twoPoints...)
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == change[0] {
				pairs[i+1] = change[1]
			}
		}
		got := a.Plain(address+"/apply", pairs...)
		assert.Equal(t, 422, got.Code, want)
		assert.Contains(t, strings.ToLower(got.Body.String()), strings.ToLower(want))
		if change[0] != "distance" {
			assert.Contains(t, got.Body.String(), `value="20 m"`, "what was typed stays")
		}
	}
	plan, _, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Nil(t, plan.Underlay)
}

// Each file that cannot be shown is refused with its sentence where it is sent;
// the reader's own tests hold many more.
func TestPicture_bad(t *testing.T) {
	a := newApp(t)
	whole := scan(t, 400, 300)
	for want, content := range map[string]string{
		"cut short":          whole[:len(whole)/2],
		"The file is empty":  "",
		"cannot be read":     "%PDF-1.7\nnonsense",
		"at most 40 million": "\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR\x00\x01\x86\xa0\x00\x01\x86\xa0\x08\x00\x00\x00\x00\x8d\x39\x54\x14",
		"is damaged":         "\xff\xd8\xff\xe0nonsense\xff\xd9",
	} {
		got := a.send("plan.png", content, "", "")
		assert.Equal(t, 422, got.Code, want)
		assert.Contains(t, got.Body.String(), want)
	}
}

// While the form is filled in, the page says what it would do.
func TestPicture_saysScaleAndErrorBeforeItIsPlaced(t *testing.T) {
	a := newApp(t)
	address, _ := a.preview("ground floor.png", scan(t, 1000, 500))
	check := func(change ...string) string {
		t.Helper()
		pairs := append([]string{"storey", "s1"}, twoPoints...)
		for i := 0; i < len(change); i += 2 {
			pairs = append(pairs, change[i], change[i+1])
		}
		got := a.Post(address+"/check", pairs...)
		require.Equal(t, 200, got.Code)
		return html.UnescapeString(got.Body.String())
	}
	said := check()
	assert.Contains(t, said, `id="placing-said"`)
	assert.Contains(t, said, "a pixel is 50 mm")
	assert.Contains(t, said, "up to 0.5 % wrong", "2 pixels of 400")
	said = check("cx", "100", "cy", "400", "dx", "100", "dy", "100", "second", "15.6 m", "straight", "yes")
	assert.Contains(t, said, "The picture is stretched: down lengths are 4 % longer than across", "300 pixels are 15 m by the first pair")
	assert.Contains(t, said, "Each way gets its own scale")
	said = check("cx", "100", "cy", "400", "dx", "100", "dy", "100", "second", "15.05 m", "straight", "yes")
	assert.Contains(t, said, "Both pairs agree")
	assert.Contains(t, check("cx", "100"), "The place down of point C is missing")
	page := a.Plain(address+"/check", append([]string{"storey", "s1"}, twoPoints...)...)
	assert.Contains(t, page.Body.String(), "a pixel is 50 mm", "without scripts too")

	pairs := append([]string{"storey", "s1", "cx", "100", "cy", "400", "dx", "100", "dy", "100", "second", "15.6 m", "straight", "yes"}, twoPoints...)
	require.Equal(t, http.StatusSeeOther, a.Plain(address+"/apply", pairs...).Code)
	plan, _, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.EqualValues(t, 50, plan.Underlay.Width)
	assert.EqualValues(t, 26, plan.Underlay.Height, "15.6 m / 300 pixels x 500")
	history, err := a.Store.History(t.Context(), "p1", store.HistoryFilter{})
	require.NoError(t, err)
	assert.Contains(t, history[0].Said, "straightened by")

	// Placed anew, the page starts with the place that it has, and says the same.
	again := a.Get(a.Plain(imports + "/pictures/s1/again").Header().Get("Location")).Body.String()
	assert.Contains(t, again, "The picture is stretched")
}

// Lengths and places are typed in the project's units.
func TestPictureForm_startsWithWhereThePictureLies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]units.System{units.US, units.SI}).Draw(t, "units")
		u := &domain.Underlay{Width: units.Metres(rapid.IntRange(1000, 90_000).Draw(t, "width")) / 1000, Height: units.Metres(rapid.IntRange(1000, 90_000).Draw(t, "height")) / 1000,
			At:   geom.Pt(float64(rapid.IntRange(-90_000, 90_000).Draw(t, "x"))/1000, float64(rapid.IntRange(-90_000, 90_000).Draw(t, "y"))/1000),
			Turn: float64(rapid.IntRange(-179_999, 180_000).Draw(t, "turn")) / 1000, Opacity: float64(rapid.IntRange(5, 100).Draw(t, "opacity")) / 100}
		f := &pictureFile{now: u, Picture: raster.Picture{Width: rapid.IntRange(400, 5000).Draw(t, "across"), Height: rapid.IntRange(400, 5000).Draw(t, "down")}}
		p, err := placingOf(formOf(f.before("s1", sys)), f, sys)
		if err != nil {
			t.Fatal(err)
		}
		got, fit, err := place(p)
		if err != nil {
			t.Skip(err) // stretched beyond what anybody would place
		}
		if !fit.stretched() && fit.Second {
			t.Skip("stretched by less than the points allow")
		}
		if math.Abs(float64(got.Width-u.Width)) > 0.002 || math.Abs(float64(got.Height-u.Height)) > 0.002 || !got.At.Near(u.At, 0.002) || math.Abs(math.Remainder(got.Turn-u.Turn, 360)) > 0.002 {
			t.Fatalf("%+v came back as %+v", u, got)
		}
	})
}
