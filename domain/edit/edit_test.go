package edit_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

func asJSON(t require.TestingT, v any) string {
	b, err := json.Marshal(v)
	require.NoError(t, err)
	return string(b)
}

// apply carries out one edit as the store does, and gives what was said.
func apply(p *domain.Project, r *domain.Resolved, e edit.Edit) (string, error) {
	said, err := edit.All(edit.OfRoom(p, r), []edit.Edit{e})
	if err == nil {
		err = r.Settle()
	}
	return said, err
}

func copied(r *domain.Resolved) *domain.Resolved {
	out := *r
	out.Room, out.Design = r.Room.Clone(), r.Design.Clone()
	return &out
}

// drawEdit draws any edit, sound or not, on a room with the classroom's IDs.
func drawEdit(t *rapid.T, n int) edit.Edit {
	pick := func(of ...string) string { return rapid.SampledFrom(of).Draw(t, "pick") }
	load := func() domain.ID { return domain.ID(pick("l1", "l2", "l3", "r1", "nope")) }
	device := func() domain.ID { return domain.ID(pick("lc", "rc", "st", "ps", "ds", "gw", "nope")) }
	fresh := domain.ID(fmt.Sprintf("new%d", n))
	switch rapid.IntRange(0, 15).Draw(t, "edit") {
	case 0:
		return edit.AddLoad{ID: fresh, Kind: domain.LoadKind(pick("lighting", "receptacle"))}
	case 1:
		add := edit.AddDevice{ID: fresh, Type: pick("lc-2", "st-2-battery", "ps-ceiling", "ps-wired", "cn-2", "no-such")}
		if rapid.Bool().Draw(t, "placed") {
			add.At = new(geom.Pt(1, 2))
		}
		return add
	case 2:
		return edit.AddScene{ID: fresh, Name: pick("", "Movie")}
	case 3:
		return edit.AddIntent{ID: fresh, Kind: domain.IntentKind(pick("presence", "manual", "av", "schedule", "mode", "emergency", "network-loss", "nothing"))}
	case 4:
		return edit.Remove{Part: pick("loads", "devices", "scenes", "intents", "scenarios"), ID: domain.ID(pick("l1", "r1", "lc", "st", "s1", "i2", "i3", "new1", "new2"))}
	case 5:
		return edit.Duplicate{Part: pick("loads", "devices", "scenes", "intents"), ID: domain.ID(pick("l1", "ps", "st", "s2", "i3")), New: fresh}
	case 6:
		return edit.SetField{Path: "loads/" + string(load()) + "/" + pick("tag", "count", "watts", "luminaire", "controller", "egress", "circuit", "zone"), Text: pick("", "7", "A", "C", "LC-1", "yes", "window row", "30 W")}
	case 7:
		return edit.SetField{Path: "devices/" + string(device()) + "/" + pick("tag", "type", "delay_s", "presence", "parent", "hears", "fitted", "place"), Text: pick("", "X-9", "Gateway", "15 min", "occupancy", "LC-1", "2026-02-03")}
	case 8:
		return edit.SetField{Path: "links/" + string(domain.LinkID("st", rapid.IntRange(1, 5).Draw(t, "button"), domain.Press, load())), Text: pick("", "SC1", "SC9", "TGL", "40", "ACT", "-")}
	case 9:
		return edit.SetField{Path: "scenes/" + pick("s1", "s2") + "/" + pick("number", "name", "levels/l1", "levels/l3"), Text: pick("", "5", "off", "80 in 3 s", "leave")}
	case 10:
		return edit.SetField{Path: "intents/" + pick("i1", "i2", "i3", "i4", "i5") + "/" + pick("delay_s", "loads", "level", "hold_s", "restore", "modes", "from", "unless", "partition"), Text: pick("", "10 min", "L1, L2", "60", "off", "full", "after hours, cleaning", "sunset", "yes", "open")}
	case 11:
		return edit.AddScenario{Scenario: domain.Scenario{ID: fresh, Name: pick("", "Evening")}}
	case 12:
		return edit.AddStep{Scenario: domain.ID(pick("new1", "new2", "nope")), Step: domain.ScenarioStep{ID: fresh, Happen: domain.Happening(pick("press", "expect")), Device: device(), Load: load()}}
	case 13:
		return edit.SetField{Path: "scenarios/" + pick("new1", "new2") + "/" + pick("name", "day", "start", "steps/new2/level", "steps/new3/happen", "steps/new3/device"), Text: pick("", "Mon", "2026-06-21", "09:00", "40", "occupied", "PS-1")}
	case 14:
		in := domain.NewIntent(fresh, domain.IntentKind(pick("av", "contact", "mode", "nothing")))
		in.Loads, in.Device = []domain.ID{load()}, device()
		return edit.StartIntents{Intents: []domain.Intent{in, domain.NewIntent(fresh+"b", domain.OnPowerBack)}}
	}
	return edit.SetField{Path: "facts/" + pick("number", "name", "use", "area_m2", "windows", "seats"), Text: pick("", "Lab 5", "classroom", "900 ft2", "no", "30", "<b>=1+1")}
}

