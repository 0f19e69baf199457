package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/export/sheet"
)

const (
	openCaption   = "Open loop: Eset 46.5 fc (500 lx), Efull 51.1 fc (550 lx), E1 27.9 fc (300 lx), S1 743.2 fc (8000 lx), lowest level 0.1"
	closedCaption = "Closed loop: Eset 46.5 fc (500 lx), Sn 9.3 fc (100 lx), E1 27.9 fc (300 lx), S1d 13.9 fc (150 lx), lowest level 0.1"
)

// closedLoop is the classroom with its daylight sensor as a closed loop.
func closedLoop() *domaintest.Builder {
	return domaintest.Classroom().Set("devices/ds/loop", "closed loop")
}

// The worked values of open-loop and closed-loop arithmetic that were reckoned apart from
// this program: a 0.90909, L1 0.36364, b 6.81818e-5, 0.1 at 11,866.7 lx; M -0.00666667
// with 1.0, 0.7, 0.4 and 0.1, the task at 500 lx each time; integral reset 0.25 and 275 lx.
// In footcandles by 10.76391 lx to one: 500 lx are 46.45, and 6.81818e-5 per lx are 7.33903e-4.
func TestCalibration_printsTheWorkedExamples(t *testing.T) {
	results := func(b *domaintest.Builder, caption string) (out []string) {
		for _, row := range rowsOf(find(t, sheet.Calibration(open(t, input(b))), caption)) {
			out = append(out, row[2])
		}
		return out
	}
	openLoop := domaintest.Classroom().Set("devices/ds/loop", "open loop")
	assert.Equal(t, []string{"0.90909", "0.36364", "0.000733903 per fc (0.0000681818 per lx)", "0.77273", "0.36364", "0.15909", "0.10000", "1102.4 fc (11866.7 lx)"}, results(openLoop, openCaption))
	assert.Equal(t, []string{"-0.0717594 per fc (-0.00666667 per lx)", "1.0, task 46.5 fc (500 lx)", "0.7, task 46.5 fc (500 lx)", "0.4, task 46.5 fc (500 lx)", "0.1, task 46.5 fc (500 lx)"}, results(closedLoop(), closedCaption))
	for _, b := range []*domaintest.Builder{openLoop, closedLoop()} {
		assert.Contains(t, textOf(sheet.Calibration(open(t, input(b)))), "dims to 0.25, and the task has 25.5 fc (275 lx) instead of 46.5 fc (500 lx)")
	}
	assert.NotContains(t, textOf(sheet.Calibration(open(t, input(closedLoop())))), openCaption, "a document shows what its rooms have")
	si := closedLoop()
	si.P.Units = units.SI
	assert.Equal(t, []string{"-0.00666667 per lx", "1.0, task 500 lx", "0.7, task 500 lx", "0.4, task 500 lx", "0.1, task 500 lx"}, results(si, "Closed loop: Eset 500 lx, Sn 100 lx, E1 300 lx, S1d 150 lx, lowest level 0.1"))
}

// However many rooms there are, the example is printed once, after them.
func TestCalibration_oneExampleForAllRooms(t *testing.T) {
	in := input(closedLoop())
	second := in.Scope.Rooms[0]
	second.ID, second.Number = "r2", "102"
	in.Scope.Rooms = append(in.Scope.Rooms, second)
	sheets := sheet.Calibration(open(t, in))
	require.Len(t, sheets, 3)
	assert.Equal(t, "EL-621", sheets[2].Number)
	assert.Equal(t, 1, strings.Count(textOf(sheets), closedCaption))
	for _, s := range sheets[:2] {
		assert.Contains(t, textOf([]sheet.Sheet{s}), "A worked example of the formulas stands on sheet EL-621.")
	}
}

