package prove_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/domain/sequence"
	. "scopewright/domain/sequence/prove"
)

func explore(b *domaintest.Builder) *Proof {
	return Explore(sequence.Compile(b.P, &b.R.Design), Bounds{})
}

func kinds(p *Proof) map[Kind]Found {
	out := map[Kind]Found{}
	for _, f := range p.Found {
		if _, ok := out[f.Kind]; !ok {
			out[f.Kind] = f
		}
	}
	return out
}

// small is a room of one load with a station: 1 on, 2 off.
func small() *domaintest.Builder {
	return domaintest.Room().Load("l1", "a", 4).Device("lc", "lc-1").Device("st", "st-4-mains").Device("cn", "cn-2").Carry("l1", "lc", 1).Intent("hand", domain.ByHand).
		Link("st", 1, domain.Press, "l1", "100").Link("st", 2, domain.Press, "l1", "0")
}

// Each kind in a small room that has it, and in its twin that has not.
func TestExplore_kinds(t *testing.T) {
	lock := func(b *domaintest.Builder, level string) *domaintest.Builder {
		return b.Intent("lock", domain.ByContact).Set("intents/lock/device", "CN-1", "intents/lock/command", "closed", "intents/lock/do", "locks at the level", "intents/lock/level", level)
	}
	unlock := func(b *domaintest.Builder) *domaintest.Builder {
		return b.Intent("free", domain.ByContact).Set("intents/free/device", "CN-1", "intents/free/command", "open", "intents/free/do", "releases")
	}
	sensed := func(kind string, enters string) *domaintest.Builder {
		return small().Device("ps", "ps-ceiling").Set("devices/ps/presence", kind).Link("ps", 0, "", "l1", "ACT").Intent("people", domain.ByPresence).Set("intents/people/enters", enters, "intents/people/level", "100")
	}
	for _, c := range []struct {
		kind      Kind
		has, hasn *domaintest.Builder
		steps     int // of the shortest way
	}{
		{NoWayOn, lock(small(), "0"), unlock(lock(small(), "0")), 1},
		{NoWayOff, lock(small(), "100"), unlock(lock(small(), "100")), 1},
		{Stuck, lock(small(), "100"), unlock(lock(small(), "100")), 1},
		{ButtonBut, small().Set("intents/hand/people", "occupied"), small().Set("intents/hand/people", "vacant"), 1},
		{Twins, small().Link("st", 3, domain.Press, "l1", "5").Link("st", 4, domain.Press, "l1", "10"), small().Link("st", 3, domain.Press, "l1", "11").Link("st", 4, domain.Press, "l1", "10"), 1},
		{Egress, small().Set("loads/l1/egress", "yes"), small().Set("loads/l1/egress", "yes").Link("st", 2, domain.Press, "l1", "20"), 2},
		{Order, two(40, 80), two(40, 40), 1},
		{Idle, small().Intent("av", domain.ByAV).Set("intents/av/scene", "", "intents/av/level", "50", "intents/av/people", "occupied"), sensed("occupancy", "yes").Intent("av", domain.ByAV).Set("intents/av/scene", "", "intents/av/level", "50", "intents/av/people", "occupied"), 0},
		{NoExpiry, sensed("occupancy", "yes").Link("st", 1, domain.Press, "l1", "-").Link("st", 2, domain.Press, "l1", "-").Intent("clock", domain.BySchedule), sensed("occupancy", "yes").Intent("clock", domain.BySchedule), 0},
		{NoExpiry, sensed("occupancy", "yes").Set("intents/people/off_level", "100"), sensed("occupancy", "yes").Set("intents/people/off_level", "99"), 0},
		{LitEmpty, sensed("occupancy", "yes").Intent("clock", domain.BySchedule).Set("intents/clock/on_at", "07:00", "intents/clock/level", "100", "intents/clock/off_at", ""),
			sensed("occupancy", "yes").Intent("clock", domain.BySchedule).Set("intents/clock/on_at", "07:00", "intents/clock/level", "100"), 0},
		{Burst, calling(5), calling(4), 9},
	} {
		has, hasn := kinds(explore(c.has)), kinds(explore(c.hasn))
		f, ok := has[c.kind]
		if assert.True(t, ok, "%s: found %v", c.kind, has) && c.steps > 0 {
			assert.Len(t, events(f.Steps), c.steps, "%s: %v", c.kind, f.Steps)
		}
		assert.NotContains(t, hasn, c.kind)
	}
}

