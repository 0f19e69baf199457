package sheet_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/export/sheet"
	"scopewright/validate"
	"scopewright/validate/rule"
)

var update = flag.Bool("update", false, "write the golden sheets anew")

var today = time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)

// input wraps one room that a builder made.
func input(b *domaintest.Builder) sheet.Input {
	return inputOf(&domain.Scope{Project: *b.P, Rooms: []domain.Room{*b.R.Room}})
}

func inputOf(s *domain.Scope) sheet.Input {
	return sheet.Input{Scope: s, Issue: sheet.Issue{Date: "2026-03-01"},
		Findings: func(r *domain.Resolved) []rule.Finding { return validate.Room(&s.Project, r, today) }}
}

func open(t require.TestingT, in sheet.Input) *sheet.Content {
	c, err := sheet.Open(in, sheet.Only{})
	require.NoError(t, err)
	return c
}

// printed lists what sheets print.
func printed(sheets []sheet.Sheet) []string {
	return sheet.Document{Title: "t", Sheets: sheets}.Strings()
}

// builders of every kind of document that needs no renderer.
var builders = map[string]func(*sheet.Content) []sheet.Sheet{
	"scope": sheet.RoomScope, "installer": sheet.InstallerPage, "loads": sheet.LoadSchedule, "devices": sheet.DeviceSchedule,
	"bill": sheet.BillOfMaterials, "luminaires": sheet.LuminaireSchedule, "equipment": sheet.EquipmentAndLimits, "battery": sheet.BatteryPlan,
	"matrix": sheet.ControlMatrix, "scenes": sheet.SceneTable, "sequence": sheet.SequenceOfOperations, "findings": sheet.FindingsAndWaivers,
	"narrative": sheet.ControlNarrative, "tests": sheet.FunctionalTests, "points": sheet.PointsList, "av": sheet.AVCommands,
	"review": sheet.ReviewSheets, "circuits": sheet.PanelSchedule, "set": sheet.IssueSet, "plan": sheet.PlanSheets, "energy": sheet.EnergyUse, "code": sheet.EnergyCode, "survey": sheet.RadioAndSight, "daylight": sheet.Daylight, "calibration": sheet.Calibration,
}

func TestDocuments_golden(t *testing.T) {
	b := domaintest.Classroom()
	b.P.Name, b.P.Invented = "Invented school", true
	b.P.Checklist = domain.StartChecklist()[:8]
	b.Do(edit.AddScenario{Scenario: domain.Scenario{ID: "t1", Name: "Empty room goes dark", Day: "Tue", Steps: []domain.ScenarioStep{
		{ID: "a", Seq: 1, Happen: domain.Pressed, Device: "st", Button: 2}, {ID: "b", Seq: 2, At: 5, Happen: domain.Expect, Load: "l2", Level: 60},
		{ID: "c", Seq: 3, At: 60, Happen: domain.Vacant, Device: "ps"}, {ID: "d", Seq: 4, At: 1330, Happen: domain.Expect}}}})
	c := open(t, input(b))
	for _, name := range []string{"scope", "installer", "bill", "loads", "sequence", "narrative", "tests", "points", "circuits", "calibration"} {
		got := strings.Join(printed(builders[name](c)), "\n") + "\n"
		file := filepath.Join("testdata", name+".golden")
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
			continue
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err, "run the test with -update to write it")
		assert.Equal(t, string(want), got, "%s: if the change is meant, run with -update and read the difference", name)
	}
}

func TestDocuments_ofTheDemoArePrintable(t *testing.T) {
	s := demo.Scope()
	s.Project.Checklist = domain.StartChecklist()
	c := open(t, inputOf(s))
	for name, build := range builders {
		doc := sheet.Document{Title: name, Sheets: build(c)}
		assert.NoError(t, doc.Validate(), name)
		assert.NotContains(t, strings.Join(doc.Strings(), "\n"), "that is gone", name)
		for _, sh := range doc.Sheets {
			assert.Equal(t, domain.CautionFooter, sh.Head.Caution, "every page carries the caution")
			assert.True(t, sh.Head.Invented)
		}
	}
}

func TestDocuments_ofAnEmptyProjectArePrintable(t *testing.T) {
	c := open(t, sheet.Input{Scope: &domain.Scope{Project: domain.Project{Name: "Empty"}}})
	for name, build := range builders {
		sheets := build(c)
		if len(sheets) == 0 {
			continue // nothing to print for no rooms
		}
		assert.NoError(t, sheet.Document{Title: name, Sheets: sheets}.Validate(), name)
	}
}

