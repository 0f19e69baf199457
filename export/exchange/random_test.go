package exchange_test

import (
	"encoding/json"
	"fmt"
	"strings"

	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// anyScope draws a project that is sound but otherwise arbitrary: odd letters,
// odd numbers, empty and full parts, links to nothing, exceptions of each kind.
func anyScope(t *rapid.T) *domain.Scope {
	s := &domain.Scope{Project: *domaintest.Project(rapid.SampledFrom([]units.System{units.US, units.SI}).Draw(t, "units"))}
	p := &s.Project
	p.Name = "N" + line.Draw(t, "name")
	p.Brief = rapid.StringMatching(`[ -~\n\t]{0,40}`).Draw(t, "brief")
	p.Worksheets = []domain.CodeWorksheet{anyWorksheet(t)}
	p.CodePack = rapid.SampledFrom([]domain.CodePack{"", "iecc-2018", "california-2022", "ws"}).Draw(t, "code")
	p.Currency = rapid.StringMatching(`[A-Z]{0,3}`).Draw(t, "currency")
	for i, u := range rapid.SliceOfNDistinct(rapid.SampledFrom(domain.Uses()), 0, 3, func(u domain.UseInfo) domain.Use { return u.Use }).Draw(t, "profiles") {
		p.Profiles = append(p.Profiles, domain.UseProfile{ID: domain.ID(u.Use), Seq: i, Day: rapid.Float64Range(0, 4380).Draw(t, "day"), Night: rapid.Float64Range(0, 4380).Draw(t, "night"), Absence: rapid.Float64Range(0, 1).Draw(t, "absence"), Target: 300, Source: "s" + line.Draw(t, "source")})
	}
	for i, k := range domain.RateKinds()[:rapid.IntRange(0, 3).Draw(t, "rates")] {
		p.Rates = append(p.Rates, domain.Rate{ID: domain.ID(k.ID), Seq: i, Value: rapid.Float64Range(0, 1e9).Draw(t, "rate"), Date: "2026-01-31", Origin: line.Draw(t, "origin")})
	}
	p.Client, p.Hours = line.Draw(t, "client"), line.Draw(t, "hours")
	if rapid.Bool().Draw(t, "bare") {
		p.Book, p.Limits, p.Luminaires = nil, nil, nil
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "typicals") {
		s.Typicals = append(s.Typicals, domain.Typical{ID: domain.ID(fmt.Sprintf("t%d", i)), Seq: rapid.IntRange(0, 3).Draw(t, "seq"), Name: "T" + line.Draw(t, "typical"), Design: anyDesign(t)})
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "rooms") {
		s.Rooms = append(s.Rooms, anyRoom(t, domain.ID(fmt.Sprintf("r%d", 9-i)), s.Typicals))
	}
	if rapid.Bool().Draw(t, "drawn") {
		s.Plans = []domain.Plan{anyPlan(t)}
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "reviews") {
		s.Reviews = append(s.Reviews, domain.Review{ID: domain.ID(fmt.Sprintf("v%d", 9-i)), RoomID: "r9", ItemID: "c1", Name: "A",
			At:      rapid.SampledFrom([]string{"2026-03-31T10:00:00Z", "2026-03-31T10:00:00.5Z", "2026-04-01T09:00:00+02:00"}).Draw(t, "at"),
			Verdict: rapid.SampledFrom([]domain.Verdict{domain.Agree, domain.Object, domain.NotApplicable}).Draw(t, "verdict"), Comment: line.Draw(t, "comment")})
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "signoffs") {
		s.SignOffs = append(s.SignOffs, domain.SignOff{ID: domain.ID(fmt.Sprintf("s%d", 9-i)), RoomID: "r9", Name: "B", Role: line.Draw(t, "role"), At: "2026-05-01T10:00:00Z", Hash: "00ff"})
	}
	return s
}

// line draws one line of text in letters of several scripts, with what must
// not be taken for markup.
var line = rapid.StringOfN(rapid.SampledFrom([]rune("aZ 09&<>\"'\\/=+-@{}[],:é漢Ωß\u2028\u00a0😀")), 0, 12, -1)

// anyWorksheet draws rows of all kinds, sensible or not: what a check reads is not the
// file's business.
func anyWorksheet(t *rapid.T) domain.CodeWorksheet {
	w := domain.CodeWorksheet{ID: "ws", Seq: 1, Title: "W" + line.Draw(t, "worksheet"), Base: rapid.SampledFrom([]domain.CodePack{"", "iecc-2021"}).Draw(t, "base"), Confirmed: line.Draw(t, "confirmed"),
		ZoneRules: rapid.SampledFrom(append(domain.ZoneCodes(), "")).Draw(t, "zone_rules")}
	for range rapid.IntRange(0, 4).Draw(t, "changes") {
		c := domain.CodeChange{Kind: rapid.SampledFrom(domain.CodeRows()).Draw(t, "kind"), Control: rapid.SampledFrom(domain.CodeControls()).Draw(t, "control"),
			Space: rapid.SampledFrom([]string{"*", "corridor", "office_enclosed_le_150ft2"}).Draw(t, "space"), Name: rapid.SampledFrom([]string{"delay", "control_area"}).Draw(t, "name"),
			Sign: rapid.SampledFrom(append(domain.CodeSigns(), "")).Draw(t, "sign"), Value: number(1e7).Draw(t, "value"), Words: line.Draw(t, "words"),
			Duty: rapid.SampledFrom(append(domain.CodeDuties(), "")).Draw(t, "duty"), Share: number(100).Draw(t, "share"), Mark: rapid.SampledFrom(domain.CodeMarks()).Draw(t, "mark"), Source: line.Draw(t, "source")}
		w.Put(c)
	}
	return w
}

func anyRoom(t *rapid.T, id domain.ID, typicals []domain.Typical) domain.Room {
	r := domain.Room{ID: id, StoreyID: "s1", Number: "1" + line.Draw(t, "number"), Name: line.Draw(t, "room"),
		Area: units.SquareMetres(number(100000).Draw(t, "area")), Ceiling: units.Metres(number(100).Draw(t, "ceiling")),
		Windows: rapid.Bool().Draw(t, "windows"), Space: rapid.SampledFrom([]domain.SpaceType{"", "corridor", "office_enclosed_le_150ft2"}).Draw(t, "space"), Seats: rapid.IntRange(0, 100).Draw(t, "seats")}
	if rapid.Bool().Draw(t, "shape") {
		r.Outline.Outer = points(t, 3)
		for range rapid.IntRange(0, 2).Draw(t, "holes") {
			r.Outline.Holes = append(r.Outline.Holes, points(t, 3))
		}
	}
	for i, at := range points(t, 0) {
		r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprintf("f%d", 9-i)), Load: rapid.SampledFrom([]domain.ID{"", "l1"}).Draw(t, "of"), At: at, Turn: rapid.Float64Range(-360, 360).Draw(t, "turn")})
	}
	for i, at := range points(t, 0) {
		r.Sitting = append(r.Sitting, domain.Seat{ID: domain.ID(fmt.Sprintf("p%d", 9-i)), At: at})
	}
	if rapid.Bool().Draw(t, "waived") {
		m := rapid.Float64Range(-1e6, 1e6).Draw(t, "margin")
		r.Waivers = []domain.Waiver{{ID: "w1", Rule: "some-rule", Key: line.Draw(t, "key"), Reason: "because " + line.Draw(t, "reason"), Name: "A", Date: "2026-01-31", Margin: &m}}
	}
	if len(typicals) == 0 || rapid.Bool().Draw(t, "own") {
		r.Design = anyDesign(t)
		return r
	}
	typical := rapid.SampledFrom(typicals).Draw(t, "follows")
	r.TypicalID = typical.ID
	other := anyDesign(t)
	before := typical.Design.Clone()
	delta.Sort(&before)
	delta.Sort(&other)
	changes, err := delta.Diff(&before, &other)
	if err != nil {
		t.Fatal(err)
	}
	r.Exceptions = changes
	if rapid.Bool().Draw(t, "orphan") {
		r.Exceptions = append(r.Exceptions, delta.Change{Path: "devices/gone/place", After: json.RawMessage(`"left"`)})
	}
	return r
}

