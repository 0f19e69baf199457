package sheet_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/demo"
	"scopewright/domain/domaintest"
	"scopewright/domain/energy"
	"scopewright/export/sheet"
)

// The sheet prints what domain/energy reckons, to three figures, with the room
// that has no area named and out of the sums.
func TestEnergy_printsTheRoomsYear(t *testing.T) {
	b := domaintest.Classroom()
	north := 45.0
	b.P.Latitude = &north
	in := input(b)
	setting := energy.UsualSetting(b.P, b.R.Room)
	setting.Sky = nil
	want, err := energy.Room(b.P, b.R, setting)
	require.NoError(t, err)

	sheets := sheet.EnergyUse(open(t, in))
	rooms := rowsOf(find(t, sheets, "Rooms"))
	require.Len(t, rooms, 2, "a storey and its room")
	row := rooms[1]
	assert.Equal(t, "101 Room", row[0])
	assert.Equal(t, "684", row[2], "18 luminaires of 38 W")
	assert.Equal(t, "1400 + 0", row[3])
	assert.Equal(t, "25", row[4])
	assert.Less(t, number(t, row[5]), want.Use.Lamps, "the window row has daylight")
	assert.InDelta(t, want.Use.Standby, number(t, row[6]), 0.5)
	assert.Greater(t, number(t, row[8]), number(t, row[5]))

	factors := rowsOf(find(t, sheets, "Factors, by room and control"))
	assert.Equal(t, []string{"101", "L1 and L2", "manual or partial on, automatic off", "0.75", "none", "no", "1.00"}, factors[0][:7])
	assert.Equal(t, []string{"101", "L3", "manual or partial on, automatic off", "0.75", "medium", "yes"}, factors[1][:6])

	text := textOf(sheets)
	for _, word := range []string{"from memory", "Estimates", "Leukos", "common practice", "EN 15193"} {
		assert.Contains(t, text, word)
	}
	assert.NotContains(t, text, "complies")

	in.Scope.Rooms[0].Area = 0
	assert.Contains(t, textOf(sheet.EnergyUse(open(t, in))), "Not in the sums, for want of an area: 101.")
}

func TestEnergy_ofTheDemoSaves(t *testing.T) {
	sheets := sheet.EnergyUse(open(t, inputOf(demo.Scope())))
	rows := rowsOf(find(t, sheets, "Building"))
	total := rows[len(rows)-1]
	assert.Equal(t, "All", total[0])
	saved := number(t, total[6])
	assert.True(t, saved > 5 && saved < 60, "%g %% saved in all", saved)
	played, lamps := number(t, total[7]), number(t, total[2])
	assert.InDelta(t, 1, played/lamps, 0.6, "the two figures are of one size: %g and %g", played, lamps)
}

func number(t *testing.T, cell string) float64 {
	v, err := strconv.ParseFloat(cell, 64)
	require.NoError(t, err)
	return v
}
