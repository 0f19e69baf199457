package ifc

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/store/intake/building"
)

// The numbers in this file are those of SOURCES.md beside the plans, computed
// there from the model by another geometry library.

const duplex = "duplex-two-storey.ifc"

func TestDuplex_instancesAndStoreys(t *testing.T) {
	data := shared(t, duplex)
	f, err := scan(context.Background(), data, nil)
	require.NoError(t, err)
	assert.Len(t, f.instances, 38898)
	assert.Len(t, f.all("IFCSPACE"), 21)
	assert.Len(t, f.all("IFCWINDOW"), 24)
	assert.Len(t, f.all("IFCDOOR"), 14)
	assert.Len(t, f.all(boundaryKinds...), 265)

	m := read(t, data)
	assert.Equal(t, "IFC 2x3", m.Source)
	assert.Equal(t, building.Unit{Name: "meters", Metres: 1, Sure: true}, m.Unit)
	want := []struct {
		name   string
		level  float64
		spaces int
	}{{"T/FDN", -1.25, 0}, {"Level 1", 0, 10}, {"Level 2", 3.1, 10}, {"Roof", 6, 1}}
	require.Len(t, m.Storeys, len(want))
	for i, w := range want {
		s := m.Storeys[i]
		assert.Equal(t, w.name, s.Name)
		assert.Equal(t, w.level, float64(s.Level), "noise like 3.100000000000378 is gone")
		assert.Len(t, s.Spaces, w.spaces, w.name)
		assert.False(t, s.Derived)
	}
}

func TestDuplex_boundariesWithoutElement(t *testing.T) {
	f, err := scan(context.Background(), shared(t, duplex), nil)
	require.NoError(t, err)
	r := &reader{f: f}
	open := 0
	for _, b := range r.boundaries() {
		if b.element == 0 {
			open++
		}
	}
	assert.Equal(t, 28, open)
}

func TestDuplex_areasByGeometryAndAsStated(t *testing.T) {
	m := read(t, shared(t, duplex))
	found := map[string]building.Space{}
	stated := 0.0
	for _, st := range m.Storeys {
		for _, s := range st.Spaces {
			found[s.Number] = s
			stated += float64(s.DeclaredArea)
			assert.Empty(t, s.Outline.Validate(), s.Number)
		}
	}
	assert.InDelta(t, 422.047, stated, 0.001)
	for number, c := range map[string]struct {
		name           string
		area, declared float64
	}{
		"A102": {"Living Room", 27.660, 30.142},
		"A103": {"Kitchen", 12.954, 13.898},
		"A203": {"Bedroom 2", 22.043, 26.178},
		"R301": {"Roof", 135.151, 145.722},
	} {
		s := found[number]
		assert.Equal(t, c.name, s.Name)
		assert.Equal(t, FromExtrusion, s.OutlineFrom)
		assert.InEpsilon(t, c.area, float64(s.Area), 0.001, number)
		assert.InEpsilon(t, c.declared, float64(s.DeclaredArea), 0.001, number)
	}
	// These two have no extruded body: their faces' lowest level gives the plan.
	for _, number := range []string{"A201", "B201"} {
		assert.Equal(t, building.FromClosedShell, found[number].OutlineFrom)
		assert.Greater(t, float64(found[number].Area), 6.0)
	}
	// Stairs are several solids, some extruded sideways, through two storeys.
	for _, number := range []string{"A105", "B105"} {
		s := found[number]
		assert.Equal(t, building.FromPlanShadow, s.OutlineFrom)
		assert.InDelta(t, 5.7-0.019, float64(s.Ceiling-s.Floor), 0.001)
		assert.Less(t, float64(s.Area), 4.922, "the plan is never more than the stated area with its walls")
	}
}

func TestDuplex_windows(t *testing.T) {
	m := read(t, shared(t, duplex))
	windows, sky, doors := 0, 0, 0
	for _, st := range m.Storeys {
		for _, s := range st.Spaces {
			for _, w := range s.Windows {
				if w.Kind == building.Skylight {
					sky++
					assert.Equal(t, w.Sill, w.Head)
					continue
				}
				windows++
				assert.Greater(t, float64(w.Head), float64(w.Sill))
			}
			if s.Number == "A102" {
				// The window's name in the file says 4835 mm x 2420 mm; it lies
				// 100 mm over the storey, whose finish is 19 mm thick.
				require.Len(t, s.Windows, 1)
				w := s.Windows[0]
				assert.InDelta(t, 4.835, w.A.Distance(w.B), 1e-6)
				assert.InDelta(t, 2.420, float64(w.Head-w.Sill), 1e-6)
				assert.InDelta(t, 0.081, float64(w.Sill), 1e-6)
				assert.InDelta(t, 4.835*2.420, float64(w.Area), 1e-6)
			}
		}
		for _, w := range st.Walls {
			for _, o := range w.Openings {
				if o.Kind == building.Door {
					doors++
				}
			}
		}
	}
	assert.Equal(t, 22, windows)
	assert.Equal(t, 2, sky)
	assert.Equal(t, 14, doors)
}

func TestDuplex_walls(t *testing.T) {
	m := read(t, shared(t, duplex))
	walls, outer := 0, 0
	for _, st := range m.Storeys {
		for _, w := range st.Walls {
			walls++
			if w.Kind == building.ExteriorWall && float64(w.Thickness) == 0.417 {
				outer++
			}
		}
	}
	assert.Equal(t, 57, walls, "56 standard walls and one other")
	assert.GreaterOrEqual(t, outer, 8, "two storeys of four outer walls")
}

func BenchmarkRead_duplex(b *testing.B) {
	data := shared(b, duplex)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Read(context.Background(), data, Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
