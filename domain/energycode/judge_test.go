package energycode_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

const ft2 = units.SquareMetresPerSquareFoot

// classroom is a room of 1,162.5 ft2 that meets all that 90.1-2019 asks of a
// classroom and that needs nothing to be known first, but for the blanks.
func classroom() *energycode.Facts {
	return &energycode.Facts{Room: "201 Classroom", Units: units.US, Area: 108,
		Loads: []energycode.Load{{ID: "l1", Tag: "L1", Layer: domain.General, Watts: 480, WattsKnown: true, Area: 108, Dims: true, Lowest: 5, Ramps: true,
			Vacant: []energycode.Vacancy{{After: 1200, Sensors: []string{"PS-1"}, By: "PS-1, presence intent 1"}}}},
		Handles: []energycode.Handle{{Device: "ST-1", By: "ST-1 button 1 On", On: []int{0}, Area: 108}, {Device: "ST-1", By: "ST-1 button 2 Off", Off: []int{0}, Area: 108}},
		Receptacles: energycode.Outlets{Known: true, Total: 11, Controlled: 6,
			Off: []energycode.Vacancy{{After: 1200, Sensors: []string{"PS-1"}, By: "PS-1, receptacles intent 2"}}},
	}
}

// big is a room of an area in ft2 whose two loads light half of it each, with
// buttons and sensors of their own.
func big(area float64) *energycode.Facts {
	f := classroom()
	f.Area = units.SquareMetres(area * ft2)
	half := f.Area / 2
	f.Loads[0].Area = half
	second := f.Loads[0]
	second.ID, second.Tag = "l2", "L2"
	second.Vacant = []energycode.Vacancy{{After: 1200, Sensors: []string{"PS-2"}, By: "PS-2, presence intent 1"}}
	f.Loads = append(f.Loads, second)
	f.Handles = []energycode.Handle{
		{Device: "ST-1", By: "ST-1 button 1", On: []int{0}, Off: []int{0}, Area: half}, {Device: "ST-2", By: "ST-2 button 1", On: []int{1}, Off: []int{1}, Area: half},
		{Device: "ST-1", By: "ST-1 button 2", On: []int{0, 1}, Off: []int{0, 1}, Area: 2 * half},
	}
	return f
}

// answerOf gives the answer of a control, or of the group that it belongs to.
func answerOf(t testing.TB, list []energycode.Answer, c energycode.Control) energycode.Answer {
	for _, a := range list {
		if a.Control == c {
			return a
		}
	}
	require.Fail(t, "no answer", c)
	return energycode.Answer{}
}

func TestJudge_soundClassroom(t *testing.T) {
	p := pack(t, "ashrae-90.1-2019")
	for _, a := range energycode.Judge(p, "classroom_lecture_training", classroom()) {
		switch {
		case a.Duty == energycode.Unknown && a.Verdict != energycode.Meets:
			assert.Equal(t, energycode.CannotTell, a.Verdict, a.Title)
			assert.True(t, a.Open, "the pack leaves it open, not the room")
			assert.Contains(t, a.Sentence(), "which is no exemption")
		default:
			assert.Contains(t, []energycode.Verdict{energycode.Meets, energycode.NotAsked}, a.Verdict, a.Sentence())
		}
		assert.NotEmpty(t, a.Title)
		assert.NotEmpty(t, a.Clause(), a.Title)
		assert.Contains(t, a.MarkWords(), "confirm against the adopted text", a.Title)
	}
}

// limit is a check of one control in one room, changed a little.
type limit struct {
	name    string
	pack    string
	space   string
	control energycode.Control
	change  func(*energycode.Facts)
	want    energycode.Verdict
	says    string // that the answer must hold
}

func (l limit) run(t *testing.T, f *energycode.Facts) {
	if l.change != nil {
		l.change(f)
	}
	a := answerOf(t, energycode.Judge(pack(t, l.pack), l.space, f), l.control)
	assert.Equal(t, l.want, a.Verdict, "%s: %s", l.name, a.Sentence())
	assert.Contains(t, a.Required+" "+a.Provided+" "+a.Sentence(), l.says, l.name)
	if a.Verdict == energycode.DoesNotMeet {
		assert.NotEmpty(t, a.Faults, l.name)
	}
	if a.Verdict == energycode.CannotTell {
		assert.NotEmpty(t, a.Missing, l.name)
	}
}

func after(s units.Seconds) func(*energycode.Facts) {
	return func(f *energycode.Facts) { f.Loads[0].Vacant[0].After = s }
}

const (
	old, fresh, code18, code21, calif = "ashrae-90.1-2019", "ashrae-90.1-2022", "iecc-2018", "iecc-2021", "california-2022"
	class, office, hall               = "classroom_lecture_training", "office_open_gt_300ft2", "gym_playing"
	meets, not, open, none            = energycode.Meets, energycode.DoesNotMeet, energycode.CannotTell, energycode.NotAsked
)

