package energycode_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

// rooms are two classrooms of 1,000 ft2, one of which leaves light on the way out on.
func rooms() []energycode.Room {
	a, b := *classroom(), *night()
	a.Room, b.Room = "201", "202"
	a.Area, b.Area = 1000*ft2, 1000*ft2
	a.Loads[0].Watts, b.Loads[0].Watts = 700, 670
	return []energycode.Room{{ID: "a", Space: class, Facts: a}, {ID: "b", Space: class, Facts: b}}
}

func TestSum_building(t *testing.T) {
	s := energycode.Sum(pack(t, old), rooms())
	assert.InDelta(t, 2000*ft2, float64(s.Area), 1e-9)
	assert.InDelta(t, 20, float64(s.StayOn), 1e-9, "40 W at 50 %")
	assert.InDelta(t, 1410, float64(s.Installed), 1e-9)
	assert.InDelta(t, 1420, float64(s.Allowed), 1e-9, "0.71 W/ft2 twice")
	assert.Zero(t, s.Unknown)
	list := rooms()
	list[0].Space = ""
	list[1].Facts.Loads[0].WattsKnown = false
	s = energycode.Sum(pack(t, old), list)
	assert.Equal(t, 2, s.Unknown)
	assert.Zero(t, s.Installed)
}

func TestJudgeBuilding_sumsDecide(t *testing.T) {
	// 0.71 W/ft2 for classrooms (published lighting tables): 1,420 W in both.
	for w, want := range map[units.Watts]energycode.Verdict{679: meets, 680: meets, 681: not} {
		list := rooms()
		list[1].Facts.Loads[0].Watts = w
		r := energycode.JudgeBuilding(pack(t, old), list, units.US)
		assert.Equal(t, want, r.Building[0].Verdict, w)
	}
	over := rooms()
	over[0].Facts.Loads[0].Watts = 711
	over[1].Facts.Loads[0].Watts = 600
	r := energycode.JudgeBuilding(pack(t, old), over, units.US)
	a := last(r.Rooms[0].Answers)
	assert.Equal(t, meets, a.Verdict, "1 W over its own value, which the other room leaves")
	assert.Contains(t, r.Documents().Densities[0].Why, "1 W over this room's own value. Other rooms make up for it: 1351 W of ", "711 W + 600 W + the 40 W beside them")
	r = energycode.JudgeBuilding(pack(t, calif), rooms(), units.US)
	assert.Equal(t, open, r.Building[0].Verdict, "no densities in that pack")
}

func TestJudgeBuilding_lightThatStaysOn(t *testing.T) {
	// 9.4.1.1(h): 0.02 W/ft2 of the lighted area (control verification library): 40 W of 2,000 ft2.
	for level, want := range map[units.Level]energycode.Verdict{99: meets, 100: meets} {
		list := rooms()
		list[1].Facts.Loads[1].Vacant[0].Level = level
		r := energycode.JudgeBuilding(pack(t, fresh), list, units.US)
		assert.Equal(t, want, r.Building[1].Verdict, level)
		assert.Equal(t, energycode.LifeSafety, r.Building[1].Caution)
	}
	list := rooms()
	list[1].Facts.Loads[1].Watts, list[1].Facts.Loads[1].Vacant = 41, nil
	r := energycode.JudgeBuilding(pack(t, fresh), list, units.US)
	assert.Equal(t, not, r.Building[1].Verdict)
	assert.Contains(t, r.Building[1].Sentence(), "41 W stay lit in the empty building, limit 40 W: 1 W over.")
	a := answerOf(t, r.Rooms[1].Answers, energycode.FullOff)
	assert.Equal(t, not, a.Verdict, "the room's answer knows the building")
	list[0].Facts.Area = 0
	list[1].Facts.Loads[1].Watts = 20 // the limit of the 1,000 ft2 that are known
	r = energycode.JudgeBuilding(pack(t, fresh), list, units.US)
	assert.Equal(t, open, r.Building[1].Verdict, "the area of one room is missing")
	r = energycode.JudgeBuilding(pack(t, code21), rooms(), units.US)
	assert.Equal(t, open, r.Building[1].Verdict, "no figure")
	assert.True(t, r.Building[1].Open)
}

