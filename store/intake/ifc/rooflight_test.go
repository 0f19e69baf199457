package ifc

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/store/intake/building"
)

// The opening of one of them by hand: placed at 0.417, -17.383 on the roof, its
// profile of 1.0291 by 1.0811 m at 0.959, 6.718 in there.
func TestDuplex_skylightsOverTheHallways(t *testing.T) {
	m := read(t, shared(t, duplex))
	for i, n := range []int{0, 0, 2, 0} {
		require.Len(t, m.Storeys[i].Rooflights, n, m.Storeys[i].Name)
	}
	l := m.Storeys[2].Rooflights[0]
	assert.InDelta(t, 0.417+0.959, l.At.X, 1e-6)
	assert.InDelta(t, -17.383+6.718, l.At.Y, 1e-6)
	assert.InDelta(t, 1.0291, float64(l.Width), 1e-6)
	assert.InDelta(t, 1.0811, float64(l.Length), 1e-6)
	assert.Zero(t, l.Turn)
	assert.Zero(t, l.Glass, "the file states none")
	over := map[string]string{}
	for _, s := range m.Storeys[2].Spaces {
		over[s.Key] = s.Number
	}
	assert.Equal(t, []string{"B201", "A201"}, []string{over[m.Storeys[2].Rooflights[0].Space], over[m.Storeys[2].Rooflights[1].Space]}, "the two hallways")
}

// states gives a window a property set, of its own or by its type.
func states(p *plot, name string, value string, byType bool) {
	prop := p.add("IFCPROPERTYSINGLEVALUE('%s',$,IFCREAL(%s),$)", name, value)
	set := p.add("IFCPROPERTYSET('set%d',$,'Pset_DoorWindowGlazingType',$,(%s))", p.next, prop)
	window := ""
	for _, line := range p.lines {
		if id, _, is := strings.Cut(line, "=IFCWINDOW("); is {
			window = id
		}
	}
	if !byType {
		p.add("IFCRELDEFINESBYPROPERTIES('d%d',$,$,$,(%s),%s)", p.next, window, set)
		return
	}
	kind := p.add("IFCWINDOWTYPE('t%d',$,'T',$,$,(%s),$,$,$,.WINDOW.,.SINGLE_PANEL.,$,$)", p.next, set)
	p.add("IFCRELDEFINESBYTYPE('dt%d',$,$,$,(%s),%s)", p.next, window, kind)
}

// Diffuse transmittance is 0.8630 of that at normal incidence: see building.Diffuse.
func TestWindows_glassOfPropertySets(t *testing.T) {
	for name, c := range map[string]struct {
		state func(p *plot)
		want  float64
		says  string
	}{
		"own set":     {func(p *plot) { states(p, "VisibleLightTransmittance", "0.7", false) }, 0.604, "The glass of 1 opening was taken from the file"},
		"of the type": {func(p *plot) { states(p, "Translucency", "0.5", true) }, 0.432, "86 %"},
		"own first": {func(p *plot) {
			states(p, "Translucency", "0.5", true)
			states(p, "VisibleLightTransmittance", "0.7", false)
		}, 0.604, ""},
		"another name": {func(p *plot) { states(p, "SolarTransmittance", "0.7", false) }, 0, ""},
		"no share":     {func(p *plot) { states(p, "VisibleLightTransmittance", "70.", false) }, 0, "is no share from 0 to 1"},
	} {
		p := newPlot()
		house(p, true)
		c.state(p)
		m := read(t, p.bytes())
		require.Len(t, m.Storeys[0].Walls, 1)
		require.Len(t, m.Storeys[0].Walls[0].Openings, 1, name)
		o := m.Storeys[0].Walls[0].Openings[0]
		assert.InDelta(t, c.want, o.Glass, 1e-9, name)
		assert.False(t, o.Indoors, name)
		assert.InDelta(t, c.want, only(t, m).Windows[0].Glass, 1e-9, name)
		assert.Contains(t, messages(m), c.says, name)
	}
}

func TestWindows_betweenTwoRoomsAreMarked(t *testing.T) {
	p := newPlot()
	house(p, true)
	storey, at := p.storey("Level 1 again", 10)
	p.space(storey, p.placement(at, 0, -3.2, 0), p.box(4, 3, 2.7), "102", "Hall")
	m := read(t, p.bytes())
	require.Len(t, m.Storeys[0].Walls[0].Openings, 1)
	assert.True(t, m.Storeys[0].Walls[0].Openings[0].Indoors)
}

// roofed is a room under a slab with a hole of a shape for a window, extruded upright.
func roofed(xy ...float64) *plot {
	p := newPlot()
	storey, at := p.storey("Level 1", 0)
	p.space(storey, p.placement(at, 0, 0, 0), p.box(6, 4, 3), "101", "Hall")
	slabAt := p.placement(at, 0, 0, 3)
	slab := p.add("IFCSLAB('s',$,'S',$,$,%s,%s,$,.ROOF.)", slabAt, p.box(6, 4, 0.3))
	p.add("IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(%s),%s)", slab, storey)
	holeAt := p.placement(slabAt, 1, 1, 0)
	window := p.add("IFCWINDOW('win',$,'V1',$,$,%s,$,$,2.,1.,$,$,$)", holeAt)
	profile := p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(xy...))
	hole := p.add("IFCOPENINGELEMENT('o',$,'O',$,$,%s,%s,$,$)", holeAt, p.shape("Body", p.extruded(profile, 0.3)))
	p.add("IFCRELVOIDSELEMENT('v',$,$,$,%s,%s)", slab, hole)
	p.add("IFCRELFILLSELEMENT('f',$,$,$,%s,%s)", hole, window)
	return p
}

func TestSkylights_ofASlab(t *testing.T) {
	p := roofed(0, 0, 1, 0, 1, 2, 0, 2)
	states(p, "VisibleLightTransmittance", "0.6", false)
	m := read(t, p.bytes())
	require.Len(t, m.Storeys[0].Rooflights, 1)
	l := m.Storeys[0].Rooflights[0]
	assert.InDelta(t, 1.5, l.At.X, 1e-9)
	assert.InDelta(t, 2, l.At.Y, 1e-9)
	assert.InDelta(t, 1, float64(l.Width), 1e-9)
	assert.InDelta(t, 2, float64(l.Length), 1e-9)
	assert.InDelta(t, 0.518, l.Glass, 1e-9, "0.6 x 0.8630")
	assert.Equal(t, building.Skylight, only(t, m).Windows[0].Kind)

	m = read(t, roofed(0, 0, 2, 0, 2, 1, 1, 1, 1, 2, 0, 2).bytes())
	require.Len(t, m.Storeys[0].Rooflights, 1)
	assert.InDelta(t, 3, float64(m.Storeys[0].Rooflights[0].Width*m.Storeys[0].Rooflights[0].Length), 1e-9, "an L of 3 m2")
	assert.Contains(t, messages(m), "1 rooflight was drawn as a rectangle of the same area.")
}