// point draws a place, as finely as floating point goes and up to the edge.
func point(t *rapid.T) geom.Point {
	at := rapid.OneOf(rapid.Float64Range(-geom.MaxCoordinate, geom.MaxCoordinate), rapid.SampledFrom([]float64{0, -0.00001, 0.00005, 1.5, geom.MaxCoordinate, -geom.MaxCoordinate}))
	return geom.Pt(at.Draw(t, "x"), at.Draw(t, "y"))
}

func points(t *rapid.T, least int) []geom.Point {
	var out []geom.Point
	for range rapid.IntRange(least, least+3).Draw(t, "points") {
		out = append(out, point(t))
	}
	return out
}

func anyPlan(t *rapid.T) domain.Plan {
	p := domain.Plan{ID: "s1", North: rapid.Float64Range(-360, 360).Draw(t, "north")}
	length := rapid.Map(number(100000), func(v float64) units.Metres { return units.Metres(v) })
	height := rapid.Map(number(100), func(v float64) units.Metres { return units.Metres(v) })
	if rapid.Bool().Draw(t, "picture") {
		p.Underlay = &domain.Underlay{Picture: strings.Repeat("f0", 32), At: point(t), Width: length.Draw(t, "width"), Height: length.Draw(t, "height"), Opacity: rapid.Float64Range(0, 1).Draw(t, "opacity")}
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "walls") {
		w := domain.Wall{ID: domain.ID(fmt.Sprintf("w%d", 9-i)), Seq: rapid.IntRange(0, 2).Draw(t, "seq"), A: point(t), B: point(t),
			Kind: rapid.SampledFrom([]domain.WallKind{domain.FullWall, domain.Partition, domain.Boundary}).Draw(t, "kind"), Thickness: height.Draw(t, "thickness"), Material: line.Draw(t, "material")}
		for j := range rapid.IntRange(0, 2).Draw(t, "openings") {
			w.Openings = append(w.Openings, domain.Opening{ID: domain.ID(fmt.Sprintf("o%d", 9-j)), Kind: rapid.SampledFrom([]domain.OpeningKind{domain.Window, domain.Door, domain.Gap}).Draw(t, "opening"),
				At: length.Draw(t, "at"), Width: length.Draw(t, "width"), Sill: height.Draw(t, "sill"), Head: height.Draw(t, "head")})
		}
		p.Walls = append(p.Walls, w)
	}
	return p
}

