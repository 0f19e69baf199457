package plan

import (
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energycode"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/webtest"
)

// dayScope is one room 4 m wide, 6 m deep and 3 m high with a window of 3.0 by 1.8 m
// in the middle of its south wall, of glass that passes 0.68 and nothing else in the
// way: the room for which published formulas were reckoned apart from this program.
// L1 hangs in the primary zone and says so, L2 in the secondary and says "window
// row"; a daylight sensor looks at the window from 1.8 m.
func dayScope() *domain.Scope {
	scope := webtest.School()
	scope.Project.Units, scope.Project.CodePack = units.SI, ""
	scope.Project.Limits = domain.GenericLimits()
	for id, v := range map[domain.LimitID]float64{domain.GlazedShare: 100, domain.GlassMaintenance: 100} {
		scope.Project.Limits.Own(id).Value = v
	}
	r := &scope.Rooms[0]
	r.TypicalID, r.Outline, r.Sitting, r.Windows = "", geom.Rectangle(0, 0, 4, 6), nil, true
	r.Ceiling = 3
	at := geom.Pt(2, 1.8288) // 6 ft
	r.Design = domain.Design{
		Loads: []domain.Load{
			{ID: "l1", Seq: 1, Tag: "L1", Name: "Window row", Kind: domain.Lighting, Count: 2, Watts: 80, Zone: domain.ZoneWindow},
			{ID: "l2", Seq: 2, Tag: "L2", Name: "Inner row", Kind: domain.Lighting, Count: 2, Watts: 60, Zone: domain.ZoneWindow},
		},
		Devices: []domain.Device{{ID: "ds", Seq: 1, Tag: "DS-1", Type: "ds-open", Loop: domain.OpenLoop, At: &at, Turn: 270}},
		Links:   []domain.Link{{ID: "k", Device: "ds", Load: "l1", Do: domain.Action{Verb: domain.Acts}}},
	}
	r.Fixtures = []domain.Fixture{{ID: "f1", Load: "l1", At: geom.Pt(1, 2.2)}, {ID: "f2", Load: "l1", At: geom.Pt(3, 2.7)}, {ID: "f3", Load: "l2", At: geom.Pt(1, 4)}, {ID: "f4", Load: "l2", At: geom.Pt(3, 5.8)}}
	scope.Plans = []domain.Plan{{ID: "s1", Walls: []domain.Wall{{ID: "south", Seq: 1, A: geom.Pt(0, 0), B: geom.Pt(4, 0), Kind: domain.FullWall,
		Openings: []domain.Opening{{ID: "win", Seq: 1, Kind: domain.Window, At: 0.5, Width: 3, Sill: 0.9, Head: 2.7, Glass: 0.68}}}}}}
	return scope
}

func dayApp(t *testing.T, scope *domain.Scope) *webtest.App {
	t.Helper()
	return webtest.Open(t, func(a *webtest.App, r chi.Router) {
		judge := func(p *domain.Project, r *domain.Resolved) []rule.Finding { return validate.Room(p, r, a.Time) }
		Screen{Store: a.Store, Log: a.Log, Now: a.Now, Judge: judge}.Routes(r)
	}, scope)
}

var tags = regexp.MustCompile(`<[^>]*>`)

// told gives a section's words without markup.
func wordsOf(t *testing.T, news overlayNews, section string) string {
	return strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(allOf(t, news, section), " "))), " ")
}