func TestFullOff_delayWarningAndFadeTogether(t *testing.T) {
	for _, l := range []limit{
		// 9.4.1.1(h), 20 min, from memory for 2019, control verification library for 2022.
		{"at the limit", old, class, energycode.FullOff, after(1200), meets, "off 20 min after the last person's leaving by PS-1, presence intent 1"},
		{"a second over", old, class, energycode.FullOff, after(1201), not, "limit 20 min, 1 s over"},
		{"a second under", old, class, energycode.FullOff, after(1199), meets, ""},
		{"20 min and a warning of 1 min", fresh, class, energycode.FullOff, after(1260), not, "1 min over"},
		{"nothing senses people", old, class, energycode.FullOff, func(f *energycode.Facts) { f.Loads[0].Vacant = nil }, not, "nothing lowers it when the room is empty"},
		{"stays low", old, class, energycode.FullOff, func(f *energycode.Facts) { f.Loads[0].Vacant[0].Level = 20 }, not, "left at 20 %"},
		{"only in a mode", old, class, energycode.FullOff, func(f *energycode.Facts) { f.Loads[0].Vacant[0].Doubt = "presence intent 1 counts only in mode normal" }, open, "only in mode normal"},
		{"kept lit by a schedule", old, class, energycode.FullOff, func(f *energycode.Facts) { f.Loads[0].Vacant[0].Held = "schedule intent 3 from 07:00 until 22:00" }, not, "kept lit by schedule intent 3"},
		{"a load not known to be there", old, class, energycode.FullOff, func(f *energycode.Facts) { f.Loads, f.Handles = nil, nil }, open, "it has none"},
	} {
		l.run(t, classroom())
	}
}

func TestFullOff_areaOfOneSensor(t *testing.T) {
	for _, l := range []limit{
		// 9.4.1.1(h), 5,000 ft2 for each device, control verification library for 2022.
		{"two sensors of 5,000 ft2", fresh, "conference_meeting", energycode.FullOff, nil, meets, "each sensor for at most 5000 sq ft: 2 here"},
	} {
		l.run(t, big(10000))
	}
	a := answerOf(t, energycode.Judge(pack(t, fresh), "conference_meeting", big(10001)), energycode.FullOff)
	assert.Equal(t, not, a.Verdict)
	assert.Contains(t, a.Sentence(), "5000.5 sq ft each, limit 5000 sq ft")
	assert.Equal(t, meets, answerOf(t, energycode.Judge(pack(t, fresh), "conference_meeting", big(9999)), energycode.FullOff).Verdict)
	f := big(9999)
	f.Loads[0].Area = 0
	assert.Equal(t, open, answerOf(t, energycode.Judge(pack(t, fresh), "conference_meeting", f), energycode.FullOff).Verdict)
}

// night is a classroom with a second load of 20 W that lights the way out and
// stays lit.
func night() *energycode.Facts {
	f := classroom()
	f.Loads = append(f.Loads, energycode.Load{ID: "l2", Tag: "L2", Watts: 40, WattsKnown: true, Egress: true, Bypass: "listed relay",
		Vacant: []energycode.Vacancy{{Level: 50, After: 600, Sensors: []string{"PS-1"}, By: "PS-1, presence intent 2"}}})
	return f
}

func TestFullOff_lightOnTheWayOut(t *testing.T) {
	building := func(area float64, stay units.Watts) func(*energycode.Facts) {
		return func(f *energycode.Facts) {
			f.Building = &energycode.Building{Area: units.SquareMetres(area * ft2), StayOn: stay}
		}
	}
	for _, l := range []limit{
		// 9.4.1.1(h): 0.02 W/ft2 of the lighted area may stay on; 20 W of 1,162.5 ft2 is 0.0172.
		{"within the room's own share", fresh, class, energycode.FullOff, nil, meets, "L2, on the way out, stays lit"},
		{"at the room's own share", fresh, class, energycode.FullOff, func(f *energycode.Facts) { f.Area = 1000 * ft2 }, meets, ""},
		{"beyond it, building unknown", fresh, class, energycode.FullOff, func(f *energycode.Facts) { f.Area = 999 * ft2 }, open, "20 W stays on here"},
		{"beyond it, building at its share", fresh, class, energycode.FullOff, func(f *energycode.Facts) { f.Area = 999 * ft2; building(50000, 1000)(f) }, meets, ""},
		{"beyond it, building over", fresh, class, energycode.FullOff, func(f *energycode.Facts) { f.Area = 999 * ft2; building(50000, 1001)(f) }, not, "1001 W stay lit in the empty building, limit 1000 W: 1 W over. 20 W of it are here."},
		{"watts unknown", fresh, class, energycode.FullOff, func(f *energycode.Facts) { f.Loads[1].WattsKnown = false }, open, "the watts of L2"},
		// IECC 2021 C405.2: an exception in words, no figure (public notes that quote the clause).
		{"an exception in words", code21, class, energycode.FullOff, nil, open, "whether L2 falls under an exception"},
		{"nothing said", code18, class, energycode.FullOff, nil, open, "what the authority says of L2"},
	} {
		f := night()
		l.run(t, f)
		a := answerOf(t, energycode.Judge(pack(t, l.pack), l.space, f), l.control)
		assert.Equal(t, energycode.LifeSafety, a.Caution, l.name)
	}
	dark := classroom()
	dark.Loads[0].Egress = true
	a := answerOf(t, energycode.Judge(pack(t, fresh), class, dark), energycode.FullOff)
	assert.Equal(t, meets, a.Verdict)
	assert.Equal(t, energycode.LifeSafety, a.Caution, "it goes dark on the way out without a device that brings it back")
}

