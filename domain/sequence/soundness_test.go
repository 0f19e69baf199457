package sequence_test

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	. "scopewright/domain/sequence"
	"scopewright/domain/units"
)

// steadyRoom draws a small room in which nothing goes by the clock, so that states
// meet again.
func steadyRoom(t *rapid.T) *domaintest.Builder {
	b := anyRoom(t, rapid.SampledFrom([]domain.PresenceKind{domain.Occupancy, domain.Vacancy}).Draw(t, "presence"))
	b.P.Calendar = nil
	kept := b.R.Design.Intents[:0:0]
	for _, in := range b.R.Design.Intents {
		if in.From, in.Until = "", ""; in.Kind == domain.BySchedule {
			continue
		}
		if in.Kind == domain.ByPresence {
			in.Relight = units.Seconds(rapid.SampledFrom([]float64{0, 60}).Draw(t, "relight"))
			in.Watchdog = units.Seconds(rapid.SampledFrom([]float64{0, 3600}).Draw(t, "watchdog"))
		}
		kept = append(kept, in)
	}
	b.R.Design.Intents = kept
	return b
}

// Two states with one key do alike from there on, whatever led to them: a search
// that merges states by their keys overlooks nothing.
func TestKey_tellsStatesApart(t *testing.T) {
	met := 0
	rapid.Check(t, func(t *rapid.T) {
		b := steadyRoom(t)
		d := &b.R.Design
		p := Compile(b.P, d)
		known := map[string]*State{}
		for range 6 {
			s := p.NewState()
			for _, e := range anyEvents(t, d) {
				s.Do(e)
				s.AdvanceTo(e.At)
				key := string(s.AppendKey(nil))
				if known[key] == nil {
					known[key] = p.NewState()
					s.CopyInto(known[key])
					continue
				}
				if known[key].Now() == s.Now() {
					continue
				}
				met++
				one, two := p.NewState(), p.NewState()
				known[key].CopyInto(one)
				s.CopyInto(two)
				alike(t, d, one, two, anyEvents(t, d))
			}
		}
	})
	if met < 20 {
		t.Fatalf("only %d states met again: the test shows nothing", met)
	}
}

// alike runs the same events, counted from now, through two states and compares
// what comes out, within a fade too.
func alike(t *rapid.T, d *domain.Design, one, two *State, events []Event) {
	a, c := one.Now(), two.Now()
	told := ""
	look := func(at Time) {
		one.AdvanceTo(a + at)
		two.AdvanceTo(c + at)
		for i := range d.Loads {
			if x, y := one.Output(i, a+at), two.Output(i, c+at); math.Abs(x-y) > 1e-3 {
				t.Fatalf("after %s\nand %d ms %s is at %g and at %g %%: %q, %q", told, at, d.Loads[i].Tag, x, y, one.Why(i), two.Why(i))
			}
		}
	}
	at := Time(0)
	for _, e := range events {
		look((at + e.At) / 2)
		look(e.At - min(e.At-at, 1))
		at = e.At
		e.At = a + at
		one.Do(e)
		e.At = c + at
		two.Do(e)
		told += fmt.Sprintf("\n%d ms: %s %d.%d", at, e.Kind, e.Device, e.Button)
		look(at)
	}
	for _, later := range []Time{500, 3 * Second, 10 * Second, 90 * Second, 20 * Minute, 2 * Hour} {
		look(at + later)
	}
}

// hollow are sentences with a hole where words should stand.
var hollow = regexp.MustCompile(`: *(\(|\.|$)|%!|NaN|\bclass (\)|$)`)

// What is told of any load at any time, and of any change, is whole sentences with
// the class that the intent's kind has.
func TestWhy_isWholeSentences(t *testing.T) {
	class := map[string]domain.Class{"Daylight": domain.ClassDaylight, "Presence": domain.ClassOccupancy, "Receptacles": domain.ClassOccupancy, "By hand": domain.ClassManual,
		"Demand response": domain.ClassDemand, "Emergency": domain.ClassEmergency, "Schedule": domain.ClassSchedule, "AV command": domain.ClassManual, "Contact": domain.ClassManual}
	named := regexp.MustCompile(`\(intent \d+, ([A-Za-z ]+), class ([a-z ]+)\)`)
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(t, domain.Occupancy)
		d := &b.R.Design
		for i := range d.Intents {
			if d.Intents[i].Kind == domain.ByPresence {
				d.Intents[i].Watchdog, d.Intents[i].Relight = 1800, 60
			}
		}
		s := Compile(b.P, d).NewState()
		whole := func(text string) {
			if hollow.MatchString(text) {
				t.Fatalf("%q", text)
			}
			if m := named.FindStringSubmatch(text); m != nil && class[m[1]] != "" && class[m[1]] != domain.Class(m[2]) {
				t.Fatalf("%q names the class of another kind", text)
			}
		}
		s.Watch = func(c Change) { whole(s.Because(c.Because)) }
		each(s, anyEvents(t, d), func(Time) {
			for i := range d.Loads {
				for _, line := range s.Why(i) {
					whole(line)
				}
			}
		})
	})
}