func TestJudgeBuilding_demandResponse(t *testing.T) {
	list := rooms()
	list[0].Facts.Loads[0].Watts, list[1].Facts.Loads[0].Watts = 2500, 2700
	p := pack(t, calif)
	// 110.12(c): 5,200 W in scope, at most 4,420 W during an event, from memory.
	for c, want := range map[units.Level]energycode.Verdict{85: meets, 84: meets, 85.1: not} {
		for i := range list {
			list[i].Facts.Loads[0].Event = &energycode.Event{Cap: c, By: "demand response intent 5"}
		}
		r := energycode.JudgeBuilding(p, list, units.US)
		require.Len(t, r.Building, 3)
		assert.Equal(t, want, r.Building[2].Verdict, c)
	}
	list[1].Facts.Loads[0].Watts = 1499 // 3,999 W: light on the way out is not in scope
	assert.Equal(t, none, energycode.JudgeBuilding(p, list, units.US).Building[2].Verdict)
	list[1].Facts.Loads[0].Watts = 1500
	for i := range list {
		list[i].Facts.Loads[0].Event = &energycode.Event{Cap: 85.1, By: "demand response intent 5"}
	}
	assert.Equal(t, not, energycode.JudgeBuilding(p, list, units.US).Building[2].Verdict, "4,000 W are enough, and 85.1 % is too much")
	list[1].Facts.Loads[0].WattsKnown = false
	list[1].Facts.Loads[0].Watts = 0
	assert.Equal(t, open, energycode.JudgeBuilding(p, list, units.US).Building[2].Verdict)
	assert.Len(t, energycode.JudgeBuilding(pack(t, old), list, units.US).Building, 2, "90.1-2019 asks for none")
}

func TestDocuments_tables(t *testing.T) {
	list := rooms()
	list[0].Facts.Claims = []energycode.Claim{{Control: energycode.Receptacles, Words: "safety", Reason: "Dispatch.", Name: "A. Designer"}}
	r := energycode.JudgeBuilding(pack(t, old), list, units.US)
	d := r.Documents()
	assert.Equal(t, energycode.Notice, d.Notice)
	assert.Contains(t, d.Notice, "Design aid only")
	assert.Equal(t, "ASHRAE 90.1 2019", d.Key)
	assert.Contains(t, d.State, "unconfirmed")
	require.Len(t, d.Rooms, 2)
	assert.Equal(t, "classroom, lecture, training", d.Rooms[0].Space)
	sum := d.Summary[0]
	assert.Equal(t, len(d.Rooms[0].Rows), sum.Meets+sum.DoesNotMeet+sum.CannotTell+sum.Open+sum.NotAsked)
	assert.Equal(t, []energycode.ClaimRow{{ID: list[0].ID, Room: list[0].Facts.Room, Check: "Controlled receptacles", Exception: "safety. Dispatch.", Name: "A. Designer", Verdict: meets}}, d.Claims)
	assert.Zero(t, sum.Claimed, "it is met anyhow")
	list[0].Facts.Receptacles.Controlled = 1
	r = energycode.JudgeBuilding(pack(t, old), list, units.US)
	assert.Equal(t, 1, r.Documents().Summary[0].Claimed)
	assert.Equal(t, not, r.Documents().Claims[0].Verdict, "the exception changes no answer")
	assert.Equal(t, d.Total.Meets, d.Summary[0].Meets+d.Summary[1].Meets)
	for _, table := range d.Rooms {
		for _, row := range table.Rows {
			assert.NotEmpty(t, row.Requirement)
			assert.NotEmpty(t, row.Clause, row.Requirement)
			assert.Contains(t, row.Mark, "confirm", row.Requirement)
			if row.Verdict == open || row.Verdict == not {
				assert.NotEmpty(t, row.Why, row.Requirement)
			}
			if row.Verdict == meets {
				assert.NotEmpty(t, row.Provided, row.Requirement)
			}
		}
	}
	first := d.Densities[0]
	assert.Equal(t, []string{"1000 sq ft", "0.71 W/ft2", "710 W", "700 W", "0.7 W/ft2"}, []string{first.Area, first.Allowed, first.Allowance, first.Installed, first.Density})
	assert.Equal(t, meets, first.Verdict)
	assert.Equal(t, "Table 9.6.1", first.Clause)
	assert.Equal(t, []string{"2000 sq ft", "1420 W", "1410 W"}, []string{d.Density.Area, d.Density.Allowance, d.Density.Installed})
	metric := energycode.JudgeBuilding(pack(t, old), list, units.SI)
	assert.Equal(t, "7.64 W/m2 (0.71 W/ft2)", metric.Documents().Densities[0].Allowed)
	assert.Equal(t, "92.9 m2", metric.Documents().Densities[0].Area)
}

