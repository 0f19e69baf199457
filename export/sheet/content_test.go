package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/export/sheet"
)

func TestOpen_ordersRoomsAsPeopleDo(t *testing.T) {
	s := &domain.Scope{Project: *domaintest.Project("US")}
	for _, n := range []string{"110", "101A", "20", "B2", "101", "b10", "2", "101B"} {
		s.Rooms = append(s.Rooms, domain.Room{ID: domain.ID("r" + strings.ToLower(n)), StoreyID: "s1", Number: n})
	}
	var got []string
	for _, sh := range sheet.RoomScope(open(t, inputOf(s))) {
		got = append(got, strings.TrimPrefix(sh.Number, "EL-701-"))
	}
	assert.Equal(t, []string{"2", "20", "101", "101A", "101B", "110", "B2", "b10"}, got)
}

func TestSheetNumbers_stayWhenOtherRoomsComeAndGo(t *testing.T) {
	s := demo.Scope()
	number := func() map[domain.ID]string {
		out := map[domain.ID]string{}
		for _, sh := range sheet.RoomScope(open(t, inputOf(s))) {
			out[domain.ID(sh.Head.Room)] = sh.Number
		}
		return out
	}
	before := number()
	s.Rooms = s.Rooms[1:]
	for room, n := range number() {
		assert.Equal(t, before[room], n)
	}
}

func TestLoadSchedule_marksACircuitAtTwoVoltages(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 2).Load("l2", "b", 2).Load("l3", "a", 1).
		Set("loads/l1/circuit", "LP-1", "loads/l2/circuit", "LP-1", "loads/l3/circuit", "LP-2")
	table := find(t, sheet.LoadSchedule(open(t, input(b))), "Connected load by circuit")
	require.Len(t, table.Rows, 3)
	at := column(t, table, "Volts")
	assert.Equal(t, []sheet.Mark{sheet.Warning, sheet.Warning, sheet.Plain}, []sheet.Mark{table.Rows[0].Cells[at].Mark, table.Rows[1].Cells[at].Mark, table.Rows[2].Cells[at].Mark})
	assert.Contains(t, table.Note, "two voltages")
}

func TestRoomScope_unitsAreTheProjects(t *testing.T) {
	b := domaintest.Classroom().Set("devices/st/height_m", "48 in")
	assert.Contains(t, printed(sheet.RoomScope(open(t, input(b)))), "wall box, 4 ft")
	b.P.Units = "SI"
	text := printed(sheet.RoomScope(open(t, input(b))))
	assert.Contains(t, text, "wall box, 1.219 m")
	assert.Contains(t, text, "40 m2")
	assert.Contains(t, text, "SI (m)")
}

func TestRoomScope_egressCarriesItsCaution(t *testing.T) {
	b := domaintest.Classroom()
	assert.NotContains(t, printed(sheet.RoomScope(open(t, input(b)))), domain.CautionEgress.Text)
	b.Set("loads/l1/egress", "yes", "loads/l1/bypass", "transfer relay")
	for _, build := range []func(*sheet.Content) []sheet.Sheet{sheet.RoomScope, sheet.InstallerPage} {
		text := printed(build(open(t, input(b))))
		assert.Contains(t, text, domain.CautionEgress.Text)
		assert.Contains(t, text, domain.CautionMains.Text)
	}
	assert.Contains(t, printed(sheet.RoomScope(open(t, input(b)))), "yes, transfer relay")
}

func TestRoomScope_rulesNotRunIsSaid(t *testing.T) {
	in := input(domaintest.Classroom())
	in.Findings = nil
	text := printed(sheet.RoomScope(open(t, in)))
	assert.Contains(t, text, "The rules were not run for this print.")
	assert.NotContains(t, text, "No findings.")
}

func TestEquipmentAndLimits_showSourcesAndChangedValues(t *testing.T) {
	b := domaintest.Classroom()
	b.P.Limits[0].Value = 20
	text := printed(sheet.EquipmentAndLimits(open(t, input(b))))
	assert.Contains(t, text, "common practice, no published source (built in: 32)")
	assert.Contains(t, text, "500 sq ft", "500 sq ft a presence sensor, printed in the project's units")
	for _, l := range domain.GenericLimits() {
		assert.Contains(t, text, l.Title)
	}
}

func TestFindingsAndWaivers_stateTheWaiver(t *testing.T) {
	b := domaintest.Room().Load("l1", "a", 1)
	in := input(b)
	found := in.Findings(b.R)
	require.NotEmpty(t, found)
	in.Scope.Rooms[0].Waivers = []domain.Waiver{
		{ID: "w1", Rule: found[0].Rule, Key: found[0].Key, Reason: "by the owner's wish", Name: "R. Viewer", Date: "2026-02-01", Margin: &found[0].Margin},
		{ID: "w2", Rule: "no-such-rule", Reason: "left over", Name: "R. Viewer", Date: "2026-02-01"}}
	text := strings.Join(printed(sheet.FindingsAndWaivers(open(t, in))), "\n")
	assert.Contains(t, text, "by the owner's wish (R. Viewer, 2026-02-01)")
	assert.Contains(t, text, "R. Viewer\n2026-02-01\nholds")
	assert.Contains(t, text, "R. Viewer\n2026-02-01\nno longer needed")
}
