package exchange_test

import (
	"encoding/json"
	"fmt"

	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// anyScope draws a project that is sound but otherwise arbitrary: odd letters,
// odd numbers, empty and full parts, links to nothing, exceptions of each kind.
func anyScope(t *rapid.T) *domain.Scope {
	s := &domain.Scope{Project: *domaintest.Project(rapid.SampledFrom([]units.System{units.US, units.SI}).Draw(t, "units"))}
	p := &s.Project
	p.Name = "N" + line.Draw(t, "name")
	p.Brief = rapid.StringMatching(`[ -~\n\t]{0,40}`).Draw(t, "brief")
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

func anyRoom(t *rapid.T, id domain.ID, typicals []domain.Typical) domain.Room {
	r := domain.Room{ID: id, StoreyID: "s1", Number: "1" + line.Draw(t, "number"), Name: line.Draw(t, "room"),
		Area: units.SquareMetres(number(100000).Draw(t, "area")), Ceiling: units.Metres(number(100).Draw(t, "ceiling")),
		Windows: rapid.Bool().Draw(t, "windows"), Seats: rapid.IntRange(0, 100).Draw(t, "seats")}
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
		for n := range some("buttons") {
			dev.Buttons = append(dev.Buttons, domain.Button{ID: domain.ID(fmt.Sprint(n + 1)), Label: line.Draw(t, "label")})
		}
		d.Devices = append(d.Devices, dev)
		for n := range some("links") {
			load := domain.ID(fmt.Sprintf("l%d", n))
			d.Links = append(d.Links, domain.Link{ID: domain.LinkID(dev.ID, 1, domain.Press, load), Device: dev.ID, Button: 1, On: domain.Press, Load: load,
				Do: domain.Action{Verb: domain.ToLevel, Level: level.Draw(t, "level")}})
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
		d.Intents = append(d.Intents, in)
	}
	return d
}