// What the generator promises of a room whose intents do not quarrel, running it keeps.
func TestGenerate_passesOnPlainRooms(t *testing.T) {
	stories := 0
	rapid.Check(t, func(t *rapid.T) {
		b := plainRoom(t)
		d := &b.R.Design
		set := Generate(b.P, d)
		stories += len(set)
		ids := map[domain.ID]bool{}
		s := Compile(b.P, d).NewState()
		for i := range set {
			if ids[set[i].ID] {
				t.Fatalf("%s twice", set[i].ID)
			}
			ids[set[i].ID] = true
			if r := s.RunScenario(&set[i]); !r.Passed {
				t.Fatalf("%s: %s %s\n%+v", set[i].Name, r.Words(d, &set[i]), r.Step, set[i].Steps)
			}
		}
	})
	if stories < 100 {
		t.Fatalf("only %d stories", stories)
	}
}

// plainRoom draws a sound room: one intent of a kind, with numbers as designers
// write them.
func plainRoom(t *rapid.T) *domaintest.Builder {
	pick := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
	b := domaintest.Classroom().Device("av", "av-serial").Device("cn", "cn-2")
	b.Set("devices/ps/presence", pick("presence", "occupancy", "vacancy"), "devices/ps/delay_s", pick("own delay", "", "5 min", "30 min"))
	b.Set("scenes/s1/levels/l1", pick("scene", "0", "30", "100 in 8 s"), "scenes/s1/levels/l2", pick("scene", "10", "100", "55 in 3 s"))
	for button := 1; button <= 4; button++ {
		for _, l := range []domain.ID{"l1", "l2", "l3"} {
			b.Link("st", button, domain.Press, l, pick("cell", "100", "0", "SC1", "SC2", "TGL", "UP", "DN", "40"))
		}
	}
	b.Set("intents/i1/hold_s", pick("hold", "0 s", "30 min", "60 min"), "intents/i1/fade_s", pick("fade", "0", "2", "15"))
	b.Set("intents/i2/delay_s", pick("delay", "1 min", "10 min", "20 min"), "intents/i2/warning_s", pick("warning", "0", "60"), "intents/i2/off_level", pick("off level", "0", "20"), "intents/i2/fade_s", pick("people fade", "0", "2", "30"))
	if pick("enters", "yes", "no") == "yes" {
		b.Set("intents/i2/enters", "yes", "intents/i2/level", pick("entry", "20", "50", "100"))
	}
	b.Set("intents/i3/target_lx", pick("target", "200 lx", "400 lx"), "intents/i3/lowest", pick("lowest", "0", "10", "60"), "intents/i3/may_off", pick("may off", "yes", "no"))
	b.Set("intents/i5/restore", pick("restore", "off", "full", "last level"))
	if pick("schedule", "yes", "no") == "yes" {
		b.Intent("i6", domain.BySchedule).Set("intents/i6/off_at", pick("off", "22:00", "06:30", "00:05"), "intents/i6/on_at", pick("on", "", "05:00"), "intents/i6/level", "70", "intents/i6/days", pick("days", "Mon-Fri", "Sat", "Mon-Sun"), "intents/i6/override_s", pick("override", "0", "30 min", "2 h"))
	}
	if pick("dr", "yes", "no") == "yes" {
		b.Intent("i7", domain.OnDemandResponse).Set("intents/i7/level", pick("cap", "50", "80"))
	}
	if pick("em", "yes", "no") == "yes" {
		b.Intent("i8", domain.OnEmergency)
	}
	if pick("av", "yes", "no") == "yes" {
		b.Intent("i9", domain.ByAV).Set("intents/i9/device", "av", "intents/i9/scene", "2")
	}
	if pick("cn", "yes", "no") == "yes" {
		b.Link("cn", 1, "", "l1", "ACT").Intent("i10", domain.ByContact).Set("intents/i10/device", "cn", "intents/i10/level", "60")
	}
	if pick("mode", "yes", "no") == "yes" {
		b.Intent("i11", domain.OnMode).Set("intents/i11/mode", "cleaning", "intents/i11/level", "100")
	}
	return b
}