func number(most float64) *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64Range(0, most), rapid.SampledFrom([]float64{0, 1e-7, 0.1, 1, most}))
}

func anyDesign(t *rapid.T) domain.Design {
	var d domain.Design
	level := rapid.Map(number(100), func(v float64) units.Level { return units.Level(v) })
	some := func(what string) int { return rapid.IntRange(0, 3).Draw(t, what) }
	for i := range some("loads") {
		d.Loads = append(d.Loads, domain.Load{ID: domain.ID(fmt.Sprintf("l%d", i)), Seq: some("seq"), Tag: line.Draw(t, "tag"),
			Kind: rapid.SampledFrom([]domain.LoadKind{domain.Lighting, domain.Receptacle}).Draw(t, "kind"), Luminaire: "nowhere",
			Watts: units.Watts(number(1e6).Draw(t, "watts")), Egress: rapid.Bool().Draw(t, "egress"),
			Dimming: rapid.SampledFrom(equipment.Dimmings()).Draw(t, "dimming")})
	}
	for i := range some("devices") {
		dev := domain.Device{ID: domain.ID(fmt.Sprintf("d%d", i)), Seq: some("seq"), Tag: line.Draw(t, "tag"), Type: "st-4-mains", Hears: []domain.ID{"x", "d0"}}
		if rapid.Bool().Draw(t, "placed") {
			at := point(t)
			dev.At, dev.Turn = &at, rapid.Float64Range(-360, 360).Draw(t, "turn")
		}
		for n := range some("buttons") {
			dev.Buttons = append(dev.Buttons, domain.Button{ID: domain.ID(fmt.Sprint(n + 1)), Label: line.Draw(t, "label")})
		}
		d.Devices = append(d.Devices, dev)
		for n := range some("links") {
			load := domain.ID(fmt.Sprintf("l%d", n))
			d.Links = append(d.Links, domain.Link{ID: domain.LinkID(dev.ID, 1, domain.Press, load), Device: dev.ID, Button: 1, On: domain.Press, Load: load,
				Do: domain.Action{Verb: domain.ToLevel, Level: level.Draw(t, "level"), If: rapid.SampledFrom([]domain.PartitionState{"", domain.PartitionOpen}).Draw(t, "if")}})
		}
	}
	for i := range some("scenes") {
		sc := domain.Scene{ID: domain.ID(fmt.Sprintf("c%d", i)), Seq: some("seq"), Number: i + 1, Name: line.Draw(t, "scene")}
		for n := range some("levels") {
			sc.Levels = append(sc.Levels, domain.SceneLevel{ID: domain.ID(fmt.Sprintf("l%d", 3-n)), Level: level.Draw(t, "level"), Fade: 2, Leave: rapid.Bool().Draw(t, "leave")})
		}
		d.Scenes = append(d.Scenes, sc)
	}
	for i := range some("intents") {
		in := domain.NewIntent(domain.ID(fmt.Sprintf("i%d", i)), rapid.SampledFrom(domain.IntentKinds()).Draw(t, "kind"))
		in.Seq, in.Loads = some("seq"), []domain.ID{"l1"}
		in.Unless, in.Modes, in.From = rapid.Bool().Draw(t, "unless"), rapid.SampledFrom([][]domain.Mode{nil, {domain.AfterHours}, domain.Modes()}).Draw(t, "modes"), rapid.SampledFrom([]string{"", "07:00", "sunset-00:15"}).Draw(t, "from")
		d.Intents = append(d.Intents, in)
	}
	for i := range some("scenarios") {
		sc := domain.Scenario{ID: domain.ID(fmt.Sprintf("n%d", 9-i)), Seq: some("seq"), Name: "a" + line.Draw(t, "story"), Day: rapid.SampledFrom([]string{"", "Tue", "holiday", "2026-06-21"}).Draw(t, "day"),
			Mode: rapid.SampledFrom(domain.Modes()).Draw(t, "mode")}
		for j := range some("steps") {
			sc.Steps = append(sc.Steps, domain.ScenarioStep{ID: domain.ID(fmt.Sprintf("t%d", 9-j)), Seq: some("seq"), At: units.Seconds(number(7*86400).Draw(t, "at")),
				Happen: rapid.SampledFrom(domain.Happenings()).Draw(t, "happening"), Device: "d0", Button: j, Level: level.Draw(t, "level"), Lux: units.Lux(number(200000).Draw(t, "lux"))})
		}
		d.Scenarios = append(d.Scenarios, sc)
	}
	return d
}