func TestDocuments_hostileNamesStayOneSheetEach(t *testing.T) {
	s := &domain.Scope{Project: *domaintest.Project("SI")}
	for i, number := range []string{"101", "101", "", "../../x", strings.Repeat("9", 200), "Größe 7", "=1+1"} {
		s.Rooms = append(s.Rooms, domain.Room{ID: domain.ID(fmt.Sprint("r", i)), StoreyID: "s1", Number: number})
	}
	s.Rooms = append(s.Rooms, domain.Room{ID: "lost", StoreyID: "nowhere", Number: "101"})
	sheets := sheet.IssueSet(open(t, inputOf(s)))
	require.NoError(t, sheet.Document{Title: "t", Sheets: sheets}.Validate())
	seen := map[string]bool{}
	for _, sh := range sheets {
		assert.False(t, seen[sh.Number], "sheet number %s is used twice", sh.Number)
		seen[sh.Number] = true
	}
}

func TestOpen_namesARoomWhoseTypicalIsMissing(t *testing.T) {
	s := &domain.Scope{Project: *domaintest.Project("US"), Rooms: []domain.Room{{ID: "r", StoreyID: "s1", Number: "7", TypicalID: "gone"}}}
	_, err := sheet.Open(inputOf(s), sheet.Only{})
	assert.ErrorContains(t, err, "room 7")
}

func TestOpen_picksRoomsAndStoreys(t *testing.T) {
	s := demo.Scope()
	first := s.Rooms[0]
	c, err := sheet.Open(inputOf(s), sheet.Only{Rooms: []domain.ID{first.ID}})
	require.NoError(t, err)
	assert.Equal(t, 1, c.Rooms())
	assert.Contains(t, printed(sheet.LoadSchedule(c)), fmt.Sprintf("Holds 1 room picked out of %d; totals are of these.", len(s.Rooms)))
	c, err = sheet.Open(inputOf(s), sheet.Only{Storeys: []domain.ID{first.StoreyID}})
	require.NoError(t, err)
	want := 0
	for _, r := range s.Rooms {
		if r.StoreyID == first.StoreyID {
			want++
		}
	}
	assert.Equal(t, want, c.Rooms())
}

// draw makes a room of random devices, loads, links, scenes and intents.
func draw(t *rapid.T) *domaintest.Builder {
	b := domaintest.Room()
	types := equipment.Generic()
	for i := range rapid.IntRange(0, 8).Draw(t, "devices") {
		b.Device(domain.ID(fmt.Sprintf("d%d", i)), rapid.SampledFrom(types).Draw(t, "type").ID)
	}
	for i := range rapid.IntRange(0, 5).Draw(t, "loads") {
		id := domain.ID(fmt.Sprintf("l%d", i))
		if rapid.Bool().Draw(t, "receptacle") {
			b.Receptacle(id)
		} else {
			b.Load(id, rapid.SampledFrom([]domain.ID{"a", "b", "c", "s"}).Draw(t, "luminaire"), rapid.IntRange(0, 40).Draw(t, "count"))
		}
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "scenes") {
		b.Do(edit.AddScene{ID: domain.ID(fmt.Sprintf("s%d", i)), Name: fmt.Sprintf("Scene name %c", 'A'+i)})
	}
	for i := range rapid.IntRange(0, 8).Draw(t, "intents") {
		b.Do(edit.AddIntent{ID: domain.ID(fmt.Sprintf("i%d", i)), Kind: rapid.SampledFrom(domain.IntentKinds()).Draw(t, "kind")})
	}
	rows := domain.MatrixRows(b.P, &b.R.Design, true)
	for _, row := range rows {
		for i := range b.R.Design.Loads {
			cell := rapid.SampledFrom([]string{"", "ACT", "-", "SC1", "0", "50", "TGL", "UP", "DN", "LAST"}).Draw(t, "cell")
			if cell != "" {
				do, err := domain.ParseAction(cell)
				require.NoError(t, err)
				load := b.R.Design.Loads[i].ID
				b.R.Design.Links = append(b.R.Design.Links, domain.Link{ID: domain.LinkID(row.Device, row.Button, row.On, load),
					Device: row.Device, Button: row.Button, On: row.On, Load: load, Do: do})
			}
		}
	}
	require.NoError(t, b.R.Settle())
	return b
}