// calling is a room of a station of 4 buttons and of sensors that all send to the
// whole room: one message a button in 4 s and one a sensor; at most 8 find a place in
// any 9 s (common practice).
func calling(sensors int) *domaintest.Builder {
	b := domaintest.Room().Load("l1", "a", 4).Device("st", "st-4-mains").Set("devices/st/sending", "room")
	for n, cell := range []string{"100", "0", "UP", "DN"} {
		b.Link("st", n+1, domain.Press, "l1", cell)
	}
	for i := range sensors {
		id := domain.ID([]string{"p1", "p2", "p3", "p4", "p5"}[i])
		b.Device(id, "ps-ceiling").Set("devices/"+string(id)+"/presence", "vacancy", "devices/"+string(id)+"/sending", "room").Link(id, 0, "", "l1", "ACT")
	}
	return b
}

// events gives the steps that are none of what is expected.
func events(steps []domain.ScenarioStep) (out []domain.ScenarioStep) {
	for _, st := range steps {
		if st.Happen != domain.Expect {
			out = append(out, st)
		}
	}
	return out
}

// two intents answer one command with levels of their own.
func two(a, b int) *domaintest.Builder {
	level := func(v int) string { return map[int]string{40: "40", 80: "80"}[v] }
	return small().Device("av", "av-serial").Intent("one", domain.ByAV).Intent("two", domain.ByAV).Set("intents/one/level", level(a), "intents/two/level", level(b), "intents/one/command", "go", "intents/two/command", "go", "intents/one/scene", "", "intents/two/scene", "")
}

// Light in a vacancy room without a person: a mode ends by its time, and the one
// that follows lights the load.
func TestExplore_lightWithoutAPerson(t *testing.T) {
	b := small().Device("ps", "ps-ceiling").Set("devices/ps/presence", "vacancy").Link("ps", 0, "", "l1", "ACT").Intent("people", domain.ByPresence).
		Intent("clean", domain.ByAV).Set("intents/clean/command", "clean", "intents/clean/do", "sets the mode", "intents/clean/mode", "cleaning", "intents/clean/hold_s", "1 h").
		Intent("normal", domain.OnMode).Set("intents/normal/mode", "normal", "intents/normal/level", "100")
	f, ok := kinds(explore(b))[LitAlone]
	require.True(t, ok)
	assert.Len(t, events(f.Steps), 1, "%v", f.Steps)
	b.Set("intents/normal/level", "0")
	assert.NotContains(t, kinds(explore(b)), LitAlone)
}

// The demo, each finding looked at by hand: there is none.
func TestExplore_demo(t *testing.T) {
	scope := demo.Scope()
	check := func(name string, d *domain.Design) {
		p := Explore(sequence.Compile(&scope.Project, d), Bounds{})
		assert.Empty(t, p.Found, name)
		assert.Positive(t, p.Transitions, name)
	}
	for i := range scope.Typicals {
		check(scope.Typicals[i].Name, &scope.Typicals[i].Design)
	}
	for i := range scope.Rooms {
		if scope.Rooms[i].TypicalID == "" && !scope.Rooms[i].Design.Empty() {
			check(scope.Rooms[i].Number, &scope.Rooms[i].Design)
		}
	}
}