// 90.1 section 3.2: the primary zone is as deep as the head is high, 2.7 m, half of
// that to either side, so here the room's width of 4 m; the secondary one as deep
// again. Luminaires of 1.2 by 0.3 m by hand: f2 straddles the line, f4 lies outside.
func TestOverlayDay_zones(t *testing.T) {
	a := dayApp(t, dayScope())
	news := askOverlay(a, "show=daylight&view=zones&room=r1")
	cells, lines, list := allOf(t, news, "svg:overlay-cells"), allOf(t, news, "svg:overlay-lines"), wordsOf(t, news, "html:overlay-list")
	assert.Contains(t, cells, `class="o-area o-primary" fill="url(#hatch-primary-plan)"`)
	assert.Contains(t, cells, `o-secondary`)
	assert.NotContains(t, cells, `o-toplit`)
	assert.Contains(t, lines, ">Primary<")
	assert.Equal(t, 2, strings.Count(lines, ">10.8 m2<"))
	assert.Equal(t, 4, strings.Count(lines, `class="o-lamp"`))
	assert.Equal(t, 2, strings.Count(lines, `<circle class="o-lamp-in"`), "f1 and f3 lie within")
	assert.Equal(t, 1, strings.Count(lines, `<path class="o-lamp-in"`), "f2 straddles")

	assert.Contains(t, list, "Zones as ASHRAE 90.1, 2013 to 2022 draws them. The project names no energy code with such rules")
	assert.Contains(t, list, "Primary zone 10.8 m2 2 luminaires counted, 80 W: L1")
	assert.Contains(t, list, "Secondary zone 10.8 m2 1 luminaire counted, 30 W: L2")
	assert.Contains(t, list, "Toplit zone none")
	assert.Contains(t, list, `differs L2 Inner row 1 luminaire in the secondary zone, 1 in none; the load's window zone says "window row" Set window zone of L2 to "second row"`)
	assert.NotContains(t, list, "differs L1")
	assert.NotContains(t, list, "Cut by")
	legend := wordsOf(t, news, "html:overlay-legend")
	assert.Contains(t, legend, energycode.Notice)
	assert.Contains(t, legend, "straddles an edge")
	code, _ := daylight.FindZoneCode("ashrae-90.1-2013")
	assert.Contains(t, legend, code.Basis)
}

// What the page prints is what the package gives.
func TestOverlayDay_zonesByTheCodesOthersChoose(t *testing.T) {
	scope := dayScope()
	a := dayApp(t, scope)
	space := daylight.NewSpace(&scope.Project, (&domain.Resolved{Room: &scope.Rooms[0], Design: scope.Rooms[0].Design}).OnPlan(&scope.Plans[0]), daylight.AssumedOf(&scope.Project))
	for _, code := range daylight.ZoneCodes() {
		z, err := code.Rules.Zones(space)
		require.NoError(t, err)
		list := wordsOf(t, askOverlay(a, "show=daylight&view=zones&room=r1&code="+code.ID), "html:overlay-list")
		assert.Contains(t, list, "Zones as "+code.Name+" draws them")
		assert.Contains(t, list, "Primary zone "+units.Area(z.Primary.Area, units.SI))
		if code.Rules.Secondary == 0 {
			assert.Contains(t, list, "Secondary zone these rules draw none")
			assert.Contains(t, list, `differs L2`, "its luminaires hang in no zone")
			assert.Contains(t, list, `Set window zone of L2 to "none"`)
		}
	}
	w := a.Get(here + "/overlay?show=daylight&view=zones&code=nobody")
	assert.Equal(t, http.StatusUnprocessableEntity, w.Code)
	assert.Contains(t, w.Body.String(), "no zone rules")
	assert.Equal(t, http.StatusUnprocessableEntity, a.Get(here+"/overlay?show=daylight&view=moon").Code)
}

func TestOverlayDay_zonesByTheProjectsCode(t *testing.T) {
	scope := dayScope()
	scope.Project.CodePack = domain.CodePack(energycode.Packs()[0].ID)
	a := dayApp(t, scope)
	news := askOverlay(a, "show=daylight&room=r1&code=los-angeles")
	code, known := daylight.FindZoneCode(energycode.Packs()[0].ZoneRules)
	require.True(t, known)
	assert.Contains(t, wordsOf(t, news, "html:overlay-list"), "Zones as "+code.Name+" draws them. The rules of the project's energy code.", "whatever was chosen before")
	assert.NotContains(t, a.Get(here).Body.String(), `id="zone-code"`)
	assert.Contains(t, dayApp(t, dayScope()).Get(here).Body.String(), `id="zone-code"`)
}

