package gbxml

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/store/intake/building"
)

const glazing = `<WindowType id="g"><SolarHeatGainCoeff unit="Fraction">0.4</SolarHeatGainCoeff>
<Transmittance unit="Fraction" type="Solar" surfaceType="1">0.3</Transmittance>
<Transmittance unit="Fraction" type="Visible" solarIncidentAngle="60">0.5</Transmittance>
<Transmittance unit="Fraction" type="Visible" surfaceType="1">0.7</Transmittance></WindowType>
<WindowType id="p"><Transmittance unit="Percent" type="Visible">50</Transmittance></WindowType>
<WindowType id="odd"><Transmittance unit="Fraction" type="Visible">7</Transmittance></WindowType></gbXML>`

func glazed(kind, glass string, points ...[]float64) string {
	return strings.Replace(opening(kind, points...), "<Opening ", `<Opening windowTypeIdRef="`+glass+`" `, 1)
}

// Diffuse transmittance is 0.8630 of that at normal incidence: see building.Diffuse.
func TestWindows_glassAndWhatLiesBehindIt(t *testing.T) {
	spaces := space(`id="a"`, "A", box(0, 0, 4, 3, 0, 3)) + space(`id="b"`, "B", box(4, 0, 4, 3, 0, 3))
	walls := surface(`id="1" surfaceType="ExteriorWall"`, "a", planar(upright(0, 0, 4, 0, 0, 3)...)+glazed("FixedWindow", "g", upright(1, 0, 2, 0, 1, 2)...)+glazed("FixedWindow", "none", upright(2, 0, 3, 0, 1, 2)...)+
		glazed("OperableWindow", "odd", upright(3, 0, 3.5, 0, 1, 2)...)) +
		surface(`id="2" surfaceType="InteriorWall"`, "a b", planar(upright(4, 0, 4, 3, 0, 3)...)+glazed("FixedWindow", "p", upright(4, 1, 4, 2, 1, 2)...)+opening("NonSlidingDoor", upright(4, 2, 4, 2.9, 0, 2)...))
	m := readAll(t, []byte(strings.Replace(file(metric, spaces, walls), "</gbXML>", glazing, 1)))
	w := m.Storeys[0].Walls
	require.Len(t, w, 2)
	assert.Equal(t, []float64{0.604, 0, 0}, []float64{w[0].Openings[0].Glass, w[0].Openings[1].Glass, w[0].Openings[2].Glass}, "0.7 x 0.8630; the glazing that is not there and the one of 7 say nothing")
	assert.InDelta(t, 0.432, w[1].Openings[0].Glass, 1e-9, "50 percent x 0.8630")
	assert.True(t, w[1].Openings[0].Indoors, "a space on either side")
	assert.False(t, w[0].Openings[0].Indoors)
	assert.False(t, w[1].Openings[1].Indoors, "a door is no window")
	assert.Contains(t, messages(m), `The visible transmittance "7" of a glazing is no share from 0 to 1`)
	assert.Contains(t, strings.Join(m.Notes, "\n"), "2 openings' glass was taken from the file")
}

