package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/export/sheet"
)

func textOf(sheets []sheet.Sheet) string { return strings.Join(printed(sheets), "\n") }

// rowsOf gives a table's rows as texts by the first column.
func rowsOf(table sheet.Table) [][]string {
	var out [][]string
	for _, r := range table.Rows {
		var row []string
		for _, c := range r.Cells {
			row = append(row, strings.ReplaceAll(c.String(), "\u00a0", " "))
		}
		out = append(out, row)
	}
	return out
}

func TestSequence_printsTheProjectsOrderOfPriority(t *testing.T) {
	b := domaintest.Classroom()
	assert.Contains(t, textOf(sheet.SequenceOfOperations(open(t, input(b)))), "emergency, demand response, manual, schedule, occupancy, daylight.")
	require.NoError(t, b.P.MoveClass(domain.ClassSchedule, -1))
	for _, build := range []func(*sheet.Content) []sheet.Sheet{sheet.SequenceOfOperations, sheet.RoomScope} {
		assert.Contains(t, textOf(build(open(t, input(b)))), "emergency, demand response, schedule, manual, occupancy, daylight.")
	}
}

func TestSequence_printsClockAndPlaceWhereTheyAreUsed(t *testing.T) {
	b := domaintest.Classroom()
	north, east := 48.2, 16.4
	b.P.Zone, b.P.Latitude, b.P.Longitude = "Europe/Vienna", &north, &east
	b.P.Calendar, b.P.Holidays = []string{"Mon-Fri 07:00 normal", "Mon-Sun sunset+00:30 after hours"}, []string{"2026-12-25 Winter closing"}
	assert.NotContains(t, textOf(sheet.SequenceOfOperations(open(t, input(b)))), "Vienna", "nothing in this room goes by the clock")
	b.Intent("s", domain.BySchedule)
	text := textOf(sheet.SequenceOfOperations(open(t, input(b))))
	assert.Contains(t, text, "Europe/Vienna")
	assert.Contains(t, text, "2026-12-25\nWinter closing")
	assert.NotContains(t, text, "48.2", "no time by the sun")
	assert.NotContains(t, text, "Calendar of modes", "no mode is used")
	b.Do(edit.AddIntent{ID: "m", Kind: domain.OnMode})
	text = textOf(sheet.SequenceOfOperations(open(t, input(b))))
	assert.Contains(t, text, "Calendar of modes")
	assert.Contains(t, text, "Mon-Sun\nsunset+00:30\nafter hours")
	assert.Contains(t, text, "latitude 48.2, longitude 16.4 degrees", "the calendar goes by the sun")
	scope := textOf(sheet.RoomScope(open(t, input(b))))
	assert.Contains(t, scope, "Calendar of modes")
	assert.NotContains(t, scope, "Winter closing", "a new year's list must not unsign rooms")
}

func TestSequence_buttonsSayTheStateOfThePartition(t *testing.T) {
	b := domaintest.Classroom().Link("st", 1, domain.Press, "l1", "SC1 @open").Link("st", 1, domain.Press, "l2", "50 @closed")
	statement := statementsOf(sheet.SequenceOfOperations(open(t, input(b)))[0])[0]
	assert.Contains(t, statement, `recalls scene 1 "Teach" on L1 while the partition is open, sets L2 to 50 % while the partition is closed`)
}

func TestMatrix_statesTheNewEvents(t *testing.T) {
	b := domaintest.Classroom().Device("cn", "cn-2").
		Intent("mode", domain.OnMode).Intent("em", domain.OnEmergency).Intent("net", domain.OnNetworkLoss).Intent("join", domain.ByContact).
		Set("intents/mode/do", "lock", "intents/mode/loads", "L1, L2", "intents/net/level", "40", "intents/net/loads", "L4", "intents/net/modes", "event",
			"intents/join/device", "CN-1", "intents/join/do", "partition open")
	table := find(t, sheet.RoomScope(open(t, input(b))), "Control matrix")
	got := map[string][]string{}
	for _, row := range rowsOf(table) {
		got[row[0]] = row[1:]
	}
	assert.Equal(t, []string{"LOCK 100", "LOCK 100", "–", "–", "–"}, got["Mode becomes cleaning"][:5])
	assert.Equal(t, []string{"LOCK 100", "LOCK 100", "LOCK 100", "LOCK 100", "–"}, got["Emergency signal"][:5])
	assert.Equal(t, []string{"–", "–", "–", "40 IF", "–"}, got["Network lost"][:5])
	require.NotNil(t, got["CN-1  input 1, closed, joins the room"])
	for name, row := range got {
		if id := row[len(row)-1]; strings.HasPrefix(name, "Mode") || strings.HasPrefix(name, "Emergency") || strings.HasPrefix(name, "Network") {
			assert.Regexp(t, `^Q\d+$`, id)
		}
	}
	assert.Contains(t, table.Note, "LOCK locked at this level")
	assert.Contains(t, table.Note, "IF only under the condition in the statement")
	assert.NotContains(t, table.Note, "HOLD ")
}