// 90.1: what stands in the room from 1.524 m up ends the zone (adopted code text).
func TestOverlayDay_saysWhatCutsAZone(t *testing.T) {
	for height, cuts := range map[units.Metres]bool{1.523: false, 1.524: true, 1.53: true} {
		scope := dayScope()
		scope.Plans[0].Walls = append(scope.Plans[0].Walls, domain.Wall{ID: "desks", Seq: 2, A: geom.Pt(0.5, 1.5), B: geom.Pt(3.5, 1.5), Kind: domain.Partition, Height: height})
		news := askOverlay(dayApp(t, scope), "show=daylight&view=zones&room=r1")
		list := allOf(t, news, "html:overlay-list")
		assert.Equal(t, cuts, strings.Contains(list, "Cut by a partition"), "%g m", height)
		assert.Equal(t, cuts, strings.Contains(list, `data-key="wall/desks"`), "the way to it")
		assert.Equal(t, cuts, strings.Contains(list, "Cut short"))
	}
}

// The button is an ordinary edit of the plan, with its way back.
func TestOverlayDay_setsALoadsZone(t *testing.T) {
	a := dayApp(t, dayScope())
	const query = "show=daylight&view=zones&room=r1"
	before := askOverlay(a, query)
	assert.Contains(t, allOf(t, before, "html:overlay-list"), `data-zone="second row" data-room="r1" data-load="l2"`)
	code, body := gesture(a, map[string]any{"do": "load zone", "room": "r1", "load": "l2", "kind": "second row"}, "HX-Request", "true", "X-Have", before.Now, overlayHeader, before.Now+" "+query)
	require.Equal(t, http.StatusOK, code, body)
	assert.Equal(t, domain.ZoneSecondary, roomNow(a, "r1").Design.Load("l2").Zone)
	assert.NotContains(t, wordsOf(t, askOverlay(a, query), "html:overlay-list"), "differs")
	require.Equal(t, http.StatusOK, a.Post(here+"/undo").Code)
	assert.Equal(t, domain.ZoneWindow, roomNow(a, "r1").Design.Load("l2").Zone)

	code, body = gesture(a, map[string]any{"do": "load zone", "room": "r1", "load": "l2", "kind": "attic"})
	assert.Equal(t, http.StatusUnprocessableEntity, code)
	assert.Contains(t, body, "attic")
}

// Sky components by numeric integrals done apart from this program (room 6 by 4 by
// 3 m, constant transmittance 0.68): 4.7554, 1.8896, 0.8768 and 0.4624 % at 2, 3, 4
// and 5 m from the window's wall. Reflected: split flux with C = 39.62 by
// integration, 1.0809 % for C = 39: 1.0950 %.
func TestOverlayDay_factorAtAPoint(t *testing.T) {
	a := dayApp(t, dayScope())
	ask := func(query string) string {
		w := a.Get(here + "/light?" + query)
		require.Equal(t, http.StatusOK, w.Code, w.Body.String())
		return strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(w.Body.String(), " "))), " ")
	}
	for at, want := range map[string][2]string{"2,2": {"4.8 %", "5.9 %"}, "2,3": {"1.9 %", "3 %"}, "2,4": {"0.88 %", "2 %"}, "2,5": {"0.46 %", "1.6 %"}} {
		body := ask("room=r1&at=" + at)
		assert.Contains(t, body, "Straight from the sky "+want[0]+" From what stands outside 0 % Reflected inside, the room's mean 1.1 % Daylight factor "+want[1], at)
		assert.Contains(t, body, "under 10000 lx outdoors")
	}
	assert.Contains(t, ask("room=r1&at=2,4"), "197 lx", "1.9718 % of 10,000 lx")
	assert.Contains(t, ask("at=2,2&have="+url.QueryEscape(askOverlay(a, "show=daylight&view=factor&room=r1").Now)), "5.9 %", "of the state that the page shows")
	assert.Contains(t, ask("at=9,9"), "in no room that is drawn")
	assert.Contains(t, ask("room=r1&at=9,9"), "outside of the room that is shown")
	for _, bad := range []string{"", "at=here", "at=1", "at=NaN,2", "at=1,%2BInf"} {
		assert.Equal(t, http.StatusUnprocessableEntity, a.Get(here+"/light?"+bad).Code, bad)
	}
}

