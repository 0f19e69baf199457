package propose_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	. "scopewright/domain/propose"
	"scopewright/domain/units"
)

// Whatever the room and its sensors: carried out, a plan gives what it promised,
// with no more sensors than allowed and none fewer than its bound.
func TestSensors_keepTheirPromise(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		length := rapid.Float64Range(2, 13)
		b := hall(length.Draw(rt, "width"), length.Draw(rt, "depth"), equipment.Generic()...)
		b.R.Room.Ceiling = rapid.SampledFrom([]units.Metres{0, 2.4, 2.7, 4}).Draw(rt, "ceiling")
		b.R.Plan.Walls[0].Openings = []domain.Opening{{ID: "d", Kind: domain.Door, At: 0.2, Width: 0.9}}
		box := b.R.Outline.Bounds()
		point := func() geom.Point {
			return geom.Pt(rapid.Float64Range(0, box.Max.X).Draw(rt, "x"), rapid.Float64Range(0, box.Max.Y).Draw(rt, "y"))
		}
		for i := range rapid.IntRange(0, 8).Draw(rt, "seats") {
			b.R.Sitting = append(b.R.Sitting, domain.Seat{ID: domain.ID(fmt.Sprint("s", i)), At: point()})
		}
		for i := range rapid.IntRange(0, 3).Draw(rt, "sensors") {
			id := domain.ID(fmt.Sprint("ps", i))
			b.Device(id, rapid.SampledFrom([]string{"ps-ceiling", "ps-corner", "ps-wired"}).Draw(rt, "type"))
			d := b.R.Design.Device(id)
			d.Height = rapid.SampledFrom([]units.Metres{0, 0, 2.3}).Draw(rt, "height")
			if at := point(); rapid.Bool().Draw(rt, "placed") {
				d.At, d.Turn = &at, rapid.Float64Range(0, 360).Draw(rt, "turn")
			}
		}
		require.NoError(rt, b.R.Settle())
		got := Sensors(b.P, b.R, SensorWish{Nodes: 200, Shut: rapid.Bool().Draw(rt, "shut")})
		if got == nil {
			return
		}
		left := len(got.After.Sensors)
		require.LessOrEqual(rt, left, 8)
		if got.Complete {
			require.GreaterOrEqual(rt, left, got.Bound)
		}
		plan := b.R.Plan
		_, err := edit.All(edit.OfRoom(b.P, b.R), got.Edits(b.P, &b.R.Design, ids))
		require.NoError(rt, err)
		b.R.Plan = plan
		after := coverage.NewRoom(b.P, b.R)
		require.Len(rt, after.Sensors, left)
		require.Empty(rt, after.Unplaced)
		require.True(rt, after.Whole())
		// Places are written to a tenth of a millimeter: a cell on a rim may change.
		require.InDelta(rt, got.After.Share(coverage.Major), after.Share(coverage.Major), 0.01)
		if got.Complete {
			for _, list := range [][]coverage.Target{after.Seats, after.Entrances} {
				for i := range list {
					require.True(rt, list[i].Seen(), "%+v", list[i])
				}
			}
		}
	})
}