func TestRooflights_ofRoofs(t *testing.T) {
	spaces := space(`id="a"`, "A", box(0, 0, 8, 6, 0, 3)) + space(`id="b"`, "B", box(8, 0, 4, 6, 0, 3))
	slope := [][]float64{{9, 1, 3}, {11, 1, 3}, {11, 2, 3.5}, {9, 2, 3.5}}
	ell := [][]float64{{1, 4, 3}, {3, 4, 3}, {3, 5, 3}, {2, 5, 3}, {2, 6, 3}, {1, 6, 3}}
	roofs := surface(`id="1" surfaceType="Roof"`, "a", planar(flat(0, 0, 8, 6, 3)...)+glazed("FixedSkylight", "g", flat(5, 1, 2, 1, 3)...)+opening("OperableSkylight", ell...)+opening("FixedWindow", flat(1, 1, 1, 1, 3)...)+opening("Air", flat(4, 4, 1, 1, 3)...)) +
		surface(`id="2" surfaceType="Roof"`, "b", planar([]float64{8, 0, 2.5}, []float64{12, 0, 2.5}, []float64{12, 6, 5.5}, []float64{8, 6, 5.5})+opening("FixedSkylight", slope...)) +
		surface(`id="3" surfaceType="Ceiling"`, "a b", planar(flat(0, 0, 1, 1, 3)...)+opening("FixedSkylight", flat(0, 0, 1, 1, 3)...)) +
		surface(`id="4" surfaceType="ExposedFloor"`, "a", planar(flat(0, 0, 8, 6, 0)...)+opening("FixedWindow", flat(6, 4, 1, 1, 0)...)) +
		surface(`id="5" surfaceType="Roof"`, "a", planar(upright(0, 0, 0, 6, 0, 3)...)+opening("FixedSkylight", upright(0, 1, 0, 2, 1, 2)...))
	m := readAll(t, []byte(strings.Replace(file(metric, spaces, roofs), "</gbXML>", glazing, 1)))
	got := m.Storeys[0].Rooflights
	require.Len(t, got, 4, "neither the hole, nor glass between spaces, in the floor or in a wall of roof")
	assert.Equal(t, "6 1.5", places(got[0]))
	assert.InDelta(t, 2, float64(got[0].Width), 1e-9)
	assert.InDelta(t, 1, float64(got[0].Length), 1e-9)
	assert.InDelta(t, 0.604, got[0].Glass, 1e-9)
	assert.Equal(t, "a", got[0].Space)
	assert.InDelta(t, 3, float64(got[1].Width*got[1].Length), 1e-9, "an L of 3 m2")
	assert.Zero(t, got[1].Glass)
	assert.Equal(t, "1.5 1.5", places(got[2]), "a flat window in a roof")
	assert.Equal(t, "10 1.5", places(got[3]))
	assert.Equal(t, "b", got[3].Space)
	said := strings.Join(m.Notes, "\n")
	for _, want := range []string{"1 rooflight lies in a roof as steep as a wall", "1 rooflight is sloped", "1 rooflight is no rectangle"} {
		assert.Contains(t, said, want)
	}
}

func places(l building.Rooflight) string { return fmt.Sprintf("%.4g %.4g", l.At.X, l.At.Y) }

// Counted in the files by a script of its own: glass by the spaces that its surface
// names. The two skylights of the ring lie 0.622 by 0.620 m on the plan, in a roof
// of 45 degrees; its glazing states 0.81, those of the clubhouse and the office 0.07, of retail 0.73 and 0.78.
func TestSharedModels_rooflightsAndGlass(t *testing.T) {
	for name, want := range map[string]struct {
		lights int
		glass  map[float64]int
	}{
		"ring-three-storey": {2, map[float64]int{0.699: 96}}, "clubhouse-two-storey": {0, map[float64]int{0.06: 9}}, "office-two-storey": {0, map[float64]int{0.06: 68}},
		"retail-two-storey-utf16": {0, map[float64]int{0.63: 54, 0.673: 34}}, "office-two-storey-no-storeys": {0, map[float64]int{0: 72}}, "labs-one-storey-inches": {0, map[float64]int{0: 9}},
	} {
		t.Run(name, func(t *testing.T) {
			m := readAll(t, shared(t, name))
			lights, glass := 0, map[float64]int{}
			for _, s := range m.Storeys {
				lights += len(s.Rooflights)
				for _, l := range s.Rooflights {
					assert.InDelta(t, 0.6221, float64(l.Width), 1e-4)
					assert.InDelta(t, 0.6195, float64(l.Length), 1e-4)
					assert.InDelta(t, 2.05176, l.At.Y, 1e-5)
					assert.InDelta(t, 0.699, l.Glass, 1e-9)
				}
				for _, w := range s.Walls {
					for _, o := range w.Openings {
						if o.Kind == building.Window {
							glass[o.Glass]++
							assert.False(t, o.Indoors, "all are of one space")
						}
					}
				}
			}
			assert.Equal(t, want.lights, lights)
			assert.Equal(t, want.glass, glass)
		})
	}
}
