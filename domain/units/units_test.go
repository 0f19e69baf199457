package units_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain/units"
)

func TestNumberReadsWhatPeopleWrite(t *testing.T) {
	for text, want := range map[string]float64{"12": 12, " 1.5 ": 1.5, "1,5": 1.5, "1,234.5": 1234.5, "1,234,567": 1234567, ".5": .5, "-3": -3, "1 200": 1200, "0,125": 0} {
		got, err := units.Number(text)
		if text == "0,125" { // three digits after one comma: two meanings
			assert.ErrorContains(t, err, "can mean")
			continue
		}
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "NaN", "Inf", "0x10", "1_000", "1e300", "twelve", "1,200", "1.2.3", "--1"} {
		_, err := units.Number(text)
		assert.Error(t, err, text)
	}
}

func TestLengths(t *testing.T) {
	for text, want := range map[string]float64{`9'6"`: 2.8956, "9 ft 6 in": 2.8956, "9 ft": 2.7432, `18"`: 0.4572, "9'": 2.7432, "9'-6\"": 2.8956} {
		got, err := units.ParseLength(text, units.US)
		require.NoError(t, err, text)
		assert.InDelta(t, want, float64(got), 1e-9, text)
	}
	got, err := units.ParseLength("2,74", units.SI)
	require.NoError(t, err)
	assert.Equal(t, units.Metres(2.74), got)
	got, err = units.ParseLength("2740 mm", units.US)
	require.NoError(t, err)
	assert.InDelta(t, 2.74, float64(got), 1e-9)
	assert.Equal(t, "9 ft 6 in", units.Length(2.8956, units.US))
	assert.Equal(t, "9 ft", units.Length(2.7432, units.US))
	assert.Equal(t, "2.74 m", units.Length(2.74, units.SI))
	_, err = units.ParseLength("high", units.US)
	assert.Error(t, err)
}

// 864 ft2 = 80.27 m2: 1 ft = 0.3048 m exactly (international yard and pound agreement, 1959).
func TestAreas(t *testing.T) {
	a, err := units.ParseArea("864", units.US)
	require.NoError(t, err)
	assert.InDelta(t, 80.268226, float64(a), 1e-6)
	assert.Equal(t, "864 sq ft", units.Area(a, units.US))
	assert.Equal(t, "80.3 m2", units.Area(a, units.SI))
	b, err := units.ParseArea("80.3 m2", units.US)
	require.NoError(t, err)
	assert.Equal(t, units.SquareMetres(80.3), b)
	_, err = units.ParseArea("12 acres", units.US)
	assert.ErrorContains(t, err, "use sq ft")
	for _, text := range []string{"864 sq ft", "864 ft2", "864 sf", "864 Sq. Ft."} {
		same, err := units.ParseArea(text, units.SI)
		require.NoError(t, err, text)
		assert.Equal(t, a, same, text)
	}
	assert.Equal(t, "864.3 sq ft", units.AreaTo(80.3, 1, units.US), "80.3 / 0.3048^2 = 864.34")
	assert.Equal(t, "80.27 m2", units.AreaTo(a, 2, units.SI))
}

func TestDurations(t *testing.T) {
	for text, want := range map[string]units.Seconds{"20": 1200, "20 min": 1200, "90 s": 90, "1 h 30 min": 5400, "2h": 7200, "1.5 h": 5400, "1 min 30 s": 90} {
		got, err := units.ParseDuration(text, "min")
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for want, s := range map[string]units.Seconds{"20 min": 1200, "90 s": 90, "1 h": 3600, "90 min": 5400, "1 min": 60, "0 s": 0, "2 min 5 s": 125} {
		assert.Equal(t, want, units.Duration(s))
	}
	_, err := units.ParseDuration("soon", "min")
	assert.Error(t, err)
}

func TestADurationReadsBackWhatItPrints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := units.Seconds(rapid.IntRange(0, 100000).Draw(t, "s"))
		back, err := units.ParseDuration(units.Duration(s), "s")
		require.NoError(t, err)
		require.Equal(t, s, back)
	})
}

func TestLevels(t *testing.T) {
	l, err := units.ParseLevel("80 %")
	require.NoError(t, err)
	assert.Equal(t, units.Level(80), l)
	for _, text := range []string{"-1", "100.1", "x", ""} {
		_, err := units.ParseLevel(text)
		assert.Error(t, err, text)
	}
}

func TestAtMostForgivesRounding(t *testing.T) {
	assert.True(t, units.AtMost(48*38/(120*.95), 16))
	assert.True(t, units.AtMost(0.1+0.2, 0.3))
	assert.False(t, units.AtMost(16.0001, 16))
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{`9'6"`, "80.3 m2", "20 min", "1,234", "'\"", "ft", "in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		_, _ = units.ParseLength(s, units.US)
		_, _ = units.ParseArea(s, units.SI)
		_, _ = units.ParseDuration(s, "s")
		_, _ = units.ParseLevel(s)
	})
}

func TestNearly(t *testing.T) {
	for m, want := range map[units.Metres][2]string{1.1: {"3 ft 7 in", "1.1 m"}, 0.25: {"10 in", "0.25 m"}, 10.1274: {"33 ft 3 in", "10.13 m"}, 0: {"0 in", "0 m"}, 3.6576: {"12 ft", "3.66 m"}} {
		assert.Equal(t, want[0], units.Nearly(m, units.US))
		assert.Equal(t, want[1], units.Nearly(m, units.SI))
	}
}

// Halves go up, and what sums of a drawing leave of one is a half: 52.5 sq ft.
func TestArea_roundsHalvesAlike(t *testing.T) {
	for feet, want := range map[float64]string{52.49: "52 sq ft", 52.5: "53 sq ft", 52.4999999999: "53 sq ft", 52.5000000001: "53 sq ft", 53.5: "54 sq ft"} {
		assert.Equal(t, want, units.Area(units.SquareMetres(feet*units.SquareMetresPerSquareFoot), units.US), "%g", feet)
	}
	assert.Equal(t, "22.5 sq ft", units.AreaTo(units.SquareMetres(22.4999999999*units.SquareMetresPerSquareFoot), 1, units.US))
	assert.Equal(t, "8.3 m2", units.Area(8.25, units.SI))
}
