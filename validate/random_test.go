package validate_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// pickID draws the ID of one of n things, or of one that is not there, or none.
func pickID(t *rapid.T, prefix string, n int) domain.ID {
	switch k := rapid.IntRange(-1, n).Draw(t, prefix); k {
	case -1:
		return ""
	default:
		return domain.ID(fmt.Sprint(prefix, k)) // the nth is gone
	}
}

// wild draws a room as no designer would leave it: anything may point at
// anything, or at what is gone.
func wild(t *rapid.T) *domaintest.Builder {
	b := domaintest.Room()
	loads, devices, scenes := rapid.IntRange(0, 4).Draw(t, "loads"), rapid.IntRange(0, 7).Draw(t, "devices"), rapid.IntRange(0, 3).Draw(t, "scenes")
	number := rapid.IntRange(0, 3)
	level := rapid.SampledFrom([]units.Level{0, 5, 50, 100})
	return b.Spoil(func(d *domain.Design) {
		for i := range loads {
			d.Loads = append(d.Loads, domain.Load{ID: domain.ID(fmt.Sprint("l", i)), Seq: i, Tag: rapid.SampledFrom([]string{"L1", "l1", "L2", "", "ST-1"}).Draw(t, "tag"),
				Kind:      rapid.SampledFrom([]domain.LoadKind{domain.Lighting, domain.Lighting, domain.Receptacle}).Draw(t, "kind"),
				Luminaire: rapid.SampledFrom([]domain.ID{"", "a", "b", "c", "s", "gone"}).Draw(t, "luminaire"), Count: 20 * number.Draw(t, "count"),
				Volts: rapid.SampledFrom([]units.Volts{0, 120, 347}).Draw(t, "volts"), Rating: 20, Dimming: rapid.SampledFrom(append(equipment.Dimmings(), "")).Draw(t, "dimming"),
				Egress: rapid.Bool().Draw(t, "egress"), Zone: rapid.SampledFrom([]domain.WindowZone{domain.ZoneNone, domain.ZoneWindow, domain.ZoneRoof}).Draw(t, "zone"),
				Controller: pickID(t, "d", devices), Output: number.Draw(t, "output")})
		}
		types := []string{"gone"}
		for _, typ := range b.P.Book {
			types = append(types, typ.ID)
		}
		for i := range devices {
			dev := domain.Device{ID: domain.ID(fmt.Sprint("d", i)), Seq: i, Tag: rapid.SampledFrom([]string{"ST-1", "PS-1", ""}).Draw(t, "tag"), Type: rapid.SampledFrom(types).Draw(t, "type"),
				Presence: rapid.SampledFrom([]domain.PresenceKind{"", domain.Occupancy, domain.Vacancy}).Draw(t, "presence"),
				Sending:  rapid.SampledFrom([]domain.Sending{"", domain.ToRoom, domain.ToGroup, domain.ToLoads}).Draw(t, "sending"),
				Parent:   pickID(t, "d", devices), FedBy: pickID(t, "d", devices), Fitted: rapid.SampledFrom([]string{"", "2016-03-01", "2021-06-01", "soon"}).Draw(t, "fitted")}
			if id := pickID(t, "d", devices); id != "" {
				dev.Hears = []domain.ID{id}
			}
			d.Devices = append(d.Devices, dev)
		}
		for i := range scenes {
			sc := domain.Scene{ID: domain.ID(fmt.Sprint("s", i)), Seq: i, Number: 1 + number.Draw(t, "number"), Name: "Scene"}
			for l := range loads + 1 {
				if rapid.Bool().Draw(t, "has") {
					sc.Levels = append(sc.Levels, domain.SceneLevel{ID: domain.ID(fmt.Sprint("l", l)), Leave: rapid.Bool().Draw(t, "leave"), Level: level.Draw(t, "level")})
				}
			}
			d.Scenes = append(d.Scenes, sc)
		}
		verbs := []domain.Verb{domain.ToLevel, domain.ToScene, domain.Toggle, domain.Raise, domain.Lower, domain.LastLevel, domain.Acts, domain.Nothing}
		seen := map[domain.ID]bool{}
		for range rapid.IntRange(0, 12).Draw(t, "links") {
			k := domain.Link{Device: pickID(t, "d", devices), Button: number.Draw(t, "button"), On: rapid.SampledFrom([]domain.Gesture{"", domain.Press, domain.Hold}).Draw(t, "on"), Load: pickID(t, "l", loads),
				Do: domain.Action{Verb: rapid.SampledFrom(verbs).Draw(t, "verb")}}
			switch k.Do.Verb {
			case domain.ToLevel:
				k.Do.Level = level.Draw(t, "level")
			case domain.ToScene:
				k.Do.Scene = number.Draw(t, "scene")
			}
			if k.Button == 0 {
				k.On = ""
			}
			k.ID = domain.LinkID(k.Device, k.Button, k.On, k.Load)
			if !seen[k.ID] {
				seen[k.ID], d.Links = true, append(d.Links, k)
			}
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "intents") {
			in := domain.NewIntent(domain.ID(fmt.Sprint("i", i)), rapid.SampledFrom(domain.IntentKinds()).Draw(t, "intent"))
			in.Seq, in.Scene, in.Level, in.Lowest = i, number.Draw(t, "scene"), level.Draw(t, "level"), level.Draw(t, "lowest")
			in.Delay, in.Override = units.Seconds(600*number.Draw(t, "delay")), units.Seconds(3600*number.Draw(t, "override"))
			in.Enters, in.MayOff, in.Device = rapid.Bool().Draw(t, "enters"), rapid.Bool().Draw(t, "may off"), pickID(t, "d", devices)
			if id := pickID(t, "l", loads); id != "" {
				in.Loads = []domain.ID{id}
			}
			d.Intents = append(d.Intents, in)
		}
	})
}

