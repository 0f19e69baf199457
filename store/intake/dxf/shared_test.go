package dxf

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/store/intake/building"
)

// The numbers in this file are those of SOURCES.md beside the plans, computed
// there from the models by another geometry library.

func TestSharedPlans_roomsAndAreas(t *testing.T) {
	for _, c := range []struct {
		file, source, unit string
		opt                Options
		total              float64
		rooms              map[string]float64
		count              int
	}{
		{
			file: "derived-retail-level1-mm.dxf", source: "DXF 2010", unit: "millimeters", count: 8, total: 985.256,
			rooms: map[string]float64{"Atrium": 110.577, "Corridor": 65.520, "Corridor Technical": 88.617, "Toilets": 67.461, "Kitchen": 79.079, "Restoran": 277.743},
		},
		{
			file: "derived-retail-level2-binary-m.dxf", source: "binary DXF 2000", unit: "meters", count: 7, total: 874.586,
			rooms: map[string]float64{"Corridor Technical": 88.617, "Toilets": 67.461, "Dispetcher": 79.079, "Corridor Office": 91.695, "Office": 182.908, "Dressing rooms": 73.387, "Gymnasium": 291.440},
		},
		{
			file: "derived-office-ground-r12-inch.dxf", source: "DXF R12", unit: "inches", opt: Options{Unit: "in"}, count: 17, total: 704.179,
			rooms: map[string]float64{"Open": 371.366, "Stairwell": 23.537},
		},
	} {
		t.Run(c.file, func(t *testing.T) {
			data := shared(t, c.file)
			survey, err := Survey(context.Background(), data, nil)
			require.NoError(t, err)
			opt := survey.Suggested()
			assert.Equal(t, []string{"A-AREA"}, opt.RoomLayers)
			opt.Unit = c.opt.Unit
			m := read(t, data, opt)
			assert.Equal(t, c.source, m.Source)
			assert.Equal(t, c.unit, m.Unit.Name)
			assert.True(t, m.Unit.Sure)
			spaces := m.Storeys[0].Spaces
			require.Len(t, spaces, c.count)
			total, named := 0.0, map[string]building.Space{}
			for _, s := range spaces {
				total += float64(s.Area)
				named[s.Name] = s
				assert.NotEmpty(t, s.Number, "number of %s", s.Name)
				assert.Equal(t, FromClosedLine, s.OutlineFrom)
				assert.Empty(t, s.Outline.Validate())
			}
			within0_1Percent(t, c.total, total, "total")
			for name, area := range c.rooms {
				within0_1Percent(t, area, float64(named[name].Area), name)
			}
		})
	}
}

func TestSharedPlans_surveyShowsLayersAndUnit(t *testing.T) {
	s, err := Survey(context.Background(), shared(t, "derived-retail-level1-mm.dxf"), nil)
	require.NoError(t, err)
	assert.Equal(t, "AC1024", s.Version)
	assert.Equal(t, "millimeters", s.Unit.Declared)
	require.True(t, s.Unit.Sure)
	area, names := s.Layers[0], s.Layers[1]
	assert.Equal(t, "A-AREA", area.Name)
	assert.Equal(t, Rooms, area.Suggested)
	assert.Equal(t, 8, area.Closed)
	within0_1Percent(t, 985.256e6, area.Area, "square millimeters")
	assert.Equal(t, Names, names.Suggested)
	assert.Equal(t, 8, names.Texts)
	assert.Len(t, names.Samples, maxSamples)
	// $EXTMIN is 1e20 in this file, "unset": the extents come from the entities.
	assert.InDelta(t, 20030, s.Max.X-s.Min.X, 1)
}

func TestSharedPlans_drawingWithoutUnitAsks(t *testing.T) {
	data := shared(t, "derived-office-ground-r12-inch.dxf")
	m := read(t, data, Options{RoomLayers: []string{"A-AREA"}})
	assert.False(t, m.Unit.Sure)
	assert.Contains(t, m.Unit.Note, "The drawing names no unit. It would be 99 ft x 99 ft if inches")
	require.NotEmpty(t, m.Problems)
	assert.True(t, m.Problems[0].Fatal)
}