func TestPartialOff_halfOfThePower(t *testing.T) {
	level := func(v units.Level, s units.Seconds) func(*energycode.Facts) {
		return func(f *energycode.Facts) { f.Loads[0].Vacant[0].Level, f.Loads[0].Vacant[0].After = v, s }
	}
	for _, l := range []limit{
		// 9.4.1.1(g), half within 20 min, from memory; the row from published lighting tables.
		{"half", old, "corridor", energycode.PartialOff, level(50, 1200), meets, "to 50 % 20 min after"},
		{"a little more", old, "corridor", energycode.PartialOff, level(50.1, 1200), not, "falls by 49.9 % within 20 min, at least 50 % asked"},
		{"a little less", old, "corridor", energycode.PartialOff, level(49.9, 1200), meets, ""},
		{"too late", old, "corridor", energycode.PartialOff, level(50, 1201), not, "1 s over"},
		{"off does as well", old, "corridor", energycode.PartialOff, level(0, 1200), meets, "off does as well"},
		{"a doubt", old, "corridor", energycode.PartialOff, func(f *energycode.Facts) { f.Loads[0].Vacant[0].Doubt = "only at night" }, open, "only at night"},
		// IECC 2018 states no delay for aisles that was seen or recalled.
		{"no delay in the pack", code18, "warehouse_bulky", energycode.PartialOff, level(0, 60), open, "the pack gives none"},
		{"aisle by aisle", calif, "warehouse_bulky", energycode.PartialOff, level(0, 60), open, "each aisle"},
		{"no sensor", code21, "corridor", energycode.PartialOff, func(f *energycode.Facts) { f.Loads[0].Vacant = nil }, not, "Let a presence sensor act on it"},
	} {
		l.run(t, classroom())
	}
	f := big(1000)
	f.Loads[0].Watts, f.Loads[1].Watts = 100, 300
	f.Loads[0].Vacant[0].Level, f.Loads[1].Vacant[0].Level = 100, 33
	a := answerOf(t, energycode.Judge(pack(t, old), "corridor", f), energycode.PartialOff)
	assert.Equal(t, meets, a.Verdict, "100 W and 99 W of 400 W are under half")
	f.Loads[1].Vacant[0].Level = 34
	assert.Equal(t, not, answerOf(t, energycode.Judge(pack(t, old), "corridor", f), energycode.PartialOff).Verdict, "100 W and 102 W are over it")
	f.Loads[1].WattsKnown = false
	assert.Equal(t, open, answerOf(t, energycode.Judge(pack(t, old), "corridor", f), energycode.PartialOff).Verdict)
}

func TestPartialOff_zonePower(t *testing.T) {
	f := classroom()
	f.Loads[0].Watts = 500
	// California 130.1(c)7: at most 500 W a zone, from memory.
	a := answerOf(t, energycode.Judge(pack(t, calif), "parking_garage", f), energycode.PartialOff)
	assert.Equal(t, meets, a.Verdict, a.Sentence())
	f.Loads[0].Watts = 501
	a = answerOf(t, energycode.Judge(pack(t, calif), "parking_garage", f), energycode.PartialOff)
	assert.Equal(t, not, a.Verdict)
	assert.Contains(t, a.Sentence(), "PS-1 act on 501 W, limit 500 W: 1 W over")
}

