package prove_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence"
	. "scopewright/domain/sequence/prove"
	"scopewright/domain/units"
)

// anyRoom draws a small room: two loads, a station, sensors, a contact, AV.
func anyRoom(t *rapid.T) *domaintest.Builder {
	pick := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
	b := domaintest.Room().Load("l1", "a", 4).Load("l2", "s", 4).Device("st", "st-4-mains").Device("cn", "cn-2").Device("av", "av-serial").Intent("hand", domain.ByHand).
		Set("intents/hand/hold_s", pick("hold", "0 s", "30 min"))
	for button := 1; button <= 3; button++ {
		for _, l := range []domain.ID{"l1", "l2"} {
			if cell := pick("cell", "TGL", "100", "0", "LAST", "30", "UP", ""); cell != "" {
				b.Link("st", button, domain.Press, l, cell)
			}
		}
	}
	kind := pick("kind", "occupancy", "vacancy")
	for i := range rapid.IntRange(0, 2).Draw(t, "sensors") {
		id := domain.ID(fmt.Sprintf("p%d", i))
		b.Device(id, "ps-ceiling").Set("devices/"+string(id)+"/presence", kind).Link(id, 0, "", "l1", "ACT")
		if rapid.Bool().Draw(t, "both") {
			b.Link(id, 0, "", "l2", "ACT")
		}
	}
	for n := range rapid.IntRange(0, 3).Draw(t, "intents") {
		in := domain.NewIntent(domain.ID(fmt.Sprintf("i%d", n)), rapid.SampledFrom([]domain.IntentKind{domain.ByPresence, domain.ByContact, domain.ByAV, domain.BySchedule, domain.OnDemandResponse}).Draw(t, "intent"))
		in.Seq, in.Scene, in.Enters, in.Warning = n+2, 0, rapid.Bool().Draw(t, "enters"), 0
		in.Level = units.Level(rapid.SampledFrom([]float64{0, 50, 100}).Draw(t, "level"))
		in.OnAt = pick("on at", "", "07:00")
		if id := pick("load", "", "l1", "l2"); id != "" {
			in.Loads = []domain.ID{domain.ID(id)}
		}
		switch in.Kind {
		case domain.ByContact:
			in.Device, in.Command = "cn", pick("command", "closed", "open")
			in.Do = rapid.SampledFrom([]domain.Response{"", domain.Lock, domain.Release, domain.HoldAutomatic, domain.ToggleLoads}).Draw(t, "do")
		case domain.ByAV:
			in.Device, in.Command = "av", "go"
		}
		b.R.Design.Intents = append(b.R.Design.Intents, in)
	}
	return b
}

// A part of a room does what its loads do in the whole room, whatever happens.
// Warnings are left out: between delay and off, loads of one sensor wait for each other.
func TestParts_doAsTheRoomDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(t)
		whole := sequence.Compile(b.P, &b.R.Design)
		designs, loads, devices := Parts(whole)
		one := whole.NewState()
		parts := make([]*sequence.State, len(designs))
		for i := range designs {
			parts[i] = sequence.Compile(b.P, &designs[i]).NewState()
		}
		at := sequence.Time(0)
		for range rapid.IntRange(1, 25).Draw(t, "events") {
			at += sequence.Time(rapid.SampledFrom([]int{0, 1000, 600_000, 1_800_000, 30_000_000}).Draw(t, "gap"))
			e := anyEvent(t, &b.R.Design)
			e.At = at
			one.Do(e)
			for i := range parts {
				local := e
				if e.Device >= 0 {
					if local.Device = slices.Index(devices[i], e.Device); local.Device < 0 {
						parts[i].AdvanceTo(at - 1)
						continue
					}
				}
				parts[i].Do(local)
			}
			for i := range parts {
				for k, l := range loads[i] {
					if got, want := parts[i].Output(k, at), one.Output(l, at); got != want && parts[i].Now() == one.Now() {
						t.Fatalf("%s is at %g %% in its part and at %g %% in the room", b.R.Design.Loads[l].Tag, got, want)
					}
				}
			}
		}
	})
}

func anyEvent(t *rapid.T, d *domain.Design) sequence.Event {
	device := func(id domain.ID) int {
		return slices.IndexFunc(d.Devices, func(dev domain.Device) bool { return dev.ID == id })
	}
	e := sequence.Event{Device: -1, Kind: rapid.SampledFrom([]domain.Happening{domain.Pressed, domain.Pressed, domain.Occupied, domain.Vacant, domain.ContactClosed, domain.ContactOpened, domain.AVCommand, domain.PowerRestored, domain.DemandStarted, domain.DemandEnded, domain.PowerLost}).Draw(t, "kind")}
	switch e.Kind {
	case domain.Pressed:
		e.Device, e.Button = device("st"), rapid.IntRange(1, 3).Draw(t, "button")
	case domain.Occupied, domain.Vacant:
		if e.Device = device(domain.ID(fmt.Sprintf("p%d", rapid.IntRange(0, 1).Draw(t, "sensor")))); e.Device < 0 {
			e.Kind = domain.DemandEnded
		}
	case domain.ContactClosed, domain.ContactOpened:
		e.Device, e.Button = device("cn"), 1
	case domain.AVCommand:
		e.Text = "go"
	}
	return e
}

// Exploring in parts and with merged sensors finds what exploring the room in one
// piece does, each sensor by itself.
func TestExplore_findsWhatTheWholeRoomShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(t)
		p := sequence.Compile(b.P, &b.R.Design)
		whole, bounded := Whole(p, 4000)
		proof := Explore(p, Bounds{})
		if bounded || proof.Bounded {
			t.Skip("too many states")
		}
		ofLoads := []Kind{NoWayOn, NoWayOff, LitAlone, Egress, LitEmpty}
		names := func(list []Found) (out []string) {
			for _, f := range list {
				if slices.Contains(ofLoads, f.Kind) {
					out = append(out, fmt.Sprint(f.Kind, " ", f.Load))
				}
			}
			slices.Sort(out)
			return out
		}
		require.Equal(t, names(whole), names(proof.Found))
	})
}

// What is found can be played, as a scenario with its expectations.
func TestExplore_allStepsPlay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(t)
		p := sequence.Compile(b.P, &b.R.Design)
		proof := Explore(p, Bounds{})
		require.Equal(t, proof, Explore(p, Bounds{}), "the same room gives the same proof")
		s := p.NewState()
		for _, f := range proof.Found {
			r := s.RunScenario(&domain.Scenario{Steps: f.Steps})
			require.True(t, r.Passed, "%s: %+v: %+v", f.Kind, f.Steps, r)
		}
	})
}