// Whatever a design holds, it compiles and runs: nothing falls over, and levels stay
// numbers from 0 to 100.
func TestCompile_runsWhateverADesignHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := wildRoom(t)
		d := &b.R.Design
		p := Compile(b.P, d)
		s := p.NewState()
		at := Time(0)
		for range rapid.IntRange(1, 20).Draw(t, "events") {
			at += Time(rapid.IntRange(0, 3_600_000).Draw(t, "gap"))
			s.Do(Event{At: at, Kind: rapid.SampledFrom(domain.Happenings()).Draw(t, "kind"), Device: rapid.IntRange(-1, len(d.Devices)).Draw(t, "device"), Button: rapid.IntRange(-1, 9).Draw(t, "button"),
				Lux: rapid.SampledFrom([]float64{-5, 0, 300, 1e9}).Draw(t, "lux"), Text: "presentation start", Mode: rapid.SampledFrom(append(domain.Modes(), "", "none")).Draw(t, "mode")})
			for i := range d.Loads {
				if out := s.Output(i, s.Now()); math.IsNaN(out) || out < 0 || out > 100 {
					t.Fatalf("%g", out)
				}
				s.Why(i)
			}
		}
		for i, sc := range Generate(b.P, d) {
			if r := s.RunScenario(&sc); !r.Passed && r.Words(d, &sc) == "" {
				t.Fatalf("story %d fails without words", i)
			}
		}
	})
}