func TestRoomScope_printsEverythingOnceOrMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := draw(t)
		sheets := sheet.RoomScope(open(t, input(b)))
		require.NoError(t, sheet.Document{Title: "t", Sheets: sheets}.Validate())
		text := "\n" + strings.Join(printed(sheets), "\n") + "\n"
		d := &b.R.Design
		env := domain.Env{Project: b.P, Design: d}
		for _, x := range d.Devices {
			assert.Contains(t, text, "\n"+x.Tag+"\n")
		}
		for _, x := range d.Loads {
			assert.Contains(t, text, "\n"+x.Tag+"\n")
		}
		for _, x := range d.Scenes {
			assert.Contains(t, text, x.Name)
		}
		statements := statementsOf(sheets[0])
		for _, in := range d.Intents {
			sentence := statementOf(&in, env)
			twins := 0 // two intents may say the same; then the sentence stands twice
			for _, other := range d.Intents {
				if statementOf(&other, env) == sentence {
					twins++
				}
			}
			assert.Equal(t, twins, countOf(statements, sentence), "each intent is stated exactly once")
		}
		joined := strings.Join(statements, "\n")
		for _, row := range domain.MatrixRows(b.P, d, false) {
			if row.Kind.Traits().Buttons {
				assert.Contains(t, joined, fmt.Sprintf("button %d of ", row.Button), "each button is stated, alone or with its like")
			}
		}
		assert.LessOrEqual(t, len(statements), len(d.Intents)+buttonRows(b))
	})
}

// statementOf is an intent as a statement prints it.
func statementOf(in *domain.Intent, e domain.Env) string {
	return fmt.Sprintf("%s: %s Class %s, counts %s.", in.Kind.Title(), in.Sentence(e), in.Class(), in.Lasts(e))
}

func statementsOf(s sheet.Sheet) []string {
	var out []string
	for _, b := range s.Blocks {
		if st, ok := b.(sheet.Statements); ok {
			for _, i := range st.Items {
				out = append(out, i.Text)
			}
		}
	}
	return out
}

func countOf(list []string, want string) int {
	n := 0
	for _, s := range list {
		if s == want {
			n++
		}
	}
	return n
}

func buttonRows(b *domaintest.Builder) int {
	n := 0
	for _, row := range domain.MatrixRows(b.P, &b.R.Design, false) {
		if row.Kind.Traits().Buttons {
			n++
		}
	}
	return n
}

// find gives the table of that caption.
func find(t require.TestingT, sheets []sheet.Sheet, caption string) sheet.Table {
	for _, named := range (sheet.Document{Sheets: sheets}).Tables() {
		if named.Table.Caption == caption {
			return named.Table
		}
	}
	require.Fail(t, "no table "+caption)
	return sheet.Table{}
}

func column(t require.TestingT, table sheet.Table, title string) int {
	at := slices.IndexFunc(table.Columns, func(c sheet.Column) bool { return c.Title == title })
	require.GreaterOrEqual(t, at, 0, "no column %s", title)
	return at
}

func value(c sheet.Cell) float64 {
	if c.Number == nil {
		return 0
	}
	return *c.Number
}

// sumOf adds up the plain rows of a column, and gives its last total row.
func sumOf(t require.TestingT, table sheet.Table, title string) (sum, total float64) {
	at := column(t, table, title)
	for _, r := range table.Rows {
		switch {
		case r.Group:
		case r.Total:
			total = value(r.Cells[at])
		default:
			sum += value(r.Cells[at])
		}
	}
	return sum, total
}