// What is to be measured is asked for by the kind of loop, with the formulas, and every
// line of a form has a place to write in that is high enough.
func TestCalibration_asksForWhatTheFormulasNeed(t *testing.T) {
	for _, c := range []struct {
		b       *domaintest.Builder
		symbols []string
		how     string
	}{
		{domaintest.Classroom().Set("devices/ds/loop", "open loop"), []string{"Eset", "Efull", "E1", "S1", "a", "L1", "b"}, "(Eset - E1) / Efull"},
		{closedLoop(), []string{"Eset", "Sn", "E1", "S1d", "E1/Eset", "M"}, "-(E1/Eset) / (S1d + (1 - E1/Eset) Sn - Sn)"},
	} {
		sheets := sheet.Calibration(open(t, input(c.b)))
		form := find(t, sheets, "DS-1: readings and results")
		at := column(t, form, "Symbol")
		var symbols []string
		for _, row := range rowsOf(form) {
			symbols = append(symbols, row[at])
			assert.Contains(t, row, "______", "%s has no place to write", row[0])
		}
		assert.Equal(t, c.symbols, symbols)
		assert.Contains(t, textOf(sheets), c.how)
		written := 0
		for _, named := range (sheet.Document{Sheets: sheets}).Tables() {
			if slices.ContainsFunc(rowsOf(named.Table), func(row []string) bool { return slices.Contains(row, "______") }) {
				assert.True(t, named.Table.Writing, named.Name)
				written++
			}
		}
		assert.Equal(t, 3, written, "who and when, readings, acceptance")
	}
}

// Target, fade, lowest level and the loads are the design's own.
func TestCalibration_printsTheDesignsNumbers(t *testing.T) {
	b := closedLoop().Set("intents/i3/target_lx", "40 fc", "intents/i3/fade_s", "45 s", "intents/i3/lowest", "15", "intents/i3/may_off", "yes")
	sheets := sheet.Calibration(open(t, input(b)))
	text := textOf(sheets)
	for _, words := range []string{"40 fc at the task", "45 s", "15 %, then off", "Governs", "L3", "Egress lighting", "no place or no windows on the plan", "not known: draw windows and luminaires"} {
		assert.Contains(t, text, words)
	}
	accept := rowsOf(find(t, sheets, "DS-1: acceptance"))
	require.Len(t, accept, 5)
	assert.Equal(t, "Lamps and daylight together give the task 40 fc; level (1 + M (Sd - Sn)) / (1 - M Sn), with Sd the sensor's reading with the lamps off", accept[1][2])
	assert.Equal(t, "Daylight alone gives the task about 20 fc", accept[1][1])
	assert.Equal(t, "Lamps go off, and come back when it gets darker", accept[2][2])
	assert.Contains(t, accept[4][2], "45 s")
}

// A daylight factor under the loads gives a good day: half of 500 lx at f % needs
// 25,000/f lx outdoors, which the sheet prints to two figures.
func TestCalibration_goodDay(t *testing.T) {
	b, in := daylitRoom(40)
	b.R.Plan = &in.Scope.Plans[0]
	factor := lightUnder(t, &in.Scope.Project, b.R, "l1")
	want := units.Trim(roundToTwo(25_000/factor), 0)
	text := textOf(sheet.Calibration(open(t, in)))
	assert.Contains(t, text, "about "+want+" lx outdoors, overcast")
	assert.Contains(t, text, units.Trim(factor, 1)+" %")
	assert.Contains(t, text, "nearest glass")
	assert.Contains(t, text, "facing south, 180")
}

// The conditions that make a calibration mean nothing.
func TestCalibration_refusals(t *testing.T) {
	for _, c := range []struct {
		b    *domaintest.Builder
		says []string
	}{
		{domaintest.Classroom().Set("devices/ds/loop", "open loop"), []string{"S1 is 0", "E1 is 0 or below", "L1 is over a", "Sun patches", "Efull is below Eset"}},
		{closedLoop(), []string{"E1 is 0 or below", "Sun patches", "E1 is the target or more", "Sn - Sn is 0 or below"}},
	} {
		text := textOf(sheet.Calibration(open(t, input(c.b))))
		for _, words := range c.says {
			assert.Contains(t, text, words)
		}
	}
}

func TestCalibration_saysWhatTheDesignLacks(t *testing.T) {
	text := textOf(sheet.Calibration(open(t, input(domaintest.Room()))))
	assert.Contains(t, text, "Nothing to calibrate: there are no daylight sensors.")
	b := domaintest.Classroom().Spoil(func(d *domain.Design) { d.Device("ds").Loop = "" })
	assert.Contains(t, textOf(sheet.Calibration(open(t, input(b)))), "does not say whether this sensor works as an open or a closed loop")
	b = domaintest.Classroom().Link("ds", 0, "", "l3", "-")
	assert.Contains(t, textOf(sheet.Calibration(open(t, input(b)))), "no loads: nothing to calibrate")
	b = domaintest.Classroom().Link("ds", 0, "", "l2", "ACT")
	assert.Contains(t, textOf(sheet.Calibration(open(t, input(b)))), "but L2 by no statement")
	assert.Equal(t, 1, strings.Count(textOf(sheet.Calibration(open(t, input(b)))), "L2 by no statement"))
}