func TestSmallZones_openOffice(t *testing.T) {
	// IECC 2018 C405.2.1.3: zones of 600 ft2 (Californian code-change page 2022), over
	// 300 ft2, by 80 % within 20 min (from memory).
	for _, c := range []struct {
		area float64
		want energycode.Verdict
		says string
	}{
		{300, none, "300 sq ft"}, {301, meets, "1 zone here"}, {1199, meets, ""}, {1200, meets, "2 zones here"}, {1201, not, "3 needed"},
	} {
		a := answerOf(t, energycode.Judge(pack(t, code18), office, big(c.area)), energycode.SmallZones)
		assert.Equal(t, c.want, a.Verdict, "%g %s", c.area, a.Sentence())
		assert.Contains(t, a.Required+a.Provided+a.Sentence(), c.says)
	}
	for level, want := range map[units.Level]energycode.Verdict{19: meets, 20: meets, 20.1: not} {
		f := big(1200)
		f.Loads[1].Vacant[0].Level = level
		assert.Equal(t, want, answerOf(t, energycode.Judge(pack(t, code18), office, f), energycode.SmallZones).Verdict, level)
	}
	f := big(1200)
	f.Loads[1].Area = 0
	assert.Equal(t, open, answerOf(t, energycode.Judge(pack(t, code18), office, f), energycode.SmallZones).Verdict)
	uneven := big(1200)
	uneven.Loads[0].Area, uneven.Loads[1].Area = 601*ft2, 599*ft2
	a := answerOf(t, energycode.Judge(pack(t, code18), office, uneven), energycode.SmallZones)
	assert.Contains(t, a.Sentence(), "The zone under PS-1 has 601 sq ft, limit 600 sq ft: 1 sq ft over.")
	f = big(1200)
	f.Area = 0
	assert.Equal(t, open, answerOf(t, energycode.Judge(pack(t, code18), office, f), energycode.SmallZones).Verdict)
}

func TestJudge_wordsNeverPromiseMoreThanACheck(t *testing.T) {
	for _, p := range energycode.Packs() {
		for _, s := range p.Spaces {
			for _, a := range energycode.Judge(p, s.ID, night()) {
				text := strings.ToLower(a.Sentence() + a.Required + a.Provided + strings.Join(a.Notes(), " "))
				assert.NotContains(t, text, "compl"+"i", "%s %s", p.ID, s.ID)
				assert.NotContains(t, text, "%!")
			}
		}
	}
}

func TestJudge_kindOfSpaceNotChosen(t *testing.T) {
	list := energycode.Judge(pack(t, old), "", classroom())
	require.Len(t, list, 1)
	assert.Equal(t, open, list[0].Verdict)
	assert.Contains(t, list[0].Sentence(), "confirm or choose one")
	list = energycode.Judge(pack(t, "new-york-city-2020"), class, classroom())
	assert.Equal(t, open, list[0].Verdict, "single figures judge no room")
	assert.True(t, list[0].Open)
}

func TestAnswer_numbersAndMarks(t *testing.T) {
	f := classroom()
	after(1260)(f)
	a := answerOf(t, energycode.Judge(pack(t, fresh), class, f), energycode.FullOff)
	require.NotEmpty(t, a.Figures)
	assert.Equal(t, energycode.Figure{Name: "time to off", Measured: 21, Sign: energycode.AtMost, Limit: 20, Unit: "min"}, a.Figures[0])
	assert.InDelta(t, -1, a.Figures[0].Margin(), 1e-9)
	assert.InDelta(t, 2, energycode.Figure{Measured: 5, Sign: energycode.AtLeast, Limit: 3}.Margin(), 1e-9)
	assert.Equal(t, energycode.Seen, a.Mark())
	assert.Contains(t, a.MarkWords(), "seen in")
	a = answerOf(t, energycode.Judge(pack(t, old), class, f), energycode.FullOff)
	assert.Equal(t, energycode.Memory, a.Mark(), "one figure from memory makes the answer so")
	assert.Equal(t, "from memory, confirm against the adopted text", a.MarkWords())
	assert.Equal(t, "read in the adopted text: ordinance 12", energycode.Basis{Mark: energycode.FromText, Source: "ordinance 12"}.Words())
	assert.Equal(t, "read in the adopted text", energycode.Basis{Mark: energycode.FromText}.Words())
	for _, d := range energycode.Duties() {
		assert.NotEqual(t, string(d), d.Words())
	}
	for _, c := range energycode.Controls() {
		assert.True(t, c.Known())
		assert.NotEqual(t, string(c), c.Title())
	}
}

func TestJudge_claimChangesNoAnswer(t *testing.T) {
	f := classroom()
	f.Loads[0].Vacant = nil
	f.Claims = []energycode.Claim{{Control: energycode.FullOff, Words: "24/7 operation", Reason: "Dispatch room", Name: "A. Designer", Date: "2026-05-01"}}
	a := answerOf(t, energycode.Judge(pack(t, old), class, f), energycode.FullOff)
	assert.Equal(t, not, a.Verdict)
	require.NotNil(t, a.Claim)
	assert.Equal(t, "Exception claimed: 24/7 operation. Reason: Dispatch room (A. Designer, 2026-05-01).", a.Row().Exception)
}
