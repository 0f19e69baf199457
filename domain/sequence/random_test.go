package sequence_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	. "scopewright/domain/sequence"
	"scopewright/domain/units"
)

// anyRoom draws a room with all kinds of inputs and intents.
func anyRoom(t *rapid.T, kind domain.PresenceKind) *domaintest.Builder {
	b := domaintest.Room().Device("lc", "lc-4").Device("st", "st-4-mains").Device("ds", "ds-open").Device("cn", "cn-2").Device("av", "av-serial").Device("gw", "gw-room")
	p := b.P
	p.Calendar = []string{"Mon-Fri 07:00 normal", "Mon-Sun 19:00 after hours"}
	loads := rapid.IntRange(1, 3).Draw(t, "loads")
	pick := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
	for i := range loads {
		id := domain.ID(fmt.Sprintf("l%d", i+1))
		b.Load(id, domain.ID(pick("luminaire", "a", "c", "s")), 2)
		if rapid.Bool().Draw(t, "egress") {
			b.Set("loads/"+string(id)+"/egress", "yes")
		}
	}
	b.Receptacle("r1").Scene("s1", "One").Set("scenes/s1/levels/l1", pick("scene level", "0", "30", "100"))
	for n := range rapid.IntRange(1, 3).Draw(t, "sensors") {
		id := domain.ID(fmt.Sprintf("ps%d", n+1))
		b.Device(id, "ps-ceiling").Set("devices/"+string(id)+"/presence", string(kind), "devices/"+string(id)+"/delay_s", pick("own delay", "", "5 min"))
		for i := range loads {
			if rapid.Bool().Draw(t, "acts") {
				b.Link(id, 0, "", domain.ID(fmt.Sprintf("l%d", i+1)), pick("cell", "ACT", "ACT", "ACT @open"))
			}
		}
		b.Link(id, 0, "", "r1", "ACT")
	}
	for button := 1; button <= 4; button++ {
		for i := range loads {
			if cell := pick("button cell", "", "100", "0", "SC1", "TGL", "UP", "DN", "LAST", "40 @open"); cell != "" {
				b.Link("st", button, domain.Gesture(pick("gesture", "press", "press", "hold")), domain.ID(fmt.Sprintf("l%d", i+1)), cell)
			}
		}
	}
	b.Link("ds", 0, "", "l1", "ACT")
	for n := range rapid.IntRange(2, 7).Draw(t, "intents") {
		in := domain.NewIntent(domain.ID(fmt.Sprintf("i%d", n)), rapid.SampledFrom(domain.IntentKinds()).Draw(t, "kind"))
		in.Seq = n
		in.Enters = rapid.Bool().Draw(t, "enters")
		in.Level = units.Level(rapid.SampledFrom([]float64{0, 20, 100}).Draw(t, "level"))
		in.Warning = units.Seconds(rapid.SampledFrom([]float64{0, 60}).Draw(t, "warning"))
		in.OffLevel = units.Level(rapid.SampledFrom([]float64{0, 0, 30}).Draw(t, "off level"))
		in.OnAt, in.MayOff = pick("on at", "", "09:30"), rapid.Bool().Draw(t, "may off")
		in.Scene = rapid.SampledFrom([]int{0, 0, 1}).Draw(t, "scene")
		in.Do = rapid.SampledFrom(append([]domain.Response{""}, domain.Responses()...)).Draw(t, "do")
		if rapid.IntRange(0, 3).Draw(t, "conditional") == 0 {
			in.Unless, in.Modes = rapid.Bool().Draw(t, "unless"), []domain.Mode{domain.AfterHours}
			in.From = pick("from", "", "10:00")
		}
		switch in.Kind {
		case domain.ByAV:
			in.Device, in.Command = "av", "go"
		case domain.ByContact:
			in.Device, in.Command = "cn", pick("contact", "closed", "open")
		}
		b.R.Design.Intents = append(b.R.Design.Intents, in)
	}
	return b
}

