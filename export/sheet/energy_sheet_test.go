package sheet_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
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
	setting := energy.SettingOf(b.P, b.R, energy.LitOf(b.P, b.R))
	setting.Daylit = nil
	want, err := energy.Room(b.P, b.R, setting)
	require.NoError(t, err)

	sheets := sheet.EnergyUse(open(t, in))
	rooms := rowsOf(find(t, sheets, "Rooms"))
	require.Len(t, rooms, 2, "a storey and its room")
	row := rooms[1]
	assert.Equal(t, "101 Room", row[0])
	assert.Equal(t, "684", row[2], "18 luminaires of 38 W")
	assert.Less(t, number(t, row[3]), want.Use.Lamps, "the window row has daylight")
	assert.InDelta(t, want.Use.Standby, number(t, row[4]), 0.5)
	assert.InDelta(t, number(t, row[5])*0.09290304, number(t, row[6]), 0.005, "a square foot is 0.09290304 m2")
	assert.Greater(t, number(t, row[7]), number(t, row[3]))

	factors := rowsOf(find(t, sheets, "Factors, by room and control"))
	assert.Equal(t, []string{"101", "L1 and L2", "manual or partial on, automatic off", "0.75", "none", "zone stated for the load", "–", "no", "1.00"}, factors[0])
	assert.Equal(t, []string{"101", "L3", "manual or partial on, automatic off", "0.75", "medium", "zone stated for the load", "–", "yes"}, factors[1][:8])

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
	saved := number(t, total[8])
	assert.True(t, saved > 5 && saved < 60, "%g %% saved in all", saved)
	played, both := number(t, total[9]), number(t, total[3])+number(t, total[4])
	assert.InDelta(t, 1, played/both, 0.6, "the two figures are of one size: %g and %g", played, both)
	byHand, share := number(t, total[10]), number(t, total[11])
	assert.Greater(t, byHand, played, "the weeks are set against the same weeks by hand")
	assert.InDelta(t, 100*(1-played/byHand), share, 1)
	text := textOf(sheets)
	for _, word := range []string{"about 4330 h a year", "here 1400 to 2750 h a year", "Compare LENI with LENI, and weeks with weeks", "a switch at the door", "the nearest, that of 300 lx, was taken"} {
		assert.Contains(t, text, word)
	}
}

// The causes of a room's row add up to its difference; a figure that rounds to
// nothing prints as a dash.
func TestEnergy_causesAddUp(t *testing.T) {
	rows := rowsOf(find(t, sheet.EnergyUse(open(t, inputOf(demo.Scope()))), "Why the weeks use more or less than LENI, kWh a year"))
	value := func(cell string) float64 {
		if cell == "–" {
			return 0
		}
		return number(t, cell)
	}
	seen := 0
	for _, row := range rows {
		if len(row) == 1 {
			continue
		}
		sum := 0.0
		for _, cell := range row[4:] {
			sum += value(cell)
		}
		seen++
		assert.InDelta(t, value(row[3]), sum, 0.01*number(t, row[1])+0.6, row[0])
	}
	assert.Greater(t, seen, 20)
}

// A source is said once for all that stands on it, and what the project states is told apart.
func TestEnergy_numbersBySource(t *testing.T) {
	b := domaintest.Classroom()
	b.P.Profiles = []domain.UseProfile{{ID: "classroom", Seq: 1, Day: 1600, Night: 50, Absence: 0.2, Target: 500, Source: "timetable of the invented school"}}
	*b.P.Limits.Own(domain.OccupancySweep) = domain.Limit{ID: domain.OccupancySweep, Title: "F_OC: manual on and off, with a sweep that turns off", Value: 0.9, Source: "owner's survey"}
	sheets := sheet.EnergyUse(open(t, input(b)))
	assert.Equal(t, [][]string{{"timetable of the invented school"}, {"Classroom", "1600", "50", "20", "46.5 fc", "1", "this project's"}}, rowsOf(find(t, sheets, "Hours of use a year, by source")))
	seen := map[string]int{}
	var own []string
	for _, row := range rowsOf(find(t, sheets, "Factors, by source")) {
		if len(row) == 1 {
			seen[row[0]]++
		} else if row[2] != "–" {
			own = append(own, row...)
		}
	}
	for source, times := range seen {
		assert.Equal(t, 1, times, source)
	}
	assert.Equal(t, 1, seen["owner's survey"])
	assert.Equal(t, []string{"F_OC: manual on and off, with a sweep that turns off", "0.9", "0.95"}, own)
}

// Without rates nothing looks like money; with them each figure has its date and origin.
func TestEnergy_money(t *testing.T) {
	b := domaintest.Classroom()
	assert.Contains(t, textOf(sheet.EnergyUse(open(t, input(b)))), "No money and no carbon dioxide is printed")
	b.P.Currency = "USD"
	b.P.Rates = []domain.Rate{{ID: "tariff", Seq: 1, Value: 0.18, Date: "2026-01-01", Origin: "owner's bill"}, {ID: "carbon", Seq: 2, Value: 0.35}, {ID: "controls", Seq: 3, Value: 500, Origin: "bid"}}
	rows := rowsOf(find(t, sheet.EnergyUse(open(t, input(b))), "What the saving is worth"))
	require.Len(t, rows, 5)
	assert.Equal(t, "For comparison: saved in the weeks played", rows[4][0])
	assert.Positive(t, first(t, rows[4][1]))
	assert.Equal(t, []string{"0.18 USD per kWh", "2026-01-01", "owner's bill"}, rows[1][2:])
	assert.Equal(t, []string{"0.35 kg/kWh", "not stated", "not stated"}, rows[2][2:])
	kWh, usd, kg, years := first(t, rows[0][1]), first(t, rows[1][1]), first(t, rows[2][1]), first(t, rows[3][1])
	assert.InDelta(t, 0.18*kWh, usd, 0.01*usd)
	assert.InDelta(t, 0.35*kWh, kg, 0.01*kg)
	assert.InDelta(t, 500/usd, years, 0.02*years)
}

// first reads the number that a text begins with.
func first(t *testing.T, text string) float64 { return number(t, strings.Fields(text)[0]) }

func number(t *testing.T, cell string) float64 {
	v, err := strconv.ParseFloat(cell, 64)
	require.NoError(t, err)
	return v
}