func wildRoom(t *rapid.T) *domaintest.Builder {
	id := func(prefix string, n int) domain.ID {
		if k := rapid.IntRange(-1, n).Draw(t, prefix); k >= 0 {
			return domain.ID(fmt.Sprint(prefix, k))
		}
		return ""
	}
	number := rapid.IntRange(-1, 3)
	level := rapid.SampledFrom([]units.Level{0, 5, 50, 100})
	clock := rapid.SampledFrom([]string{"", "", "07:00", "24:99", "sunset+00:30", "noon", "02:30"})
	b := domaintest.Room()
	b.P.Priority = rapid.Permutation(domain.DefaultPriority()[1:5]).Draw(t, "priority")
	b.P.Priority = append(append([]domain.Class{domain.ClassEmergency}, b.P.Priority...), domain.ClassDaylight)
	b.P.Calendar = []string{"Mon-Fri 07:00 normal", "nonsense", "Sat 25:00 event", "Mon-Sun sunset cleaning"}
	b.P.Holidays = []string{"2026-06-02", "never"}
	b.P.Zone = rapid.SampledFrom([]string{"", "America/New_York", "Nowhere/Land"}).Draw(t, "zone")
	loads, devices := rapid.IntRange(0, 4).Draw(t, "loads"), rapid.IntRange(0, 6).Draw(t, "devices")
	return b.Spoil(func(d *domain.Design) {
		for i := range loads {
			d.Loads = append(d.Loads, domain.Load{ID: domain.ID(fmt.Sprint("l", i)), Seq: i, Tag: fmt.Sprint("L", i), Kind: rapid.SampledFrom([]domain.LoadKind{domain.Lighting, domain.Receptacle}).Draw(t, "kind"),
				Luminaire: rapid.SampledFrom([]domain.ID{"", "a", "c", "gone"}).Draw(t, "luminaire"), Dimming: rapid.SampledFrom(append(equipment.Dimmings(), "")).Draw(t, "dimming"), Egress: rapid.Bool().Draw(t, "egress"), Controller: id("d", devices)})
		}
		types := []string{"gone", "st-4-mains", "ps-ceiling", "wb-dim", "cn-2", "av-serial", "ds-open", "gw-room"}
		for i := range devices {
			d.Devices = append(d.Devices, domain.Device{ID: domain.ID(fmt.Sprint("d", i)), Seq: i, Tag: fmt.Sprint("D", i), Type: rapid.SampledFrom(types).Draw(t, "type"), Presence: rapid.SampledFrom([]domain.PresenceKind{"", domain.Occupancy, domain.Vacancy}).Draw(t, "presence")})
		}
		d.Scenes = []domain.Scene{{ID: "s1", Number: 1, Name: "One", Levels: []domain.SceneLevel{{ID: "l0", Level: 30}, {ID: "l9", Level: 5}, {ID: "l1", Leave: true}}}}
		verbs := []domain.Verb{domain.ToLevel, domain.ToScene, domain.Toggle, domain.Raise, domain.Lower, domain.LastLevel, domain.Acts, domain.Nothing, "what"}
		for range rapid.IntRange(0, 12).Draw(t, "links") {
			k := domain.Link{Device: id("d", devices), Button: number.Draw(t, "button"), On: rapid.SampledFrom([]domain.Gesture{"", domain.Press, domain.Hold}).Draw(t, "on"), Load: id("l", loads),
				Do: domain.Action{Verb: rapid.SampledFrom(verbs).Draw(t, "verb"), Level: level.Draw(t, "level"), Scene: number.Draw(t, "scene"), If: rapid.SampledFrom([]domain.PartitionState{"", domain.PartitionOpen}).Draw(t, "if")}}
			k.ID = domain.LinkID(k.Device, k.Button, k.On, k.Load)
			d.Links = append(d.Links, k)
		}
		for i := range rapid.IntRange(0, 6).Draw(t, "intents") {
			in := domain.NewIntent(domain.ID(fmt.Sprint("i", i)), rapid.SampledFrom(append(domain.IntentKinds(), "none")).Draw(t, "intent"))
			in.Seq, in.Scene, in.Level, in.Lowest, in.Highest = i, number.Draw(t, "scene"), level.Draw(t, "level"), level.Draw(t, "lowest"), level.Draw(t, "highest")
			in.Delay, in.Hold, in.Warning, in.Again = units.Seconds(600*number.Draw(t, "delay")), units.Seconds(600*number.Draw(t, "hold")), units.Seconds(60*number.Draw(t, "warning")), units.Seconds(60*number.Draw(t, "again"))
			in.Rate, in.Target = float64(number.Draw(t, "rate")), units.Lux(100*number.Draw(t, "target"))
			in.OnAt, in.OffAt, in.From, in.Until, in.Days = clock.Draw(t, "on"), clock.Draw(t, "off"), clock.Draw(t, "from"), clock.Draw(t, "until"), rapid.SampledFrom([]string{"", "Mon-Fri", "never", "Sun, holidays"}).Draw(t, "days")
			in.Enters, in.MayOff, in.Spares, in.Yields, in.Device = rapid.Bool().Draw(t, "enters"), rapid.Bool().Draw(t, "may off"), rapid.Bool().Draw(t, "spares"), rapid.Bool().Draw(t, "yields"), id("d", devices)
			in.Do = rapid.SampledFrom(append(domain.Responses(), "", "dance")).Draw(t, "do")
			in.Mode = rapid.SampledFrom(append(domain.Modes(), "", "x")).Draw(t, "mode")
			if l := id("l", loads); l != "" {
				in.Loads = []domain.ID{l}
			}
			d.Intents = append(d.Intents, in)
		}
	})
}

// The hot loop asks for no memory: reports, presses, readings, delays, schedules and
// the light after a schedule's off, with holidays to look up.
func TestDo_asksForNoMemory(t *testing.T) {
	room := largeRoom()
	room.P.Holidays, room.P.Calendar = []string{"2026-06-03"}, []string{"Mon-Fri 07:00 normal", "Mon-Fri 19:00 after hours"}
	room.Set("intents/i6/days", "Mon-Fri not holidays", "intents/i6/on_at", "")
	d := &room.R.Design
	s := Compile(room.P, d).NewState()
	st, ps, ds := indexOfDevice(*d, "st0"), indexOfDevice(*d, "ps0"), indexOfDevice(*d, "ds")
	at := Time(0)
	allocations := testing.AllocsPerRun(2000, func() {
		for _, e := range []Event{{Kind: domain.Occupied, Device: ps}, {Kind: domain.Pressed, Device: st, Button: 1}, {Kind: domain.DaylightRead, Device: ds, Lux: 100}, {Kind: domain.HoldStarted, Device: st, Button: 3}, {Kind: domain.HoldEnded, Device: st, Button: 3}, {Kind: domain.Vacant, Device: ps}, {Kind: domain.DemandStarted}, {Kind: domain.DemandEnded}} {
			at += 13 * Minute
			e.At = at
			s.Do(e)
		}
	})
	if allocations != 0 {
		t.Fatalf("%g allocations", allocations)
	}
}