// Merging sensors that do the same, and the order of the search, do not change
// what is found; every trap that is reported is one when its steps are played.
func TestExplore_isSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := small()
		cells := []string{"", "100", "0", "30", "TGL", "LAST"}
		for button := 1; button <= 4; button++ {
			b.Link("st", button, domain.Press, "l1", rapid.SampledFrom(cells).Draw(t, "cell"))
		}
		n := rapid.IntRange(0, 3).Draw(t, "sensors")
		for i := range n {
			id := domain.ID([]string{"p1", "p2", "p3"}[i])
			b.Device(id, "ps-ceiling").Set("devices/"+string(id)+"/presence", "occupancy").Link(id, 0, "", "l1", "ACT")
		}
		if rapid.Bool().Draw(t, "people") {
			b.Intent("people", domain.ByPresence).Set("intents/people/enters", rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "enters"), "intents/people/level", "100", "intents/people/off_level", rapid.SampledFrom([]string{"0", "20"}).Draw(t, "off"))
		}
		if rapid.Bool().Draw(t, "locks") {
			b.Intent("lock", domain.ByContact).Set("intents/lock/device", "CN-1", "intents/lock/command", "closed", "intents/lock/do", "locks at the level", "intents/lock/level", rapid.SampledFrom([]string{"0", "60"}).Draw(t, "lock"))
		}
		p := sequence.Compile(b.P, &b.R.Design)
		one, two := Explore(p, Bounds{}), Explore(p, Bounds{})
		if len(one.Found) != len(two.Found) || one.States != two.States || one.Transitions != two.Transitions {
			t.Fatalf("exploring twice gives %d and %d findings", len(one.Found), len(two.Found))
		}
		for _, f := range one.Found {
			if f.Kind != NoWayOn && f.Kind != NoWayOff {
				continue
			}
			s := p.NewState()
			for i := range f.Steps {
				if st := &f.Steps[i]; st.Happen != domain.Expect {
					e, err := p.EventOf(st)
					if err != nil {
						t.Fatal(err)
					}
					s.Do(e)
				} else {
					s.AdvanceTo(sequence.Time(st.At * 1000))
				}
			}
			trapped(t, p, s, &b.R.Design, f)
		}
	})
}

// trapped tries random sequences from a state: none may do what is said to be
// impossible.
func trapped(t *rapid.T, p *sequence.Program, s *sequence.State, d *domain.Design, f Found) {
	for range 20 {
		c := p.NewState()
		s.CopyInto(c)
		for range 6 {
			st := domain.ScenarioStep{Happen: rapid.SampledFrom([]domain.Happening{domain.Pressed, domain.Occupied, domain.Vacant, domain.ContactClosed, domain.ContactOpened}).Draw(t, "try")}
			switch st.Happen {
			case domain.Pressed:
				st.Device, st.Button = "st", rapid.IntRange(1, 4).Draw(t, "button")
			case domain.ContactClosed, domain.ContactOpened:
				st.Device, st.Button = "cn", 1
			default:
				st.Device = "p1"
			}
			if e, err := p.EventOf(&st); err == nil {
				e.At = c.Now() + sequence.Time(rapid.SampledFrom([]int{0, 1000, 1_300_000}).Draw(t, "wait"))
				c.Do(e)
			}
			if c.Powered() && c.Lit(f.Load) == (f.Kind == NoWayOn) {
				t.Fatalf("%s: %s is not so after %v", f.Kind, d.Loads[f.Load].Tag, c.Why(f.Load))
			}
		}
	}
}

// A room with more states than the bound says so, and claims nothing that it has
// not seen.
func TestExplore_bounded(t *testing.T) {
	b := domaintest.Classroom()
	full := explore(b)
	require.False(t, full.Bounded)
	some := Explore(sequence.Compile(b.P, &b.R.Design), Bounds{States: full.States - 1})
	assert.True(t, some.Bounded)
	assert.Equal(t, full.States-1, some.States)
	at := Explore(sequence.Compile(b.P, &b.R.Design), Bounds{States: full.States})
	assert.False(t, at.Bounded)
	for _, f := range some.Found {
		assert.NotEqual(t, Idle, f.Kind)
	}
}

// The largest room of the demo, with the states that are looked at a second.
func BenchmarkExplore(b *testing.B) {
	scope := demo.Scope()
	largest := &scope.Rooms[0].Design
	for i := range scope.Rooms {
		if d := &scope.Rooms[i].Design; len(d.Devices) > len(largest.Devices) {
			largest = d
		}
	}
	states := 0
	for b.Loop() {
		states += Explore(sequence.Compile(&scope.Project, largest), Bounds{}).States
	}
	b.ReportMetric(float64(states)/b.Elapsed().Seconds(), "states/s")
}