func TestSceneTable_namesTheModeThatRecallsAScene(t *testing.T) {
	b := domaintest.Classroom().Intent("mode", domain.OnMode).Set("intents/mode/scene", "2")
	rows := rowsOf(find(t, sheet.RoomScope(open(t, input(b))), "Scenes"))
	assert.Regexp(t, `^ST-1 button 2, Q\d+$`, rows[1][len(rows[1])-1])
}

// Each intent of the rooms of a paragraph stands in it exactly once.
func TestNarrative_tellsEachIntentOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := draw(t)
		d, e := &b.R.Design, domain.Env{Project: b.P, Design: &b.R.Design}
		text := textOf(sheet.ControlNarrative(open(t, input(b))))
		told := map[string]int{}
		for i := range d.Intents {
			told[d.Intents[i].Narrative(e)]++
		}
		sum := 0
		for sentence, n := range told {
			others := 0 // a sentence may stand within a longer one
			for other, m := range told {
				if other != sentence && strings.Contains(other, sentence) {
					others += m
				}
			}
			assert.Equal(t, n+others, strings.Count(text, sentence), sentence)
			sum += n
		}
		assert.Equal(t, len(d.Intents), sum)
	})
}

func TestNarrative_roomsOfLikeSequenceShareAParagraph(t *testing.T) {
	s := demo.Scope()
	c := open(t, inputOf(s))
	text := textOf(sheet.ControlNarrative(c))
	assert.Contains(t, text, s.Project.Brief)
	assert.Contains(t, text, "Classroom\n8 rooms: 201, 202, 203, 204, 205, 206, 207, 208\n")
	designed := 0
	for i := range s.Rooms {
		r, err := s.Resolve(&s.Rooms[i])
		require.NoError(t, err)
		if len(r.Design.Intents) > 0 {
			designed++
			assert.Regexp(t, `(?m)^(Room|\d+ rooms:).*\b`+r.Number+`\b`, text)
		}
	}
	assert.NotRegexp(t, `(?i)\b(sensor|station|controller|gateway)s?\b`, text)
	require.Positive(t, designed)
}

// Each statement has a test line of its number, or a scenario that exercises it.
func TestFunctionalTests_everyStatementIsTested(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := draw(t)
		if len(b.R.Design.Loads) == 0 {
			return
		}
		sheets := sheet.FunctionalTests(open(t, input(b)))
		lines := map[string]int{}
		for _, named := range (sheet.Document{Sheets: sheets}).Tables() {
			for _, row := range rowsOf(named.Table) {
				lines[row[0]]++
				assert.NotContains(t, strings.Join(row, " "), "%!")
			}
		}
		for _, st := range sheet.RoomScope(open(t, input(b)))[0].Blocks {
			if list, ok := st.(sheet.Statements); ok {
				for i, item := range list.Items {
					if id := list.StatementID(i); strings.HasPrefix(id, "Q") {
						assert.Equal(t, 1, lines[id], "%s %s", id, item.Text)
					}
				}
			}
		}
	})
}

func TestFunctionalTests_printAScenarioAsSteps(t *testing.T) {
	b := domaintest.Classroom().Do(edit.AddScenario{Scenario: domain.Scenario{ID: "t1", Name: "Night", Day: "Fri", Start: "23:50", Steps: []domain.ScenarioStep{
		{ID: "a", Seq: 1, Happen: domain.Pressed, Device: "st", Button: 2}, {ID: "b", Seq: 2, At: 900, Happen: domain.Expect, Load: "l2", Level: 60},
		{ID: "c", Seq: 3, At: 8000, Happen: domain.Expect}, {ID: "d", Seq: 4, At: 5, Happen: domain.Vacant, Device: "ps"}}}})
	s := sheet.FunctionalTests(open(t, input(b)))[0]
	assert.True(t, s.Landscape)
	var steps sheet.Table
	for _, named := range (sheet.Document{Sheets: []sheet.Sheet{s}}).Tables() {
		if named.Table.Columns[0].Title == "Step" {
			steps = named.Table
		}
	}
	rows := rowsOf(steps)
	require.Len(t, rows, 4)
	assert.Equal(t, []string{"1", "23:50:00", "start", "ST-1 button 2 Present is pressed", "–"}, rows[0][:5])
	assert.Equal(t, []string{"2", "23:50:05", "+5 s", "PS-1 reports vacant", "–"}, rows[1][:5])
	assert.Equal(t, []string{"3", "00:05:00 +1 d", "+15 min", "–", "L2 at 60 % (55 % to 65 %)"}, rows[2][:5])
	assert.Equal(t, []string{"4", "02:03:20 +1 d", "+2 h 13 min 20 s", "–", "All lighting loads at 0 % (dark)"}, rows[3][:5])
	text := textOf([]sheet.Sheet{s})
	assert.Contains(t, text, "Exercises\nQ2, Q5, Q6, Q8", "the press, by hand, presence, receptacles")
	for _, want := range []string{"Tested by", "Witnessed by", "Instrument", "Calibrated on", "Sky", "Blinds", "Furniture in", "Statements that no scenario exercises"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "\nQ2\nPeople in", "what a scenario exercises needs no other line")
}

