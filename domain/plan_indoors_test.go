package domain_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// The places beside a window lie so far beyond the faces of its wall, one on
// either side, whichever way the wall was drawn.
func TestSides_lieBeyondTheFacesOfTheWall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.Float64Range(-50, 50)
		w := domain.Wall{A: geom.Pt(number.Draw(t, "ax"), number.Draw(t, "ay")), B: geom.Pt(number.Draw(t, "bx"), number.Draw(t, "by")), Thickness: units.Metres(rapid.Float64Range(0.01, 1).Draw(t, "thickness"))}
		length := w.A.Distance(w.B)
		if length < 1 {
			t.Skip("too short for a window")
		}
		o := domain.Opening{Kind: domain.Window, At: units.Metres(rapid.Float64Range(0, length-1).Draw(t, "at")), Width: 1}
		a, b := w.Sides(&o, 0.3)
		middle := w.Span(&o).Middle()
		require.InDelta(t, float64(w.Thickness)/2+0.3, a.Distance(middle), 1e-9)
		require.InDelta(t, float64(w.Thickness)+0.6, a.Distance(b), 1e-9)
		require.InDelta(t, 0, a.Sub(middle).Dot(w.B.Sub(w.A)), 1e-6, "straight across")

		back := domain.Wall{A: w.B, B: w.A, Thickness: w.Thickness}
		turned := domain.Opening{Kind: domain.Window, At: units.Metres(length) - o.At - o.Width, Width: 1}
		c, d := back.Sides(&turned, 0.3)
		require.InDelta(t, 0, math.Max(a.Distance(d), b.Distance(c)), 1e-6)
	})
}

func TestStands_byWhatLiesOnTheTwoSides(t *testing.T) {
	w := domain.Wall{B: geom.Pt(6, 0)} // of no stated thickness: 0.1 m, as it is drawn
	o := domain.Opening{Kind: domain.Window, At: 2, Width: 2}
	north, south := geom.Rectangle(0, 0, 6, 4), geom.Rectangle(0, -4, 6, 4)
	court := geom.Rectangle(-5, -5, 20, 20)
	court.Holes = [][]geom.Point{geom.Rectangle(1, -3, 4, 3).Outer}
	for want, outlines := range map[domain.Standing][][]geom.Polygon{
		domain.BetweenRooms: {{north, south}, {geom.Rectangle(-1, -1, 8, 2)}},
		domain.OnOneRoom:    {{north}, {south}, {court}, {north, geom.Rectangle(0, -5, 6, 4.5)}},
		domain.NoRoom:       {nil, {geom.Polygon{}}, {geom.Rectangle(8, -4, 6, 8)}},
	} {
		for i, list := range outlines {
			assert.Equal(t, want, w.Stands(&o, 0.3, grounds(list...)), "%s %d", want, i)
		}
	}
	point := domain.Wall{A: geom.Pt(1, 1), B: geom.Pt(1, 1)}
	assert.Equal(t, domain.NoRoom, point.Stands(&o, 0.3, grounds(north)), "a wall of no length has no sides")
}

func grounds(outlines ...geom.Polygon) *domain.Ground {
	var rooms []domain.Footprint
	for _, o := range outlines {
		rooms = append(rooms, domain.Footprint{Outline: o})
	}
	return domain.GroundOf(rooms...)
}