// drawnAnyhow puts a room and what it holds on a plan, as a slip of the hand
// would: outlines that cross themselves or are none, places far outside.
func drawnAnyhow(t *rapid.T, b *domaintest.Builder) *domaintest.Builder {
	axis := rapid.OneOf(rapid.SampledFrom([]float64{0, 0, 1, 5, 8, 1e7}), rapid.Float64Range(-10, 10))
	point := func() geom.Point { return geom.Pt(axis.Draw(t, "x"), axis.Draw(t, "y")) }
	for range rapid.IntRange(0, 6).Draw(t, "corners") {
		b.R.Outline.Outer = append(b.R.Outline.Outer, point())
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "fixtures") {
		b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i)), Load: pickID(t, "l", 3), At: point()})
	}
	if rapid.Bool().Draw(t, "seat") {
		b.R.Sitting = []domain.Seat{{ID: "a", At: point()}}
	}
	return b.Spoil(func(d *domain.Design) {
		for i := range d.Devices {
			if rapid.Bool().Draw(t, "placed") {
				at := point()
				d.Devices[i].At = &at
			}
		}
	})
}

// Whatever a room holds, rules neither fall over nor contradict themselves: keys
// tell findings apart, and each fix is accepted and silences its finding.
func TestRoom_anyRoomIsJudgedAndMended(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := drawnAnyhow(rt, wild(rt))
		found := room(b)
		keys := map[string]bool{}
		for _, f := range found {
			name := f.Rule + " " + f.Key
			require.False(rt, keys[name], "%s twice", name)
			keys[name] = true
			require.NotEmpty(rt, f.Message)
			require.NotContains(rt, f.Message, "%!", name)
			require.NotEmpty(rt, f.Subjects, name)
			require.False(rt, f.Numbers && f.Margin >= 0, "%s: %s", name, f.Message)
			require.False(rt, strings.Contains(f.Message, "NaN") || strings.Contains(f.Message, "Inf"), f.Message)
			if f.Fix != nil {
				mend(rt, b, f)
			}
		}
	})
}

func mend(rt *rapid.T, b *domaintest.Builder, f rule.Finding) {
	after := &domaintest.Builder{P: b.P, R: &domain.Resolved{Room: b.R.Room.Clone(), Design: b.R.Design.Clone()}}
	defer func() {
		if r := recover(); r != nil {
			rt.Fatalf("%s %s, fix %q: %v", f.Rule, f.Key, f.Fix.Title, r)
		}
	}()
	after.Do(f.Fix.Edits...)
	require.Nil(rt, validate.FindFinding(room(after), f.Rule, f.Key), "%s %s: %q leaves %q", f.Rule, f.Key, f.Fix.Title, f.Message)
}