// anyEvents draws events in order of time.
func anyEvents(t *rapid.T, d *domain.Design) []Event {
	var out []Event
	at := Time(0)
	device := func(id domain.ID) int {
		for i := range d.Devices {
			if d.Devices[i].ID == id {
				return i
			}
		}
		return 0
	}
	var sensors []int
	for i := range d.Devices {
		if d.Devices[i].Presence != "" {
			sensors = append(sensors, i)
		}
	}
	for range rapid.IntRange(1, 25).Draw(t, "events") {
		at += Time(rapid.SampledFrom([]int{0, 1, 900, 30_000, 60_000, 300_000, 1_200_000, 7_200_000}).Draw(t, "gap"))
		e := Event{At: at, Device: -1, Kind: rapid.SampledFrom(domain.Happenings()[1:]).Draw(t, "kind")}
		switch {
		case e.Kind == domain.Pressed || e.Kind == domain.HoldStarted || e.Kind == domain.HoldEnded:
			e.Device, e.Button = device("st"), rapid.IntRange(0, 5).Draw(t, "button")
		case e.Kind == domain.Occupied || e.Kind == domain.Vacant || e.Kind == domain.SensorSilent:
			e.Device = rapid.SampledFrom(sensors).Draw(t, "sensor")
		case e.Kind == domain.DaylightRead:
			e.Device, e.Lux = device("ds"), rapid.SampledFrom([]float64{0, 200, 390, 5000}).Draw(t, "lux")
		case e.Kind == domain.ContactClosed || e.Kind == domain.ContactOpened:
			e.Device, e.Button = device("cn"), 1
		case e.Kind == domain.AVCommand:
			e.Text = "Go"
		case e.Kind == domain.ModeChanged:
			e.Mode = rapid.SampledFrom(domain.Modes()).Draw(t, "mode")
		}
		out = append(out, e)
	}
	return out
}

// each runs events and looks at the state after each of them and at times between.
func each(s *State, events []Event, look func(at Time)) {
	for _, e := range events {
		s.Do(e)
		look(s.Now())
	}
	for range 20 {
		next := s.NextTimer()
		if next == Never || next > s.Now()+48*Hour {
			break
		}
		look(next - 1)
		s.AdvanceTo(next)
		look(s.Now())
	}
}

// Output is 0 or within what the load's driver can do.
func TestOutputStaysInRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(t, rapid.SampledFrom([]domain.PresenceKind{domain.Occupancy, domain.Vacancy}).Draw(t, "presence"))
		d := &b.R.Design
		s := Compile(b.P, d).NewState()
		each(s, anyEvents(t, d), func(at Time) {
			for i := range d.Loads {
				l, out, lowest := &d.Loads[i], s.Output(i, at), 1.0
				if lum := b.P.Luminaire(l.Luminaire); lum != nil && lum.DimsTo > 0 {
					lowest = float64(lum.DimsTo)
				}
				switched := l.Dimming == "" || l.Dimming == equipment.Switched || l.Kind == domain.Receptacle
				if out != 0 && (out < lowest-1e-9 && !switched || out > 100+1e-9 || switched && out != 100) {
					t.Fatalf("%s is at %g %%, lowest %g, switched %v", l.Tag, out, lowest, switched)
				}
			}
		})
	})
}

// A room of vacancy sensors never lights unless a person acts: what sensors,
// daylight, delays and networks do lights nothing.
func TestVacancyRoomNeverLightsByItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(t, domain.Vacancy)
		d := &b.R.Design
		kept := d.Intents[:0:0]
		for _, in := range d.Intents {
			if k := in.Kind; k == domain.ByHand || k == domain.ByPresence || k == domain.ByDaylight || k == domain.ForReceptacles || k == domain.OnDemandResponse {
				kept = append(kept, in)
			}
		}
		d.Intents = kept
		s := Compile(b.P, d).NewState()
		var events []Event
		for _, e := range anyEvents(t, d) {
			switch e.Kind {
			case domain.Occupied, domain.Vacant, domain.SensorSilent, domain.DaylightRead, domain.DemandStarted, domain.DemandEnded, domain.NetworkLost, domain.NetworkRestored,
				domain.PartitionOpens, domain.PartitionCloses, domain.ModeChanged, domain.PowerLost, domain.PowerRestored:
				events = append(events, e)
			}
		}
		each(s, events, func(at Time) {
			for i := range d.Loads {
				if d.Loads[i].Kind == domain.Lighting && s.Output(i, at) > 0 {
					t.Fatalf("%s is lit: %v", d.Loads[i].Tag, s.Why(i))
				}
			}
		})
	})
}