// Whatever an edit does, the difference it leaves leads back to the same bytes,
// and a refused edit says why.
func TestEveryEditHasAnExactInverse(t *testing.T) { checkInverses(t, 12, drawEdit) }

// checkInverses carries drawn edits out on a classroom and takes each back.
func checkInverses(t *testing.T, most int, draw func(*rapid.T, int) edit.Edit) {
	rapid.Check(t, func(t *rapid.T) {
		b := domaintest.Classroom()
		for n := range rapid.IntRange(1, most).Draw(t, "edits") {
			e := draw(t, n)
			before, work := copied(b.R), copied(b.R)
			said, err := apply(b.P, work, e)
			require.Equal(t, asJSON(t, before.Room), asJSON(t, b.R.Room), "an edit changed what it was only to read")
			if err != nil {
				require.NotEmpty(t, err.Error())
				continue
			}
			require.NotEmpty(t, said)
			changes, err := delta.Diff(before.Room, work.Room)
			require.NoError(t, err)
			back := work.Room.Clone()
			require.NoError(t, delta.Apply(back, changes.Inverse()))
			delta.Sort(back)
			require.Equal(t, asJSON(t, before.Room), asJSON(t, back))
			b.R = work
		}
	})
}

// A room that follows a typical keeps exactly the exceptions that its edits made.
func TestEditsOfAFollowerBecomeExceptions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := domaintest.Classroom()
		typical := &domain.Typical{ID: "t1", Name: "CR-1", Design: b.R.Design.Clone()}
		room := &domain.Room{ID: "r9", Number: "214", StoreyID: "s1", TypicalID: "t1"}
		r, err := domain.Resolve(room, typical)
		require.NoError(t, err)
		for n := range rapid.IntRange(1, 8).Draw(t, "edits") {
			work := copied(r)
			if _, err := apply(b.P, work, drawEdit(t, n)); err == nil {
				r = work
			}
		}
		again, err := domain.Resolve(r.Room, typical)
		require.NoError(t, err)
		require.Empty(t, again.Orphans)
		delta.Sort(&again.Design)
		require.Equal(t, asJSON(t, r.Design), asJSON(t, again.Design))
		if len(r.Room.Exceptions) > 0 {
			_, err = apply(b.P, r, edit.GiveBack{})
			require.NoError(t, err)
			require.Equal(t, asJSON(t, typical.Design), asJSON(t, r.Design))
		}
	})
}

func TestSetField_refusesWithAPathAndASentence(t *testing.T) {
	for path, text := range map[string]string{
		"facts/area_m2":          "plenty",
		"facts/seats":            "2.5",
		"facts/use":              "disco",
		"loads/l1/count":         "-3",
		"loads/gone/count":       "3",
		"loads/l1/nothing":       "3",
		"devices/ps/delay_s":     "soon",
		"devices/st/buttons/9":   "Up",
		"devices/st/buttons/0x1": "Up",
		"links/st.1.press:gone":  "100",
		"links/ps:l1":            "100",
		"links/st.1.press:l1":    "ACT",
		"links/st.1.press:l2":    "SC7",
		"links/nonsense":         "100",
		"scenes/s1/levels/l1":    "101",
		"scenes/s1/number":       "2",
		"intents/i2/delay_s":     "x",
		"intents/i2/of_no_such":  "x",
		"facts":                  "x",
		"":                       "x",
		"devices/st/a/b/c/d":     "x",
		"facts/number":           " ",
		"devices/ps/parent":      "GW-9",
		"devices/ps/fitted":      "31.12.2026",
		"loads/l1/tag":           "",
		"facts/name":             string([]byte{0xff, 0xfe}),
		"facts/notes":            "bell\a",
	} {
		b := domaintest.Classroom()
		_, err := apply(b.P, b.R, edit.SetField{Path: path, Text: text})
		var field *edit.FieldError
		require.True(t, errors.As(err, &field), "%s = %q: %v", path, text, err)
		assert.Equal(t, path, field.Path)
		assert.NotEmpty(t, field.Error())
	}
}