func TestFunctionalTests_schedulesCountOnTheirDays(t *testing.T) {
	for day, want := range map[string]bool{"Fri": true, "Sat": false, "2026-03-06": true, "2026-03-07": false, "": true} {
		b := domaintest.Classroom().Intent("s", domain.BySchedule).Set("intents/s/days", "Mon-Fri").Do(edit.AddScenario{Scenario: domain.Scenario{ID: "t1", Name: "N", Day: day, Start: "21:50", Steps: []domain.ScenarioStep{
			{ID: "a", Seq: 1, At: 1200, Happen: domain.Expect}}}})
		text := textOf(sheet.FunctionalTests(open(t, input(b))))
		assert.Equal(t, want, strings.Contains(text, "Exercises\nQ8"), "on %q", day)
	}
}

func TestPoints_areWhatTheRoomHas(t *testing.T) {
	b := domaintest.Classroom().Intent("dr", domain.OnDemandResponse).Intent("s", domain.BySchedule).Set("loads/l4/egress", "yes")
	points := map[string][]string{}
	for _, row := range rowsOf(find(t, sheet.PointsList(open(t, input(b))), "Points")) {
		assert.Nil(t, points[row[1]], "%s stands twice", row[1])
		points[row[1]] = row
	}
	names := func() (out []string) {
		for name := range points {
			out = append(out, name)
		}
		return out
	}()
	assert.ElementsMatch(t, []string{"101.presence", "101.L1.level", "101.L2.level", "101.L3.level", "101.L4.level", "101.R1.live", "101.scene", "101.DS-1.daylight", "101.override", "101.demand", "101.fault", "101.battery"}, names)
	assert.Equal(t, []string{"analog output", "%", "0, 10 to 100", "R/W", "8"}, points["101.L1.level"][3:8], "type A dims to 10 %")
	assert.Equal(t, "R", points["101.L4.level"][6], "egress lighting is read only")
	assert.Equal(t, "binary value", points["101.R1.live"][3])
	assert.Equal(t, "1 none of them, 2 scene 1 Teach, 3 scene 2 Present", points["101.scene"][5])
	assert.Equal(t, "0 to 120", points["101.override"][5], "2 h of override")
	assert.Equal(t, "occupied", points["101.presence"][10], "fails to light")
	assert.Contains(t, points["101.battery"][2], "PS-1 or DS-1")
	assert.NotContains(t, names, "101.mode", "no intent speaks of a mode")
}

func TestPoints_withoutAGatewayThereAreNone(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 2).Device("lc", "lc-1")
	text := textOf(sheet.PointsList(open(t, input(b))))
	assert.Contains(t, text, "No room has a gateway")
	assert.Contains(t, text, "No points, for want of a gateway: 101.")
	assert.Regexp(t, `No points, for want of a gateway: [^\n]*\b102\b`, textOf(sheet.PointsList(open(t, inputOf(demo.Scope())))))
}

func TestCommands_sayWhatEachLoadDoes(t *testing.T) {
	b := domaintest.Classroom()
	assert.Contains(t, textOf(sheet.AVCommands(open(t, input(b)))), "No room has an AV interface")
	b.Intent("down", domain.ByAV).Set("intents/down/command", "screen down", "intents/down/scene", "2", "intents/down/loads", "L1, L2")
	assert.Contains(t, textOf(sheet.AVCommands(open(t, input(b)))), "no AV interface to bring them in: 101")
	b.Device("av", "av-serial").Intent("up", domain.ByAV).Set("intents/up/command", "screen up", "intents/up/do", "back", "intents/up/partition", "open")
	rows := rowsOf(find(t, sheet.AVCommands(open(t, input(b))), "Commands"))
	require.Len(t, rows, 2)
	assert.Equal(t, []string{"101", "AV-1", "screen down", `recalls scene 2 "Present" in the scene's own fades`, "L1 0 %, L2 60 %", "–"}, rows[0][:6])
	assert.Equal(t, []string{"101", "AV-1", "screen up", "back to the levels before the last command in 4 s", "all lighting loads", "only while the partition is open"}, rows[1][:6])
	assert.Contains(t, rows[0][7], "a command that goes back then leads here", "the room keeps the levels before the last command")
	assert.Contains(t, rows[1][7], "nothing more")
}