func TestSharedPlans_headerThatLies(t *testing.T) {
	data := shared(t, "house-walls-unit-mislabelled.dxf")
	s, err := Survey(context.Background(), data, nil)
	require.NoError(t, err)
	assert.Equal(t, "ANSI_1252", s.Encoding)
	assert.Equal(t, "millimeters", s.Unit.Declared)
	assert.False(t, s.Unit.Sure)
	assert.Equal(t, "in", s.Unit.Best.Unit)
	assert.Contains(t, s.Unit.Question, "says it is in millimeters")
	assert.Contains(t, s.Unit.Question, "if inches")
	assert.InDelta(t, 696, s.Longest, 1e-6, "overall dimension, 58 ft")

	// Layers of a bound drawing carry its name: people know what follows the $.
	wall, print := byShortName(t, s, "A-WALL"), byShortName(t, s, "A-FOOTPRINT")
	assert.Contains(t, wall.Name, "$0$A-WALL")
	assert.Equal(t, Walls, wall.Suggested)
	assert.Equal(t, 170, wall.Kinds["LINE"])
	assert.Equal(t, 4, print.Closed)
	assert.InDelta(t, 235856+4472+68096+17200, print.Area, 0.5)
	inserts := 0
	for _, l := range s.Layers {
		inserts += l.Kinds["INSERT"]
	}
	assert.Equal(t, 10, inserts)

	m := read(t, data, Options{RoomLayers: []string{print.Name}, WallLayers: s.Suggested().WallLayers, Unit: "in"})
	spaces := m.Storeys[0].Spaces
	require.Len(t, spaces, 4)
	within0_1Percent(t, 152.16, float64(spaces[0].Area), "main outline read as inches")
	assert.Equal(t, []string{wall.Name}, s.Suggested().WallLayers)

	m = read(t, data, Options{RoomLayers: []string{print.Name}, Unit: "mm"})
	within0_1Percent(t, 0.235856, float64(m.Storeys[0].Spaces[0].Area), "main outline read as millimeters")
}

func TestSharedPlans_wallLines(t *testing.T) {
	data := shared(t, "house-walls-unit-mislabelled.dxf")
	d, err := parse(context.Background(), data, nil)
	require.NoError(t, err)
	sc, err := draw(context.Background(), d)
	require.NoError(t, err)
	length, count, extent := 0.0, 0, noBox()
	for _, s := range sc.strokes {
		if s.kind == "LINE" && shortName(d.layers[s.layer].name) == "A-WALL" {
			ring := s.ring(s.at, finestTurn)
			length += ring[0].Distance(ring[1])
			extent.ring(ring)
			count++
		}
	}
	assert.Equal(t, 170, count)
	assert.InDelta(t, 8128.117, length, 0.001)
	assert.InDelta(t, -648.773, extent.min.X, 0.001)
	assert.InDelta(t, 143.227, extent.max.X, 0.001)
	assert.InDelta(t, -216.633, extent.min.Y, 0.001)
	assert.InDelta(t, 347.367, extent.max.Y, 0.001)
}

// A plan without room outlines is still of use below the drawing.
func TestSharedPlans_underlay(t *testing.T) {
	data := shared(t, "house-walls-unit-mislabelled.dxf")
	u, err := ReadUnderlay(context.Background(), data, nil, Options{Unit: "in"}, nil)
	require.NoError(t, err)
	assert.Greater(t, len(u.Lines), 600)
	assert.Greater(t, len(u.Texts), 80)
	assert.InDelta(t, 22.0, u.Bounds.Width(), 0.1)
}

func BenchmarkRead_largestSharedDrawing(b *testing.B) {
	data := shared(b, "house-walls-unit-mislabelled.dxf")
	s, err := Survey(context.Background(), data, nil)
	require.NoError(b, err)
	opt := Options{RoomLayers: []string{byShortName(b, s, "A-FOOTPRINT").Name}, WallLayers: []string{byShortName(b, s, "A-WALL").Name}, Unit: "in"}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Read(context.Background(), data, opt, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func byShortName(t testing.TB, s *Contents, short string) Layer {
	t.Helper()
	for _, l := range s.Layers {
		if l.Short == short {
			return l
		}
	}
	require.Fail(t, "no layer "+short)
	return Layer{}
}