// The figures of the list are those of the package; the average by the formula
// (Tregenza and Sharples 2.12) is 3.8713 % for this room.
func TestOverlayDay_factors(t *testing.T) {
	scope := dayScope()
	a := dayApp(t, scope)
	news := askOverlay(a, "show=daylight&view=factor&room=r1")
	list := wordsOf(t, news, "html:overlay-list")
	assert.Contains(t, list, "Mean by the formula 3.9 %")
	assert.Contains(t, list, "The two means differ the grid takes each point")
	space := daylight.NewSpace(&scope.Project, (&domain.Resolved{Room: &scope.Rooms[0], Design: scope.Rooms[0].Design}).OnPlan(&scope.Plans[0]), daylight.AssumedOf(&scope.Project))
	light, err := daylight.NewLight(space, daylight.InteriorOf(&scope.Project))
	require.NoError(t, err)
	g := light.Grid(0.5)
	s := g.Spread()
	assert.Contains(t, list, "Mean of the work plane "+factorText(s.Mean)+" "+units.Light(units.Lux(100*s.Mean), units.SI)+" under 10000 lx outdoors")
	assert.Contains(t, list, "Least "+factorText(s.Least))
	assert.Contains(t, list, "Uniformity "+units.Trim(s.Uniformity, 2))
	assert.Contains(t, list, units.Share(g.ShareOver(2))+" of the floor at 2 % or more")
	assert.Contains(t, list, "Under L1 Window row "+factorText(light.Under("l1").Mean))
	cells := allOf(t, news, "svg:overlay-cells")
	for _, b := range []string{"some", "day", "much"} {
		assert.Contains(t, cells, "o-area o-"+b)
	}
	assert.NotContains(t, cells, "o-area o-dim", "1.095 % are reflected everywhere")
	assert.Contains(t, allOf(t, news, "svg:overlay-lines"), `class="o-number"`)
	legend := wordsOf(t, news, "html:overlay-legend")
	assert.Contains(t, legend, "reflectance of walls 50 % (common practice, no published source)")
	assert.Contains(t, legend, cautionDaylight.Text)
}

func TestOverlayDay_saysWhatIsDoubtful(t *testing.T) {
	scope := dayScope()
	scope.Plans[0].Walls[0].Openings[0].Sill, scope.Plans[0].Walls[0].Openings[0].Head = 0, 0
	a := dayApp(t, scope)
	assert.Contains(t, wordsOf(t, askOverlay(a, "show=daylight&view=factor&room=r1"), "html:overlay-list"), "less sure Sill and head of windows are assumed")
	assert.Contains(t, wordsOf(t, askOverlay(a, "show=daylight&room=r1"), "html:overlay-list"), "Sill and head of windows are assumed")
}

// One step under, at and over each limit of a band.
func TestBandOf(t *testing.T) {
	for v, want := range map[float64]int{0: 0, 0.999: 0, 1: 1, 1.001: 1, 1.999: 1, 2: 2, 2.001: 2, 4.999: 2, 5: 3, 5.001: 3, 30: 3} {
		assert.Equal(t, want, bandOf(v), "%g %%", v)
	}
}