// While the emergency signal is on, a locked load stays at its lock whatever comes.
func TestEmergencyLocksHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(t, domain.Occupancy)
		d := &b.R.Design
		in := domain.NewIntent("emergency", domain.OnEmergency)
		in.Loads = []domain.ID{"l1"}
		d.Intents = append([]domain.Intent{in}, d.Intents...)
		s := Compile(b.P, d).NewState()
		each(s, anyEvents(t, d), func(at Time) {
			if s.Emergency() && s.Powered() && s.Output(0, at) != 100 {
				t.Fatalf("L1 is at %g %%: %v", s.Output(0, at), s.Why(0))
			}
		})
	})
}

// Replaying a log gives the same state, a copy goes on alike, and time may pass
// in any steps.
func TestReplayAndCopies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(t, domain.Occupancy)
		d := &b.R.Design
		p := Compile(b.P, d)
		events := anyEvents(t, d)
		one, two, three := p.NewState(), p.NewState(), p.NewState()
		cut := rapid.IntRange(0, len(events)).Draw(t, "cut")
		for i, e := range events {
			if i == cut {
				one.CopyInto(three)
			}
			one.Do(e)
			if gap := e.At - two.Now(); gap > 1 { // to stand at an instant is to let its timers end
				two.AdvanceTo(two.Now() + gap/2)
			}
			two.Do(e)
		}
		if cut == len(events) {
			one.CopyInto(three)
		}
		for _, e := range events[cut:] {
			three.Do(e)
		}
		end := one.Now() + 3*Hour
		for _, s := range []*State{one, two, three} {
			s.AdvanceTo(end)
		}
		if a, b, c := string(one.AppendKey(nil)), string(two.AppendKey(nil)), string(three.AppendKey(nil)); a != b || a != c {
			t.Fatalf("the same events give different states")
		}
		for i := range d.Loads {
			if math.Abs(one.Output(i, end)-two.Output(i, end)) > 1e-9 {
				t.Fatalf("outputs differ")
			}
		}
	})
}

// Events at one instant that concern different loads may come in any order.
func TestOrderOfUnrelatedEventsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := domaintest.Room().Load("l1", "a", 2).Load("l2", "c", 2).Device("st", "st-4-mains").Device("ps1", "ps-ceiling").Device("ps2", "ps-ceiling").
			Set("devices/ps1/presence", "occupancy", "devices/ps2/presence", "occupancy").Link("ps1", 0, "", "l1", "ACT").Link("ps2", 0, "", "l2", "ACT").
			Link("st", 1, domain.Press, "l1", "TGL").Link("st", 2, domain.Press, "l2", "40").Link("st", 3, domain.Press, "l1", "UP").Link("st", 4, domain.Press, "l2", "DN").
			Intent("hand", domain.ByHand).Intent("p1", domain.ByPresence).Intent("p2", domain.ByPresence).Set("intents/p1/loads", "L1", "intents/p2/loads", "L2", "intents/p2/delay_s", "5 min")
		p := Compile(b.P, &b.R.Design)
		one, two := p.NewState(), p.NewState()
		first := []Event{{Kind: domain.Occupied, Device: 1}, {Kind: domain.Vacant, Device: 1}, {Kind: domain.Pressed, Device: 0, Button: 1}, {Kind: domain.Pressed, Device: 0, Button: 3}}
		second := []Event{{Kind: domain.Occupied, Device: 2}, {Kind: domain.Vacant, Device: 2}, {Kind: domain.Pressed, Device: 0, Button: 2}, {Kind: domain.Pressed, Device: 0, Button: 4}}
		at := Time(0)
		for range rapid.IntRange(1, 12).Draw(t, "rounds") {
			at += Time(rapid.IntRange(0, 900_000).Draw(t, "gap"))
			a, c := rapid.SampledFrom(first).Draw(t, "first"), rapid.SampledFrom(second).Draw(t, "second")
			a.At, c.At = at, at
			one.Do(a)
			one.Do(c)
			two.Do(c)
			two.Do(a)
		}
		if string(one.AppendKey(nil)) != string(two.AppendKey(nil)) {
			t.Fatalf("the order of unrelated events matters")
		}
	})
}

