package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/export/sheet"
)

// matrixOf reads the control matrix of a room by row names and load titles.
func matrixOf(t *testing.T, b *domaintest.Builder) map[string]map[string]string {
	t.Helper()
	table := find(t, sheet.RoomScope(open(t, input(b))), "Control matrix")
	out := map[string]map[string]string{}
	for _, r := range table.Rows {
		row := map[string]string{}
		for i, c := range r.Cells[1:] {
			row[strings.Fields(table.Columns[i+1].Title)[0]] = c.Mark.Symbol() + strings.ReplaceAll(c.String(), "\u00a0", " ")
		}
		out[r.Cells[0].String()] = row
	}
	return out
}

// The classroom as domaintest describes it: vacancy sensor, manual on.
func TestMatrix_ofTheClassroom(t *testing.T) {
	m := matrixOf(t, domaintest.Classroom())
	assert.Equal(t, "SC1", m["ST-1  1 Teach"]["L1"])
	assert.Equal(t, "–", m["ST-1  1 Teach"]["R1"])
	assert.Equal(t, "DN", m["ST-1  3 Dim"]["L2"])
	assert.Equal(t, "0", m["ST-1  4 Off"]["L3"])
	assert.Equal(t, "ENA", m["PS-1  occupied"]["L1"], "a vacancy sensor lights nothing")
	assert.Equal(t, "ON", m["PS-1  occupied"]["R1"])
	assert.Equal(t, "WARN 0", m["PS-1  vacant for 20 min"]["L1"])
	assert.Equal(t, "OFF", m["PS-1  vacant for 20 min"]["R1"])
	assert.Equal(t, "TRIM", m["DS-1  reading"]["L3"])
	assert.Equal(t, "–", m["DS-1  reading"]["L1"])
	assert.Equal(t, "LAST", m["Power back"]["L1"])
	assert.Equal(t, "–", m["Power back"]["R1"], "the intent says lighting")
}

func TestMatrix_pointsToTheStatementThatSaysIt(t *testing.T) {
	b := domaintest.Classroom()
	sheets := sheet.RoomScope(open(t, input(b)))
	statements := map[string]string{}
	for _, block := range sheets[0].Blocks {
		if list, ok := block.(sheet.Statements); ok {
			for _, i := range list.Items {
				statements[i.ID] = i.Text
			}
		}
	}
	m := matrixOf(t, b)
	assert.Contains(t, statements[m["ST-1  2 Present"]["Statement"]], `button 2 "Present" of ST-1`)
	assert.Contains(t, statements[m["DS-1  reading"]["Statement"]], "daylight")
	assert.Contains(t, statements[m["Power back"]["Statement"]], "power comes back")
}

func TestMatrix_occupancySensorLights(t *testing.T) {
	b := domaintest.Classroom().Set("devices/ps/presence", "occupancy", "intents/i2/enters", "yes", "intents/i2/scene", "1")
	assert.Equal(t, "SC1", matrixOf(t, b)["PS-1  occupied"]["L1"])
	b.Set("intents/i2/scene", "", "intents/i2/level", "50", "intents/i2/off_level", "20", "intents/i2/warning_s", "")
	m := matrixOf(t, b)
	assert.Equal(t, "50", m["PS-1  occupied"]["L2"])
	assert.Equal(t, "20", m["PS-1  vacant for 20 min"]["L2"])
}

func TestMatrix_ownDelayOfASensorAndDifferentDelays(t *testing.T) {
	b := domaintest.Classroom().Set("devices/ps/delay_s", "12")
	assert.Contains(t, matrixOf(t, b), "PS-1  vacant for 12 min")
	b = domaintest.Classroom().Set("intents/i4/delay_s", "30")
	m := matrixOf(t, b)
	assert.Equal(t, "WARN 0 @20 min", m["PS-1  vacant"]["L1"])
	assert.Equal(t, "OFF @30 min", m["PS-1  vacant"]["R1"])
}

func TestMatrix_likeSensorsShareARow(t *testing.T) {
	b := domaintest.Classroom().Device("p2", "ps-ceiling").Set("devices/p2/presence", "vacancy")
	for _, l := range []domain.ID{"l1", "l2", "l3", "l4", "r1"} {
		if b.R.Design.Load(l) != nil {
			b.Link("p2", 0, "", l, "ACT")
		}
	}
	m := matrixOf(t, b)
	assert.Contains(t, m, "PS-1, PS-2  occupied")
	b.Link("p2", 0, "", "l1", "-")
	m = matrixOf(t, b)
	assert.Contains(t, m, "PS-1  occupied")
	assert.Equal(t, "–", m["PS-2  occupied"]["L1"])
}

func TestMatrix_undecidedCellsAreAsked(t *testing.T) {
	b := domaintest.Classroom()
	b.R.Design.Links = b.R.Design.Links[1:]
	require.NoError(t, b.R.Settle())
	m := matrixOf(t, b)
	asked := 0
	for _, row := range m {
		for _, cell := range row {
			if cell == "?" {
				asked++
			}
		}
	}
	assert.Equal(t, 1, asked)
	legend := find(t, sheet.RoomScope(open(t, input(b))), "Control matrix").Note
	assert.Contains(t, legend, "? undecided: ask the designer")
	assert.NotContains(t, legend, "TGL", "only codes in use are explained")
}

func TestMatrix_sensorWithoutAnIntentIsAsked(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Device("ps", "ps-ceiling").Link("ps", 0, "", "l1", "ACT")
	assert.Equal(t, "?", matrixOf(t, b)["PS-1  occupied"]["L1"])
}