// An open loop 6 ft from the glass that faces it is placed well; one that looks away,
// or hangs beyond 8 ft, is not (common practice, no published source).
func TestOverlayDay_sensors(t *testing.T) {
	told := func(change func(*domain.Scope)) (list, lines string) {
		scope := dayScope()
		change(scope)
		news := askOverlay(dayApp(t, scope), "show=daylight&view=sensors&room=r1")
		return wordsOf(t, news, "html:overlay-list"), allOf(t, news, "svg:overlay-lines")
	}
	sensor := func(s *domain.Scope) *domain.Device { return &s.Rooms[0].Design.Devices[0] }
	list, lines := told(func(*domain.Scope) {})
	assert.Contains(t, list, "placed well DS-1, open loop, faces 270° on the plan 1 window in sight, 1.83 m away; acts on L1")
	assert.Contains(t, lines, `class="o-look"`)
	assert.Contains(t, lines, `class="o-facing"`)
	assert.Contains(t, lines, `o-mark o-seen`)
	list, _ = told(func(s *domain.Scope) {
		d := &s.Rooms[0].Design
		d.Loads = append(d.Loads, domain.Load{ID: "l10", Seq: 10, Tag: "L10", Name: "Far row", Kind: domain.Lighting})
		d.Links = []domain.Link{{ID: "k10", Device: "ds", Load: "l10", Do: domain.Action{Verb: domain.Acts}}, {ID: "k2", Device: "ds", Load: "l2", Do: domain.Action{Verb: domain.Acts}}}
	})
	assert.Contains(t, list, "acts on L2, L10")
	list, lines = told(func(s *domain.Scope) { sensor(s).At.Y = 4 })
	assert.Contains(t, list, "DS-1: too far from the glass 4 m, at most 2.44 m")
	assert.Contains(t, lines, `o-mark o-unseen`)
	list, _ = told(func(s *domain.Scope) { sensor(s).Turn = 90 })
	assert.Contains(t, list, "DS-1: faces away from the glass 180°, at most 45°")
	list, _ = told(func(s *domain.Scope) { sensor(s).At = nil })
	assert.Contains(t, list, "DS-1 is not on the plan and left out")
	list, _ = told(func(s *domain.Scope) { s.Plans = nil })
	assert.Contains(t, list, "an open loop must see a window")
	list, _ = told(func(s *domain.Scope) { s.Rooms[0].Design.Devices = nil; s.Rooms[0].Design.Links = nil })
	assert.Equal(t, "Room 101 Room The room has no daylight sensor. Select another room, or Whole storey.", list)
}

// A closed loop whose type states no view is drawn with the one that the rule judges it
// by, 60 degrees as a limit. From a ceiling at 3 m it sees tan 30 (3 - 0.85) = 1.2413 m
// of the work plane around it, and the window's sill of 0.9 m up to
// tan 30 (3 - 0.9) = 1.2124 m away, level.
func TestOverlayDay_closedLoop(t *testing.T) {
	for y, inView := range map[float64]bool{1.21: true, 1.22: false, 4: false} {
		scope := dayScope()
		dev := &scope.Rooms[0].Design.Devices[0]
		dev.Loop, dev.Turn, dev.At.Y = domain.ClosedLoop, 0, y
		for i := range scope.Project.Book {
			if scope.Project.Book[i].ID == dev.Type {
				scope.Project.Book[i].Angle = 0
			}
		}
		news := askOverlay(dayApp(t, scope), "show=daylight&view=sensors&room=r1")
		lines, list := allOf(t, news, "svg:overlay-lines"), wordsOf(t, news, "html:overlay-list")
		circle := regexp.MustCompile(`class="o-reach"[^>]* r="([^"]*)"`).FindStringSubmatch(lines)
		require.NotNil(t, circle, "%g m", y)
		radius, err := strconv.ParseFloat(circle[1], 64)
		require.NoError(t, err)
		assert.InDelta(t, 1.2413, radius, 0.01)
		assert.Equal(t, !inView, strings.Contains(lines, `class="o-look o-away"`), "%g m", y)
		assert.Equal(t, inView, strings.Contains(list, "DS-1: glass in view"), "%g m: as the rule has it", y)
		assert.Equal(t, inView, strings.Contains(list, "1 window in its view of 60\u00b0"), "%g m", y)
		assert.Equal(t, !inView, strings.Contains(list, "no glass in its view of 60\u00b0, the nearest"), "%g m", y)
	}
}

