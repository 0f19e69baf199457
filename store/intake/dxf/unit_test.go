package dxf

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func survey(t *testing.T, s *sketch) *Contents {
	t.Helper()
	c, err := Survey(context.Background(), s.bytes(), nil)
	require.NoError(t, err)
	return c
}

func TestUnit_codesOfTheHeader(t *testing.T) {
	// Codes as in the format owner's help on $INSUNITS; drawn 12 m wide in each.
	for code, metres := range map[int]float64{1: 0.0254, 2: 0.3048, 4: 0.001, 5: 0.01, 6: 1, 10: 0.9144, 14: 0.1, 21: 1200.0 / 3937} {
		side := 12 / metres
		s := newSketch("AC1015", code).rectangle("R", 0, 0, side, side)
		u := survey(t, s).Unit
		require.True(t, u.Sure, "code %d", code)
		assert.InDelta(t, metres, u.Best.Metres, 1e-12)
		within0_1Percent(t, 144, float64(rooms(t, s)[0].Area), "area")
	}
}

func TestUnit_absentAsksWithSizes(t *testing.T) {
	for _, s := range []*sketch{newSketch("AC1009", -1), newSketch("AC1015", 0), newSketch("AC1015", 99)} {
		s.rectangle("R", 0, 0, 696, 384)
		u := survey(t, s).Unit
		assert.False(t, u.Sure)
		assert.Equal(t, "The drawing names no unit. It would be 58 ft x 32 ft if inches, 696 m x 384 m if meters, 696 ft x 384 ft if feet, 6.96 m x 3.84 m if centimeters. Which?", u.Question)
	}
}

func TestUnit_implausibleSizeAsks(t *testing.T) {
	small := survey(t, newSketch("AC1015", 4).rectangle("A-AREA", 0, 0, 20, 15)).Unit
	assert.False(t, small.Sure)
	assert.Contains(t, small.Question, "The drawing says it is in millimeters, which would make it 0.02 m x 0.01 m.")
	assert.Equal(t, "m", small.Best.Unit)
	large := survey(t, newSketch("AC1015", 6).rectangle("A-AREA", 0, 0, 20000, 15000)).Unit
	assert.False(t, large.Sure)
	assert.Equal(t, "mm", large.Best.Unit)
}

func TestUnit_roomsOfAHandsBreadthAsk(t *testing.T) {
	// 40 m in all if millimeters, which could be; but rooms of 0.12 m2 cannot.
	s := newSketch("AC1015", 4)
	s.add(0, "LINE", 8, "FRAME", 10, 0, 20, 0, 11, 40000, 21, 0)
	s.rectangle("A-AREA", 0, 0, 400, 300).rectangle("A-AREA", 400, 0, 400, 300)
	assert.False(t, survey(t, s).Unit.Sure)
}

func TestUnit_textsInFeetDenyMetric(t *testing.T) {
	s := newSketch("AC1015", 5).rectangle("R", 0, 0, 696, 384)
	s.text("T", 9, 9, 6, "13'8 x 14'").text("T", 9, 99, 6, "8' x 2'").text("T", 9, 199, 6, "12'-6\"")
	u := survey(t, s).Unit
	assert.False(t, u.Sure)
	assert.Equal(t, "in", u.Best.Unit)
	assert.Contains(t, u.Question, "lengths are written in feet and inches")
}

func TestUnit_chosenOrMeasuredWins(t *testing.T) {
	s := newSketch("AC1009", -1).rectangle("R", 0, 0, 120, 100)
	opt := inR
	opt.Unit = "in"
	m := read(t, s.bytes(), opt)
	assert.True(t, m.Unit.Sure)
	assert.Empty(t, m.Unit.Note)
	assert.InDelta(t, 120*100*0.0254*0.0254, float64(m.Storeys[0].Spaces[0].Area), 1e-9)
	opt.MetresPerUnit = 0.05
	m = read(t, s.bytes(), opt)
	assert.InDelta(t, 30, float64(m.Storeys[0].Spaces[0].Area), 1e-9)
	opt.MetresPerUnit = -1
	_, err := Read(context.Background(), s.bytes(), opt, nil)
	assert.ErrorContains(t, err, "measure the known distance again")
	_, err = Read(context.Background(), s.bytes(), Options{RoomLayers: []string{"R"}, Unit: "cubit"}, nil)
	assert.ErrorContains(t, err, `the unit "cubit" is not known: use one of mm, in, m`)
}

func TestRead_refusesLayersThatAreNotThere(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4)
	_, err := Read(context.Background(), s.bytes(), Options{RoomLayers: []string{"NOPE"}}, nil)
	assert.ErrorContains(t, err, "the drawing has no layer 'NOPE'")
	_, err = Read(context.Background(), s.bytes(), Options{}, nil)
	assert.ErrorContains(t, err, "no layer is chosen")
}
