package geom_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/geom"
)

func TestJSON_writesTheSameBytesAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p geom.Polygon
		for range rapid.IntRange(0, 6).Draw(t, "points") {
			p.Outer = append(p.Outer, geom.Pt(rapid.Float64Range(-1e6, 1e6).Draw(t, "x"), rapid.Float64Range(-1e6, 1e6).Draw(t, "y")))
		}
		first, err := json.Marshal(p)
		require.NoError(t, err)
		var back geom.Polygon
		require.NoError(t, json.Unmarshal(first, &back))
		second, err := json.Marshal(back)
		require.NoError(t, err)
		require.Equal(t, string(first), string(second))
		for i := range p.Outer {
			require.InDelta(t, p.Outer[i].X, back.Outer[i].X, 5e-5+1e-9)
		}
	})
}

func TestJSON_form(t *testing.T) {
	b, err := json.Marshal(geom.Polygon{Outer: []geom.Point{{X: 0, Y: -0.00001}, {X: 1.00004, Y: 0}, {X: 1, Y: 2}}, Holes: [][]geom.Point{{{X: 0.1, Y: 0.1}}}})
	require.NoError(t, err)
	assert.Equal(t, `[[[0,0],[1,0],[1,2]],[[0.1,0.1]]]`, string(b))
	var p geom.Point
	for _, bad := range []string{`[1]`, `[1,2,3]`, `{}`, `["a",1]`, `null x`} {
		assert.Error(t, json.Unmarshal([]byte(bad), &p), bad)
	}
	_, err = json.Marshal(geom.Pt(math.NaN(), 0))
	assert.Error(t, err)
	assert.True(t, geom.Polygon{}.IsZero())
}