func TestMatrix_contactCommandScheduleAndDemandResponse(t *testing.T) {
	b := domaintest.Classroom().Device("cn", "cn-2").Device("av", "av-serial").
		Do(edit.AddIntent{ID: "c1", Kind: domain.ByContact}, edit.AddIntent{ID: "a1", Kind: domain.ByAV},
			edit.AddIntent{ID: "t1", Kind: domain.BySchedule}, edit.AddIntent{ID: "d1", Kind: domain.OnDemandResponse}).
		Set("intents/c1/device", "CN-1", "intents/c1/loads", "L1", "intents/c1/level", "70", "intents/a1/device", "AV-1", "intents/a1/scene", "2",
			"intents/t1/on_at", "07:00", "intents/t1/level", "40", "intents/t1/days", "Mon-Fri").
		Link("cn", 1, "", "l1", "ACT").Link("cn", 1, "", "l2", "-")
	m := matrixOf(t, b)
	assert.Equal(t, "70", m["CN-1  input 1, closed"]["L1"])
	assert.Equal(t, "–", m["CN-1  input 1, closed"]["L2"])
	assert.Equal(t, "?", m["CN-1  input 2, closed"]["L1"], "the other input is undecided")
	assert.Equal(t, "SC2", m["AV-1  presentation start"]["L3"])
	assert.Equal(t, "40", m["Schedule  07:00 Mon-Fri"]["L1"])
	assert.Equal(t, "WARN 0", m["Schedule  22:00 Mon-Fri"]["L1"])
	assert.Equal(t, "CAP 80", m["Demand response"]["L2"])
	assert.Equal(t, "–", m["Demand response"]["R1"])
}

func TestMatrix_wallBoxActsOnItsOwnLoad(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Load("l2", "a", 1).Device("wb", "wb-dim").Carry("l1", "wb", 1)
	m := matrixOf(t, b)
	assert.Equal(t, "OWN", m["WB-1  1"]["L1"])
	assert.Equal(t, "–", m["WB-1  1"]["L2"])
	assert.Equal(t, "1", m["Ways on"]["L1"])
	assert.Equal(t, "!!0", m["Ways on"]["L2"], "a load without a way on is marked")
}

func TestSequence_saysWhatButtonsDo(t *testing.T) {
	b := domaintest.Classroom().Link("st", 3, domain.Press, "l1", "60").Link("st", 3, domain.Hold, "l1", "UP").Link("st", 3, domain.Hold, "l2", "DN")
	text := strings.Join(statementsOf(sheet.RoomScope(open(t, input(b)))[0]), "\n")
	assert.Contains(t, text, `Pressing button 3 "Dim" of ST-1 sets L1 to 60 % and lowers L2, L3`)
	assert.Contains(t, text, `Holding button 3 "Dim" of ST-1 raises L1 while it is held and lowers L2 while it is held. Undecided for`)
	assert.Contains(t, text, `Pressing button 4 "Off" of ST-1 turns off all lighting loads.`)
}

func TestFailures_nameTheLoadsThatNothingElseTurnsOn(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Load("l2", "a", 1).Device("s1", "st-2-battery").Device("s2", "st-2-battery").
		Link("s1", 1, domain.Press, "l1", "100").Link("s1", 1, domain.Press, "l2", "100").Link("s2", 1, domain.Press, "l2", "100")
	text := strings.Join(printed(sheet.RoomScope(open(t, input(b)))), "\n")
	assert.Contains(t, text, "Cell of ST-1 flat\nIts buttons do nothing; presence, schedule and other stations go on. Nothing else turns on L1.")
	assert.Contains(t, text, "Not stated for L1 and L2: ask the designer.", "power back")
}

func TestSequence_likeStationsShareAStatement(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1).Load("l2", "a", 1)
	for _, id := range []domain.ID{"s1", "s2", "s3", "s4"} {
		b.Device(id, "st-2-battery").Link(id, 1, domain.Press, "l1", "100").Link(id, 1, domain.Press, "l2", "-").Link(id, 2, domain.Press, "l1", "0").Link(id, 2, domain.Press, "l2", "-")
	}
	b.Link("s4", 2, domain.Press, "l1", "20")
	statements := statementsOf(sheet.RoomScope(open(t, input(b)))[0])
	assert.Equal(t, []string{"Pressing button 1 of ST-1 to ST-4 sets L1 to 100 %.", "Pressing button 2 of ST-1 to ST-3 turns off L1.", "Pressing button 2 of ST-4 sets L1 to 20 %."}, statements)
	m := matrixOf(t, b)
	assert.Equal(t, "Q1", m["ST-1 to ST-4  1"]["Statement"])
	assert.Equal(t, "20", m["ST-4  2"]["L1"])
}

// A cell that counts in one state of a divisible room's partition says so, and
// the legend explains it only then.
func TestMatrix_namesTheStateOfThePartition(t *testing.T) {
	legend := find(t, sheet.RoomScope(open(t, input(domaintest.Classroom()))), "Control matrix").Note
	assert.NotContains(t, legend, "partition")
	b := domaintest.Classroom().Link("st", 1, domain.Press, "l1", "SC1 @open").Link("ps", 0, "", "l2", "ACT @closed")
	m := matrixOf(t, b)
	assert.Equal(t, "SC1 @open", m["ST-1  1 Teach"]["L1"])
	assert.Equal(t, "ENA @closed", m["PS-1  occupied"]["L2"])
	assert.Equal(t, "WARN 0 @closed", m["PS-1  vacant for 20 min"]["L2"])
	legend = find(t, sheet.RoomScope(open(t, input(b))), "Control matrix").Note
	assert.Contains(t, legend, "@open only while the partition is open; @closed only while the partition is closed")
	assert.NotContains(t, legend, "@ after this delay")
}
