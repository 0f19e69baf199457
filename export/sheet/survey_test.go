package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/sheet"
)

// surveyed is a room of 16 x 16 m with two stud walls across the way of one link
// of the worked values: a router at (1,1,2.7), a battery sensor at (9,7,1.1).
func surveyed() *domaintest.Builder {
	b := domaintest.Classroom()
	b.R.Outline, b.R.Area = geom.Rectangle(0, 0, 16, 16), 256
	place := func(id domain.ID, x, y float64, z units.Metres) {
		d := b.R.Design.Device(id)
		at := geom.Pt(x, y)
		d.At, d.Height = &at, z
	}
	place("lc", 1, 1, 2.7)
	place("ps", 9, 7, 1.1)
	place("gw", 2, 1, 2.7)
	for i := range b.P.Book {
		if t := &b.P.Book[i]; t.ID == "lc-4" || t.ID == "ps-ceiling" || t.ID == "gw-room" {
			t.TxPower, t.Gain, t.Sensitivity, t.Lowest = 0, 0, -95, 0
		}
	}
	for i := range b.P.Limits {
		switch b.P.Limits[i].ID {
		case domain.AssumedWallLoss:
			b.P.Limits[i].Value = 2.3
		case domain.CeilingHeight:
			b.P.Limits[i].Value = 3
		}
	}
	b.R.Ceiling = 3
	return b
}

func surveyInput(b *domaintest.Builder) sheet.Input {
	in := input(b)
	in.Scope.Plans = []domain.Plan{{ID: "s1", Walls: []domain.Wall{
		{ID: "w1", Seq: 1, A: geom.Pt(4, 0), B: geom.Pt(4, 16), Kind: domain.FullWall},
		{ID: "w2", Seq: 2, A: geom.Pt(7, 0), B: geom.Pt(7, 16), Kind: domain.FullWall},
	}}}
	return in
}

// (1,1,2.7) to (9,7,1.1) through two walls of 2.3 dB at 0 dBm, 0 dBi and -95 dBm:
// 10.127 m, loss 64.94 dB, margin 30.06 dB, by hand from Friis at 2450 MHz. The
// chance under a sigma of 5 dB is the normal distribution's at 6.01.
func TestSurvey_printsTheLinkThatIsWorkedByHand(t *testing.T) {
	b := surveyed()
	b.P.Units = "SI"
	sheets := sheet.RadioAndSight(open(t, surveyInput(b)))
	rows := map[string][]string{}
	var order []string
	for _, row := range rowsOf(find(t, sheets, "Order of joining")) {
		rows[row[1]] = row
		order = append(order, row[1])
	}
	assert.Equal(t, []string{"GW-1", "LC-1"}, order[:2], "the gateway first, then outward: %v", order)
	ps := rows["PS-1"]
	require.NotNil(t, ps)
	assert.Equal(t, []string{"LC-1", "2", "10.13 m", "2 x wall of unknown material 4.6 dB", "64.9", "30.1", "over 99.9"}, ps[2:9])
	assert.Contains(t, rows["DS-1"][5], "not on the plan")

	text := textOf(sheets)
	for _, word := range []string{"Predictions, to be measured on site", "P.1238", "Margin that a link needs", "10 dB", "Measured by", "Sees of the floor"} {
		assert.Contains(t, text, word)
	}
}

// A weak link and a seat that nobody sees are marked with a sign, not by color
// alone.
func TestSurvey_marksWhatIsWeak(t *testing.T) {
	b := surveyed()
	b.R.Sitting = []domain.Seat{{ID: "a", At: geom.Pt(9, 7)}, {ID: "b", At: geom.Pt(1, 15)}}
	for i := range b.P.Limits {
		if b.P.Limits[i].ID == domain.LinkMargin {
			b.P.Limits[i].Value = 31
		}
	}
	in := surveyInput(b)
	mark := func(column int, tag string) sheet.Mark {
		for _, row := range find(t, sheet.RadioAndSight(open(t, in)), "Order of joining").Rows {
			if row.Cells[1].String() == tag {
				return row.Cells[column].Mark
			}
		}
		return "none"
	}
	assert.Equal(t, sheet.Error, mark(7, "PS-1"), "30.06 dB where 31 are asked for")
	for i := range b.P.Limits {
		switch b.P.Limits[i].ID {
		case domain.LinkMargin:
			b.P.Limits[i].Value = 30
		case domain.LinkMarginAdvice:
			b.P.Limits[i].Value = 31
		}
	}
	assert.Equal(t, sheet.Warning, mark(7, "PS-1"), "enough, and less than is advised")

	sheets := sheet.RadioAndSight(open(t, in))
	seats := find(t, sheets, "Seats and entrances")
	assert.Equal(t, "2, seat", seats.Rows[1].Cells[0].String())
	assert.Subset(t, planOf(t, sheets).View.Words(), []string{"1", "2", "PS-1"}, "the plan beside the table bears its numbers")
	assert.Equal(t, "no sensor", seats.Rows[1].Cells[2].String())
	assert.Equal(t, sheet.Warning, seats.Rows[1].Cells[2].Mark)
}

// planOf gives the plan of seats and entrances.
func planOf(t *testing.T, sheets []sheet.Sheet) sheet.Drawing {
	for _, s := range sheets {
		for _, block := range s.Blocks {
			if d, is := block.(sheet.Drawing); is && d.Caption == "Seats and entrances by number" {
				return d
			}
		}
	}
	require.Fail(t, "no plan of seats")
	return sheet.Drawing{}
}

func TestSurvey_saysWhyNothingIsPredicted(t *testing.T) {
	text := textOf(sheet.RadioAndSight(open(t, input(domaintest.Classroom()))))
	assert.Contains(t, text, "no device with a radio stands on the plan")
	assert.Contains(t, text, "the room has no outline on the plan")
	assert.Contains(t, textOf(sheet.RadioAndSight(open(t, input(domaintest.Room())))), "Nothing to measure")
	assert.Equal(t, 1, strings.Count(textOf(sheet.RadioAndSight(open(t, input(domaintest.Room())))), "Nothing to measure"))
}