func TestDocuments_roomWithoutAKindOfSpace(t *testing.T) {
	list := rooms()
	list[0].Space = ""
	r := energycode.JudgeBuilding(pack(t, old), list, units.US)
	d := r.Documents()
	assert.Equal(t, "not chosen", d.Rooms[0].Space)
	assert.Equal(t, open, d.Densities[0].Verdict)
	assert.Contains(t, d.Densities[0].Why, "kind of space")
	assert.Equal(t, open, d.Density.Verdict)
}

func TestNarrative_settings(t *testing.T) {
	list := rooms()
	list[0].Facts = *daylit()
	f := &list[0].Facts
	f.Loads[0].On = []energycode.AutoOn{{Level: 40, By: "PS-1, presence intent 1"}}
	f.Loads[0].Off = []energycode.Shutoff{{When: "22:00", Override: 7200, Spares: true, By: "schedule intent 4"}}
	f.Loads[1].Off = []energycode.Shutoff{{When: "22:00", By: "mode intent 5"}}
	f.Loads[0].Event = &energycode.Event{Cap: 80, By: "demand response intent 6"}
	r := energycode.JudgeBuilding(pack(t, code18), list, units.US)
	var text strings.Builder
	for _, l := range r.Narrative() {
		assert.NotEmpty(t, l.Subject)
		fmt.Fprintf(&text, "%s|%s|%s|%s|%s\n", l.Room, l.Subject, l.Text, l.Limit, l.Clause)
	}
	for _, want := range []string{
		"|Functional tests|Up to 7 occupant sensors each one is tested; beyond that at least 10 % of each pairing of sensor kind and room shape, and at least one; where 30 % or more of those fail, all of the pairing.||C408.3.1.1",
		"|Automatic on|L1: on at 40 % by PS-1, presence intent 1.|at most 50 %|C405.2.1.1",
		"|When empty|L1, L2 and L3: off 20 min after the last person's leaving by PS-1, presence intent 1.|at most 20 min|C405.2.1.1",
		"|By the clock|L1: off at 22:00 by schedule intent 4; a press brings it back for 2 h; it waits while people are in.|",
		"|By the clock|L2: off at 22:00 by mode intent 5; a press brings it back for good.|",
		"|Daylight|L1 and L2: 37.2 fc held together with daylight, down to 15 % and then off, by DS-1, daylight intent 3.|at most 15 %|C405.2.3",
		"|Demand response|L1: capped at 80 % of its level by demand response intent 6.||",
		"|Receptacles|Controlled receptacles: off 20 min after the last person's leaving by PS-1, receptacles intent 2.||",
		"202|Way out|L2: on the way out; life-safety rules come before energy rules.||",
		"202|When empty|L2: to 50 % 10 min after the last person's leaving by PS-1, presence intent 2.||",
		"202|By hand|People: ST-1.||",
	} {
		assert.Contains(t, text.String(), want)
	}
	assert.Contains(t, text.String(), "unconfirmed")
}

// The demo's rooms, with what is proposed for each, in every pack: all documents come
// out whole.
func TestDocuments_demoBuilding(t *testing.T) {
	s := demo.Scope()
	for _, p := range energycode.Packs() {
		list := demoRooms(t, p, s)
		r := energycode.JudgeBuilding(p, list, s.Project.Units)
		d := r.Documents()
		assert.Len(t, d.Rooms, len(s.Rooms))
		assert.Positive(t, d.Total.Meets, p.ID)
		assert.Positive(t, d.Total.DoesNotMeet, p.ID)
		assert.Positive(t, d.Total.CannotTell, p.ID)
		text := strings.ToLower(fmt.Sprintf("%+v", d))
		assert.NotContains(t, text, "compl"+"i")
		assert.NotContains(t, text, "%!")
		assert.NotContains(t, text, "(no tag)")
	}
}

func demoRooms(t testing.TB, p *energycode.Pack, s *domain.Scope) []energycode.Room {
	var out []energycode.Room
	for i := range s.Rooms {
		var typical *domain.Typical
		for k := range s.Typicals {
			if s.Typicals[k].ID == s.Rooms[i].TypicalID {
				typical = &s.Typicals[k]
			}
		}
		resolved, err := domain.Resolve(&s.Rooms[i], typical)
		require.NoError(t, err)
		f := energycode.FactsOf(&s.Project, resolved, energycode.Given{})
		out = append(out, energycode.Room{ID: resolved.ID, Space: p.Propose(resolved.Use, f.Area).Space, Facts: f})
	}
	return out
}