// largeRoom has 32 devices: 12 loads on 3 controllers, 8 stations, 8 sensors and so on.
func largeRoom() *domaintest.Builder {
	b := domaintest.Room()
	for i := range 12 {
		b.Load(domain.ID(fmt.Sprintf("l%d", i)), "a", 4)
	}
	b.Devices(6, "lc-2").Device("ds", "ds-open").Device("gw", "gw-room").Device("av", "av-serial").Devices(7, "rt-plug").Scene("s1", "One").Scene("s2", "Two")
	for n := range 8 {
		st, ps := domain.ID(fmt.Sprintf("st%d", n)), domain.ID(fmt.Sprintf("ps%d", n))
		b.Device(st, "st-4-battery").Device(ps, "ps-ceiling").Set("devices/"+string(ps)+"/presence", "occupancy")
		for i := range 12 {
			l := domain.ID(fmt.Sprintf("l%d", i))
			b.Link(ps, 0, "", l, "ACT").Link(st, 1, domain.Press, l, "SC1").Link(st, 2, domain.Press, l, "SC2").Link(st, 3, domain.Press, l, "UP").Link(st, 4, domain.Press, l, "0")
		}
	}
	b.Link("ds", 0, "", "l0", "ACT").Link("ds", 0, "", "l1", "ACT")
	return b.Intent("i1", domain.ByHand).Intent("i2", domain.ByPresence).Intent("i3", domain.ByDaylight).Intent("i4", domain.OnDemandResponse).Intent("i5", domain.OnPowerBack).Intent("i6", domain.BySchedule).
		Set("intents/i2/enters", "yes", "intents/i2/level", "80", "intents/i3/loads", "L1, L2")
}

// Events through a room of 32 devices: mostly reports of sensors, as in life, with
// presses and readings among them.
func BenchmarkEvents(b *testing.B) {
	room := largeRoom()
	d := &room.R.Design
	s := Compile(room.P, d).NewState()
	var mix []Event
	var stations, sensors []int
	daylight := 0
	for i := range d.Devices {
		switch {
		case d.Devices[i].Presence != "":
			sensors = append(sensors, i)
		case d.Devices[i].Type == "st-4-battery":
			stations = append(stations, i)
		case d.Devices[i].Type == "ds-open":
			daylight = i
		}
	}
	for i := range 64 {
		switch {
		case i%16 == 7:
			mix = append(mix, Event{Kind: domain.Pressed, Device: stations[i%8], Button: 1 + i/16})
		case i%16 == 11:
			mix = append(mix, Event{Kind: domain.DaylightRead, Device: daylight, Lux: float64(i * 7)})
		case i/8%2 == 0:
			mix = append(mix, Event{Kind: domain.Occupied, Device: sensors[i%8]})
		default:
			mix = append(mix, Event{Kind: domain.Vacant, Device: sensors[i%8]})
		}
	}
	if len(d.Devices) != 32 {
		b.Fatalf("%d devices", len(d.Devices))
	}
	at, n := Time(0), 0
	b.ReportAllocs()
	for b.Loop() {
		e := mix[n%len(mix)]
		at += 15 * Second
		e.At = at
		s.Do(e)
		n++
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "events/s")
}

func BenchmarkCompile(b *testing.B) {
	room := largeRoom()
	for b.Loop() {
		Compile(room.P, &room.R.Design)
	}
}
