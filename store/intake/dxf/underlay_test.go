package dxf

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/geom"
)

// plan is in millimeters: a room of 4 x 3 m, a wall of 5 m, a line on a layer
// that is off, a hatch and a text.
func planSketch(insUnits int) *sketch {
	s := newSketch("AC1015", insUnits).layer("OFF", -7, 0).rectangle("ROOM", 0, 0, 4000, 3000)
	s.add(0, "LINE", 8, "WALL", 10, 0, 20, 5000, 11, 5000, 21, 5000)
	s.add(0, "LINE", 8, "OFF", 10, 0, 20, 0, 11, 9000, 21, 9000)
	s.add(0, "HATCH", 8, "ROOM", 10, 0, 20, 0, 91, 1, 92, 1, 93, 1, 72, 2, 10, 400, 20, 200, 40, 200, 50, 0, 51, 360, 73, 1, 97, 0)
	return s.text("ROOM", 1000, 1000, 200, "101")
}

func TestReadUnderlay_chosenLayersInMeters(t *testing.T) {
	ctx := context.Background()
	data := planSketch(4).bytes()
	u, err := ReadUnderlay(ctx, data, []string{"WALL"}, Options{}, nil)
	require.NoError(t, err)
	require.Len(t, u.Lines, 1)
	assert.Equal(t, []geom.Point{{X: 0, Y: 5}, {X: 5, Y: 5}}, u.Lines[0].Points)
	assert.False(t, u.Lines[0].Closed)

	u, err = ReadUnderlay(ctx, data, nil, Options{}, nil)
	require.NoError(t, err)
	assert.Len(t, u.Lines, 2, "all that is shown, without hatching")
	assert.Equal(t, geom.Box{Max: geom.Pt(5, 5)}, u.Bounds)
	assert.True(t, u.Lines[0].Closed)
	require.Len(t, u.Texts, 1)
	assert.Equal(t, []string{"101"}, u.Texts[0].Lines)

	u, err = ReadUnderlay(ctx, data, []string{"OFF"}, Options{}, nil)
	require.NoError(t, err)
	assert.Len(t, u.Lines, 1, "a layer that is off is read where it is chosen")
}

func TestReadUnderlay_takesTheUnitThatIsSaid(t *testing.T) {
	data := planSketch(0).bytes()
	for unit, want := range map[string]float64{"mm": 5, "cm": 50, "in": 127} { // 5000 in x 0.0254
		u, err := ReadUnderlay(context.Background(), data, []string{"WALL"}, Options{Unit: unit}, nil)
		require.NoError(t, err)
		assert.InDelta(t, want, u.Bounds.Width(), 1e-9, unit)
	}
	_, err := ReadUnderlay(context.Background(), data, []string{"NOWHERE"}, Options{Unit: "mm"}, nil)
	assert.Error(t, err)
	_, err = ReadUnderlay(context.Background(), data, nil, Options{Unit: "furlong"}, nil)
	assert.Error(t, err)
	_, err = ReadUnderlay(context.Background(), data[:len(data)/2], nil, Options{Unit: "mm"}, nil)
	assert.Error(t, err, "cut in half")
}

func TestReadUnderlay_canBeStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := ReadUnderlay(ctx, planSketch(4).bytes(), nil, Options{}, nil)
	assert.ErrorIs(t, err, context.Canceled)
}
