package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/energycode"
	"scopewright/export/sheet"
	"scopewright/validate/rule"
)

// A worksheet of the project is printed by its title and its own figures.
func TestEnergyCode_byAWorksheet(t *testing.T) {
	s := daylit(40)
	w := domain.CodeWorksheet{ID: "ws", Seq: 1, Title: "Harbor amendments", Base: "ashrae-90.1-2019", Amendments: "chapter 14"}
	require.NoError(t, energycode.SetRow(&w, domain.CodeChange{Kind: domain.DensityRow, Space: "classroom_lecture_training", Value: 0.41, Clause: "14.3", Mark: "read", Source: "page 7"}))
	s.Project.Worksheets, s.Project.CodePack = []domain.CodeWorksheet{w}, "ws"
	sheets := codeOf(t, s)
	text := textOf(sheets)
	for _, want := range []string{`ASHRAE 90.1 2019, chapter 14, worksheet "Harbor amendments"`, "Unconfirmed", "read in the adopted text: page 7"} {
		assert.Contains(t, text, want)
	}
	// 0.41 x 1162.5 ft2 = 476.6 W under the 480 W installed (arithmetic).
	row := rowsOf(find(t, sheets, "Lighting power, space method"))[0]
	assert.Equal(t, []string{"0.41 W/ft2", "476.6 W", "480 W", "0.413 W/ft2", "does not meet this check"}, row[3:8])
	s.Project.Worksheets[0].Confirmed = "A. Reader, 2026-03-01"
	assert.Contains(t, textOf(codeOf(t, s)), "Confirmed by A. Reader, 2026-03-01")
}

// One room by itself has its own sheet; what is said of the building is still of all rooms.
func TestEnergyCode_ofOneRoom(t *testing.T) {
	s := demo.Scope()
	whole := codeOf(t, s)
	c, err := sheet.Open(inputOf(s), sheet.Only{Rooms: []domain.ID{"room-201"}})
	require.NoError(t, err)
	one := sheet.EnergyCode(c)
	require.Len(t, one, 1)
	assert.Equal(t, "EL-619-02-201", one[0].Number)
	assert.Contains(t, one[0].Title, "201")
	assert.Equal(t, rowsOf(find(t, whole, "Building")), rowsOf(find(t, one, "Building")))
	summary := find(t, one, "Answers by room")
	require.Len(t, summary.Rows, 2)
	total, _ := lastRow(find(t, whole, "Answers by room"))
	again, _ := lastRow(summary)
	assert.Equal(t, total[3:], again[3:])
	assert.Contains(t, again[0], "rooms of the project")
	text := textOf(one)
	assert.Contains(t, text, "Holds 1 room picked out of")
	for i := range s.Rooms {
		if r := &s.Rooms[i]; r.ID != "room-201" {
			assert.NotContains(t, text, r.Label())
		}
	}
	assert.Less(t, len(find(t, one, "Controls narrative").Rows), len(find(t, whole, "Controls narrative").Rows))
}

func lastRow(t sheet.Table) ([]string, bool) {
	all := rowsOf(t)
	return all[len(all)-1], t.Rows[len(t.Rows)-1].Total
}

// The key under the tables says the verdicts, not severities of findings.
func TestEnergyCode_keySaysTheVerdicts(t *testing.T) {
	for _, table := range []string{"Checks by room", "Answers by room"} {
		for _, m := range find(t, codeOf(t, demo.Scope()), table).Marks() {
			assert.Contains(t, []string{string(energycode.DoesNotMeet), string(energycode.CannotTell)}, m.Meaning())
			assert.Contains(t, []string{"x", "(?)"}, m.Symbol())
		}
	}
}

// Settings that codes want handed over stand in the account, each with the code's figure
// where it asks for one.
func TestEnergyCode_narrativeHasTheSettings(t *testing.T) {
	table := find(t, codeOf(t, demo.Scope()), "Controls narrative")
	subjects := map[string]bool{}
	for _, r := range table.Rows {
		if !r.Group {
			subjects[r.Cells[0].Text] = true
			assert.NotContains(t, r.Cells[1].Text, "%!")
		}
	}
	for _, want := range []string{"Code", "Papers", "Order of commands", "When empty", "Daylight", "By hand", "Levels by hand", "By the clock", "Demand response", "Way out", "Receptacles", "Automatic on"} {
		assert.True(t, subjects[want], "%s is missing of %v", want, subjects)
	}
}

// A waived finding of the family is an exception that a person claims.
func TestEnergyCode_printsClaims(t *testing.T) {
	s := daylit(40)
	in := inputOf(s)
	in.Findings = func(r *domain.Resolved) []rule.Finding {
		return []rule.Finding{{Rule: "energycode-full-off", Waiver: &domain.Waiver{Reason: "Lights the way in at night", Name: "A. Designer", Date: "2026-03-01"}}}
	}
	c, err := sheet.Open(in, sheet.Only{})
	require.NoError(t, err)
	row := codeRow(t, sheet.EnergyCode(c), "Automatic off when empty")
	assert.Contains(t, row[4].Text, "Exception claimed. Reason: Lights the way in at night (A. Designer, 2026-03-01).")
	list := rowsOf(find(t, sheet.EnergyCode(c), "Exceptions claimed"))
	require.Len(t, list, 1)
	assert.Equal(t, []string{"Lights the way in at night", "A. Designer", "2026-03-01"}, list[0][3:])
}

// The scope sheet says by which kind of space the room is judged, and whether that is
// only proposed.
func TestRoomScope_namesTheKindOfSpace(t *testing.T) {
	s := daylit(40)
	print := func() string { return strings.Join(strings.Fields(textOf(sheet.RoomScope(open(t, inputOf(s))))), " ") }
	assert.Contains(t, print(), "Kind of space classroom, lecture, training (proposed)")
	s.Rooms[0].Space, s.Rooms[0].Outlets = "laboratory", 11
	assert.Contains(t, print(), "Kind of space laboratory, not a classroom")
	assert.Contains(t, print(), "Receptacles 11")
}

// A copy room of the demo claims an exception and is not met in one more check; the open
// office is over its own watts, which other rooms make up for: 3,100 W installed, and
// 4,000 ft2 at 0.61 W/ft2 allowed (published lighting tables; arithmetic).
func TestEnergyCode_countsClaimsAndSaysWhatIsOver(t *testing.T) {
	sheets := codeOf(t, demo.Scope())
	row := func(table, room string) []string {
		for _, r := range rowsOf(find(t, sheets, table)) {
			if strings.HasPrefix(r[0], room+" ") {
				return r
			}
		}
		require.Fail(t, "no row", "%s of %s", room, table)
		return nil
	}
	assert.Equal(t, []string{"2", "1"}, row("Answers by room", "113")[4:6])
	assert.Equal(t, "A. Designer", row("Exceptions claimed", "316")[4])
	over := row("Lighting power, space method", "301")
	assert.Equal(t, "meets this check", over[7])
	assert.Contains(t, over[8], "660 W over this room's own value. Other rooms make up for it")
}

// The list of claims holds those of the rooms that are printed; sums are of all rooms.
func TestEnergyCode_claimsOfOneRoom(t *testing.T) {
	c, err := sheet.Open(inputOf(demo.Scope()), sheet.Only{Rooms: []domain.ID{"room-316"}})
	require.NoError(t, err)
	list := rowsOf(find(t, sheet.EnergyCode(c), "Exceptions claimed"))
	require.Len(t, list, 1)
	assert.Contains(t, list[0][0], "316")
}