func TestSetField_keepsThingsInStep(t *testing.T) {
	b := domaintest.Classroom().Load("l4", "a", 2)
	l := b.R.Design.Load("l4")
	b.Set("loads/l4/luminaire", "C")
	assert.Equal(t, "digital", string(l.Dimming), "a luminaire brings its dimming method")
	b.Set("loads/l4/controller", "LC-1")
	assert.Equal(t, 4, b.R.Design.Load("l4").Output, "a controller brings its first free output")
	b.Set("scenes/s2/number", "7")
	assert.Equal(t, "SC7", b.R.Design.Link(domain.Input{Device: "st", Button: 2, On: domain.Press}, "l1").Do.String(), "buttons follow a scene's number")
	b.Set("devices/ps/type", "Gateway")
	assert.Empty(t, b.R.Design.Device("ps").Presence, "a gateway has no presence kind")
}

func TestRemoveTakesWhatHangsOnIt(t *testing.T) {
	b := domaintest.Classroom().Do(edit.Remove{Part: "devices", ID: "lc"})
	assert.Empty(t, b.R.Design.Load("l1").Controller)
	assert.Empty(t, b.R.Design.Device("ps").Parent)
	b = domaintest.Classroom().Do(edit.Remove{Part: "loads", ID: "l3"})
	assert.Nil(t, b.R.Design.Scene("s1").LevelOf("l3"))
	assert.Nil(t, b.R.Design.Intent("i3"), "the daylight intent was for this load alone and must not come to mean all")
	for _, l := range b.R.Design.Links {
		assert.NotEqual(t, domain.ID("l3"), l.Load)
	}
}

func TestWaiverNeedsReasonAndName(t *testing.T) {
	b := domaintest.Classroom()
	for _, w := range []domain.Waiver{{Rule: "x", Reason: "why"}, {Rule: "x", Name: "A. Designer"}, {}} {
		_, err := apply(b.P, b.R, edit.Waive{Waiver: w})
		assert.ErrorContains(t, err, "reason and a name")
	}
	_, err := apply(b.P, b.R, edit.Waive{Waiver: domain.Waiver{ID: "w1", Rule: "x", Reason: "why", Name: "A. Designer"}})
	require.NoError(t, err)
	require.Len(t, b.R.Waivers, 1)
	_, err = apply(b.P, b.R, edit.Unwaive{ID: "w1"})
	require.NoError(t, err)
	assert.Empty(t, b.R.Waivers)
}

func TestFollowStandAloneAndCopy(t *testing.T) {
	b := domaintest.Classroom()
	typical := &domain.Typical{ID: "t1", Name: "CR-1", Use: "classroom", Space: "classroom_lecture_training", Design: b.R.Design.Clone()}
	room := domaintest.Room()
	_, err := apply(room.P, room.R, edit.Follow{Typical: typical})
	require.NoError(t, err)
	assert.Equal(t, domain.ID("t1"), room.R.TypicalID)
	assert.True(t, room.R.Room.Design.Empty())
	_, err = apply(room.P, room.R, edit.CopyDesign{From: "101"})
	assert.ErrorContains(t, err, "stand alone first")
	_, err = apply(room.P, room.R, edit.StandAlone{})
	require.NoError(t, err)
	assert.Equal(t, asJSON(t, typical.Design), asJSON(t, room.R.Room.Design))
	assert.Equal(t, typical.Space, room.R.Space, "the kind of space that held stays")
	_, err = apply(room.P, room.R, edit.StandAlone{})
	assert.ErrorContains(t, err, "follows no typical")
}