// A room among others has the figures that it has alone, which are those of paper at the
// limit's step; a room too large for that says how coarse its grid is.
func TestOverlayDay_figuresAreTheSameAmongOthers(t *testing.T) {
	scope := dayHall()
	scope.Rooms[0].Outline = geom.Rectangle(0, 0, 12, 9)
	a := dayApp(t, scope)
	space := daylight.NewSpace(&scope.Project, (&domain.Resolved{Room: &scope.Rooms[0], Design: scope.Rooms[0].Design}).OnPlan(&scope.Plans[0]), daylight.AssumedOf(&scope.Project))
	light, err := daylight.NewLight(space, daylight.InteriorOf(&scope.Project))
	require.NoError(t, err)
	g := light.Grid(scope.Project.Limits.Value(domain.DaylightGrid))
	share := units.Share(g.ShareOver(2)) + " of the floor at 2 % or more"
	alone, among := wordsOf(t, askOverlay(a, "show=daylight&view=factor&room=r1"), "html:overlay-list"), wordsOf(t, askOverlay(a, "show=daylight&view=factor"), "html:overlay-list")
	assert.Contains(t, alone, "Mean of the work plane "+factorText(g.Spread().Mean))
	assert.Contains(t, alone, share)
	assert.Contains(t, among, "mean "+factorText(g.Spread().Mean)+", "+share)
	assert.NotContains(t, alone+among, "coarse")

	d := &dayDrawing{project: &scope.Project}
	for step, says := range map[float64]string{0.49: "", 0.5: "", 0.51: ", on a coarse grid of 0.51 m"} {
		assert.Equal(t, says, d.coarse(&daylight.Grid{Step: step}), "%g m", step)
	}
}

// The open office of 14 windows in 366 m2 with partitions stays on the limit's step.
func TestDayRoom_step(t *testing.T) {
	p := &domain.Project{Limits: domain.GenericLimits()}
	room := func(width, depth float64, windows int) *dayRoom {
		return &dayRoom{space: &daylight.Space{Outline: geom.Rectangle(0, 0, width, depth), Windows: make([]daylight.Window, windows), Obstructions: make([]daylight.Obstruction, 3)}}
	}
	assert.Equal(t, 0.5, room(24.4, 15, 14).step(p))
	assert.InDelta(t, 2, room(200, 100, 20).step(p), 1e-9, "20,000 m2, 20 windows, 4 looks each: 400,000 at a step of 2 m")
}

func TestOverlayDay_saysWhyThereIsNothing(t *testing.T) {
	for want, change := range map[string]func(*domain.Scope){
		"The room has no sound outline":                     func(s *domain.Scope) { s.Rooms[0].Outline = geom.Polygon{} },
		"The plan shows no walls around this room":          func(s *domain.Scope) { s.Plans = nil },
		"though the room states that it has windows":        func(s *domain.Scope) { s.Plans[0].Walls[0].Openings[0].Indoors = true },
		"and no rooflight is over it: no daylight comes in": func(s *domain.Scope) { s.Plans[0].Walls[0].Openings = nil; s.Rooms[0].Windows = false },
	} {
		scope := dayScope()
		change(scope)
		a := dayApp(t, scope)
		for _, view := range []string{"zones", "factor"} {
			news := askOverlay(a, "show=daylight&room=r1&view="+view)
			assert.Contains(t, wordsOf(t, news, "html:overlay-list"), want, view)
			assert.Contains(t, wordsOf(t, askOverlay(a, "show=daylight&view="+view), "html:overlay-list"), "No room of this storey", view)
		}
	}
	scope := dayScope()
	scope.Rooms[0].Ceiling = 0.8
	a := dayApp(t, scope)
	assert.Contains(t, wordsOf(t, askOverlay(a, "show=daylight&room=r1&view=factor"), "html:overlay-list"), "state the ceiling's height")
}

func TestOverlayDay_wholeStorey(t *testing.T) {
	a := dayApp(t, dayScope())
	list := wordsOf(t, askOverlay(a, "show=daylight&view=zones"), "html:overlay-list")
	assert.Contains(t, list, "load differs")
	assert.Contains(t, list, "primary 10.8 m2 with 80 W, secondary 10.8 m2 with 30 W")
	assert.Contains(t, wordsOf(t, askOverlay(a, "show=daylight&view=factor"), "html:overlay-list"), "of the floor at 2 % or more")
	assert.Contains(t, wordsOf(t, askOverlay(a, "show=daylight&view=sensors"), "html:overlay-list"), "placed well")
}