func TestSchedules_agreeWithEachOtherAndWithTheDesign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := &domain.Scope{}
		devices, watts := 0, 0.0
		for i := range rapid.IntRange(1, 4).Draw(t, "rooms") {
			b := draw(t)
			s.Project = *b.P
			b.R.Room.ID, b.R.Room.Number = domain.ID(fmt.Sprint("r", i)), fmt.Sprint(100+i)
			s.Rooms = append(s.Rooms, *b.R.Room)
			devices += len(b.R.Design.Devices)
			for j := range b.R.Design.Loads {
				if l := &b.R.Design.Loads[j]; l.Kind == domain.Lighting {
					w, _, _ := l.Power(b.P)
					watts += float64(w)
				}
			}
		}
		c := open(t, inputOf(s))
		loads, bill, schedule := sheet.LoadSchedule(c), sheet.BillOfMaterials(c), sheet.DeviceSchedule(c)
		if watts > 0 {
			_, byLoad := sumOf(t, find(t, loads, "Loads"), "Power")
			assert.InDelta(t, watts, byLoad, 1e-6)
			_, byRoom := sumOf(t, find(t, loads, "Connected load by room"), "Lighting")
			assert.InDelta(t, watts, byRoom, 1e-6)
			byCircuit, _ := sumOf(t, find(t, loads, "Connected load by circuit"), "Lighting")
			assert.InDelta(t, watts, byCircuit, 1e-6)
		}
		if devices > 0 {
			sum, total := sumOf(t, find(t, bill, "Devices to order"), "Total")
			assert.Equal(t, float64(devices), sum)
			assert.Equal(t, sum, total)
			_, all := sumOf(t, find(t, schedule, "Counts by type"), "All types")
			assert.Equal(t, sum, all)
		}
		check := find(t, bill, "Check against the device schedule")
		assert.Equal(t, 0.0, value(check.Rows[2].Cells[1]), "the bill differs from the device schedule")
		assert.Equal(t, float64(devices), value(check.Rows[0].Cells[1]))
	})
}

// Worked by hand: 3 % of 1 is 0.03, of 33 is 0.99, of 34 is 1.02, of 100 is 3.
func TestBill_sparesRoundUp(t *testing.T) {
	for devices, want := range map[int]float64{1: 1, 33: 1, 34: 2, 100: 3, 101: 4} {
		b := domaintest.Room().Devices(devices, "ps-ceiling")
		bill := find(t, sheet.BillOfMaterials(open(t, input(b))), "Devices to order")
		row := bill.Rows[0]
		assert.Equal(t, want, value(row.Cells[column(t, bill, "Spares")]), "%d devices", devices)
		assert.Equal(t, want+float64(devices), value(row.Cells[column(t, bill, "To order")]))
	}
}

// I = P/(V pf): 6 luminaires of 38 W at 277 V and 0.95 take 228 W and 0.866 A.
func TestLoadSchedule_wattsAndAmperes(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 6)
	table := find(t, sheet.RoomScope(open(t, input(b))), "Loads")
	row := table.Rows[0]
	assert.Equal(t, 228.0, value(row.Cells[column(t, table, "Power")]))
	assert.InDelta(t, 228/(277*0.95), value(row.Cells[column(t, table, "Current")]), 1e-9)
	assert.Equal(t, "0.87", row.Cells[column(t, table, "Current")].String())
	assert.Equal(t, "6 x A", row.Cells[column(t, table, "Luminaires")].String())
}

func TestLoadSchedule_densityIsWattsOverArea(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 6)
	b.R.Room.Area = 40 // 430.556 ft2
	table := find(t, sheet.LoadSchedule(open(t, input(b))), "Connected load by room")
	assert.Equal(t, "W/ft2", table.Columns[column(t, table, "Per area")].Unit)
	assert.InDelta(t, 228/430.5564, value(table.Rows[0].Cells[column(t, table, "Per area")]), 1e-4)
}

func TestBatteryPlan_addsTheLifeToTheDayOfFitting(t *testing.T) {
	b := domaintest.Room().Device("st", "st-4-battery").Device("ps", "ps-ceiling").Set("devices/st/fitted", "2024-02-29")
	plan := find(t, sheet.BatteryPlan(open(t, input(b))), "Battery devices")
	at := column(t, plan, "Replace by")
	assert.Equal(t, "2029-03-01", plan.Rows[1].Cells[at].String(), "5 years, and 2029 has no February 29")
	assert.Equal(t, "after 10 years", plan.Rows[2].Cells[at].String())
	due := find(t, sheet.BatteryPlan(open(t, input(b))), "Cells by year")
	assert.Equal(t, "2029", due.Rows[0].Cells[0].String())
	assert.Equal(t, "not fitted yet", due.Rows[1].Cells[0].String())
}

func TestNumbersOnPaper_haveNoNoise(t *testing.T) {
	c := open(t, inputOf(demo.Scope()))
	for name, build := range builders {
		for _, named := range (sheet.Document{Sheets: build(c)}).Tables() {
			for _, r := range named.Table.Rows {
				for i, cell := range r.Cells {
					if cell.Number != nil {
						assert.False(t, math.IsNaN(*cell.Number))
					}
					if !r.Total && !r.Group && named.Table.Caption != "Changes by room" {
						assert.NotEmpty(t, cell.String(), "%s: blank cell in %s, column %s", name, named.Name, named.Table.Columns[i].Title)
					}
				}
			}
		}
	}
}
