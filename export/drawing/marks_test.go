package drawing_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// Two marks two meters apart lie 40 mm apart at 1:50; one beyond the drawing and one
// of no place are left out.
func TestMarks_standWhereTheyAreToldOf(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	middle := rooms[0].Outline.Bounds().Center()
	marks := []drawing.Mark{{At: middle, Text: "1"}, {At: middle.Add(geom.Pt(2, 0)), Text: "E1"}, {At: middle.Add(geom.Pt(500, 0)), Text: "far"}, {At: geom.Pt(math.NaN(), 0), Text: "nowhere"}}
	v := drawing.RoomView(p, plan, rooms[0], rooms, drawing.Options{Marks: marks})
	at := map[string]drawing.Point{}
	for _, item := range v.Draw(drawing.Scale{Ratio: 50, Name: "1:50"}).Items {
		if item.Class == "mark" {
			at[item.Title] = item.Shapes[0].(drawing.Disc).At
			assert.Equal(t, item.Title, item.Shapes[1].(drawing.Text).Text)
		}
	}
	assert.Len(t, at, 2)
	assert.InDelta(t, 40, at["E1"].X-at["1"].X, 1e-9)
	assert.InDelta(t, at["1"].Y, at["E1"].Y, 1e-9)
	assert.Contains(t, v.Words(), "E1")
}