// An answer to an edit brings what is new of the overlay, and what it leaves as it is
// does not come again: cells do not where a luminaire moves.
func TestOverlayDay_comesWithTheAnswer(t *testing.T) {
	for _, c := range []struct {
		query, thing string
		by           []float64
		fresh, kept  string
	}{
		{"show=daylight&view=zones&room=r1", "fixture/r1/f3", []float64{0, -3}, "svg:overlay-lines", "svg:overlay-cells"},
		{"show=daylight&view=factor&room=r1", "fixture/r1/f3", []float64{0, -3}, "html:overlay-list", "svg:overlay-cells"},
		{"show=daylight&view=factor&room=r1", "opening/south/win", []float64{-0.3, 0}, "svg:overlay-cells", "html:overlay-legend"},
		{"show=daylight&view=zones", "opening/south/win", []float64{-0.3, 0}, "svg:overlay-lines", "html:overlay-legend"},
		{"show=daylight&view=sensors&room=r1", "device/r1/ds", []float64{0, 2}, "svg:overlay-lines", "svg:overlay-cells"},
	} {
		a := dayApp(t, dayScope())
		before := askOverlay(a, c.query)
		code, body := gesture(a, map[string]any{"do": "move", "things": []string{c.thing}, "by": c.by}, "HX-Request", "true", "X-Have", before.Now, overlayHeader, before.Now+" "+c.query)
		require.Equal(t, http.StatusOK, code, body)
		told := newsOf(t, body).Overlay
		require.NotNil(t, told)
		assert.Contains(t, told.Sections, c.fresh, c.query)
		assert.NotContains(t, told.Sections, c.kept, c.query)
	}
}

// What is kept of an earlier state gives what is made anew.
func TestDayOf_keepsOnlyWhatHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scope := dayScope()
		p, room := &scope.Project, (&domain.Resolved{Room: &scope.Rooms[0], Design: scope.Rooms[0].Design})
		d := func(r *domain.Resolved, before models) (*models, *dayDrawing) {
			now := &models{day: dayOf(p, r, before.day)}
			return now, &dayDrawing{p, r, now.day, look{show: ofDaylight, aspect: ofFactor}}
		}
		first, drawing := d(room.OnPlan(&scope.Plans[0]), models{})
		drawing.grid(first, models{})
		switch rapid.SampledFrom([]string{"nothing", "luminaire", "window", "partition", "limit"}).Draw(t, "change") {
		case "luminaire":
			scope.Rooms[0].Fixtures[0].At.X += 0.5
		case "window":
			scope.Plans[0].Walls[0].Openings[0].At -= 0.2
		case "partition":
			scope.Plans[0].Walls = append(scope.Plans[0].Walls, domain.Wall{ID: "w", A: geom.Pt(1, 3), B: geom.Pt(3, 3), Kind: domain.Partition, Height: 1.6})
		case "limit":
			p.Limits.Own(domain.ReflectanceWalls).Value = 30
		}
		after := (&domain.Resolved{Room: &scope.Rooms[0], Design: scope.Rooms[0].Design}).OnPlan(&scope.Plans[0])
		again, drawing := d(after, *first)
		fresh, anew := d(after, models{})
		assert.Equal(t, anew.grid(fresh, models{}), drawing.grid(again, *first))
		assert.Equal(t, anew.light.Under("l1"), drawing.light.Under("l1"))
	})
}

// Whatever an address says, a choice is refused or is one that is known.
func FuzzReadOverlay(f *testing.F) {
	for _, query := range []string{"", "show=margin", "show=sight&motion=small&room=r1", "show=daylight&view=factor", "show=daylight&view=zones&code=iecc-2018", "show=daylight&view=x", "%zz"} {
		f.Add(query)
	}
	f.Fuzz(func(t *testing.T, query string) {
		o, err := readOverlay(query)
		if err != nil {
			return
		}
		require.Contains(t, []showing{ofMargin, ofSight, ofDaylight}, o.show)
		require.Equal(t, o.show == ofDaylight, o.aspect != "")
		require.Equal(t, o.room == "", o.whole)
		if o.code != "" {
			_, known := daylight.FindZoneCode(o.code)
			require.True(t, known)
		}
	})
}
