package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/export/sheet"
)

// onPanel gives a school of rooms whose only load is so many luminaires of a
// type on a circuit.
func onPanel(rows ...domain.Load) *domain.Scope {
	s := &domain.Scope{Project: *domaintest.Project("US")}
	for i, l := range rows {
		l.ID, l.Tag, l.Kind = "l1", "L1", domain.Lighting
		id := domain.ID("r" + string(rune('a'+i)))
		s.Rooms = append(s.Rooms, domain.Room{ID: id, StoreyID: "s1", Number: string(id[1:]), Design: domain.Design{Loads: []domain.Load{l}}})
	}
	return s
}

// printedRow gives the printed cells of the row that starts with a text.
func printedRow(t *testing.T, sheets []sheet.Sheet, first string) []string {
	t.Helper()
	for _, table := range (sheet.Document{Sheets: sheets}).Tables() {
		for _, row := range table.Table.Rows {
			var cells []string
			for _, c := range row.Cells {
				cells = append(cells, c.String())
			}
			if strings.TrimSpace(cells[0]) == first && !row.Group {
				return cells
			}
		}
	}
	require.Fail(t, "no row "+first)
	return nil
}

// 38 W at power factor 0.95: 48 at 120 V draw 16.0000 A, 1920 VA, all of the 80 %
// of 20 A; 111 at 277 V draw 16.0289 A, 4440 VA (I = P/(V pf); 80 %: NEC 210.20(A)).
func TestPanelSchedule_sumsOverRooms(t *testing.T) {
	s := onPanel(domain.Load{Luminaire: "b", Count: 30, Circuit: "LP2-10"}, domain.Load{Luminaire: "b", Count: 18, Circuit: "lp2-10"},
		domain.Load{Luminaire: "a", Count: 100, Circuit: "LP1-3"}, domain.Load{Luminaire: "a", Count: 11, Circuit: "LP1-3"},
		domain.Load{Luminaire: "b", Count: 1, Circuit: "LP2-9"}, domain.Load{Luminaire: "a", Count: 2})
	s.Project.Circuits = []domain.Circuit{{ID: "k1", Seq: 1, Name: "LP1-3", Breaker: 20, Trip: domain.TripD, Notes: "by the stair"}}
	sheets := sheet.PanelSchedule(open(t, inputOf(s)))
	require.NoError(t, sheet.Document{Title: "t", Sheets: sheets}.Validate())

	full := printedRow(t, sheets, "LP2-10")
	assert.Equal(t, []string{"a: L1; b: L1", "1824", "120", "1920", "16.00", "20", "100.0"}, full[1:8])
	assert.Equal(t, "breaker and trip assumed", full[9])
	over := printedRow(t, sheets, "LP1-3")
	assert.Equal(t, []string{"c: L1; d: L1", "4218", "277", "4440", "16.03", "20"}, over[1:7])
	assert.Contains(t, over[7], "100.2")
	assert.Equal(t, "111 of 283", over[8], "root 2 x 1 x 10 x 20 A (IEC 60898, D, from memory)")
	assert.Equal(t, "trip D; by the stair", over[9])
	assert.Equal(t, "L1", printedRow(t, sheets, "f")[1], "a load that names no circuit")

	text := strings.Join(printed(sheets), "\n")
	assert.Less(t, strings.Index(text, "LP1-3"), strings.Index(text, "LP2-9"))
	assert.Less(t, strings.Index(text, "LP2-9"), strings.Index(text, "LP2-10"), "in the order in which people count")
	assert.Contains(t, text, "licensed electrician decides")
}

// 25 W at power factor 0.9 are 27.8 VA: three circuits of 28 VA each as printed are
// 84 VA, not the 83 of the sum before rounding.
func TestPanelSchedule_totalIsTheSumOfWhatIsPrinted(t *testing.T) {
	one := func(circuit string) domain.Load { return domain.Load{Luminaire: "s", Count: 1, Circuit: circuit} }
	sheets := sheet.PanelSchedule(open(t, inputOf(onPanel(one("LP1-1"), one("LP1-3"), one("LP1-5")))))
	for _, circuit := range []string{"LP1-1", "LP1-3", "LP1-5"} {
		assert.Equal(t, "28", printedRow(t, sheets, circuit)[4])
	}
	assert.Equal(t, "84", printedRow(t, sheets, "Total")[4])
}

func TestPanelSchedule_whatIsNotKnownIsSaid(t *testing.T) {
	s := onPanel(domain.Load{Watts: 100, Circuit: "7"}, domain.Load{Luminaire: "a", Count: 2, Circuit: "LP1-1"}, domain.Load{Luminaire: "b", Count: 2, Circuit: "LP1-1"})
	s.Project.Luminaire("a").InrushPeak = 0
	sheets := sheet.PanelSchedule(open(t, inputOf(s)))
	lost := printedRow(t, sheets, "7")
	assert.Equal(t, "not stated", lost[3])
	assert.Equal(t, "0 + 1 unknown", lost[5])
	assert.Equal(t, "not checked", lost[8])
	mixed := printedRow(t, sheets, "LP1-1")
	assert.Contains(t, mixed[3], "120 and 277")
	assert.Contains(t, mixed[8], "1 load not checked")
	assert.Contains(t, strings.Join(printed(sheets), "\n"), "No panel named")
}
