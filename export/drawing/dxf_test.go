package drawing_test

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// entity is one of a DXF file, read by the rule of the format alone: a group code on one
// line, its value on the next.
type entity struct {
	kind   string
	values map[int]string
}

func readDXF(t *testing.T, v *drawing.View) (entities []entity, header map[string]string, text string) {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, drawing.DXF(&out, v))
	text = out.String()
	lines := strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n")
	require.Zero(t, len(lines)%2, "codes and values come in pairs")
	header = map[string]string{}
	name := ""
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		require.NoError(t, err, "line %d", i+1)
		value := lines[i+1]
		switch {
		case code == 0:
			entities = append(entities, entity{value, map[int]string{}})
		case code == 9:
			name = value
		case len(entities) > 0:
			if entities[len(entities)-1].kind == "SECTION" && name != "" {
				header[name] = value
			}
			entities[len(entities)-1].values[code] = value
		}
	}
	return entities, header, text
}

// rings gathers the closed polylines of a layer.
func rings(t *testing.T, entities []entity, layer string) (out [][]geom.Point) {
	t.Helper()
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		return v
	}
	for _, e := range entities {
		if e.values[8] != layer {
			continue
		}
		switch e.kind {
		case "POLYLINE":
			assert.Equal(t, "1", e.values[70], "closed")
			out = append(out, nil)
		case "VERTEX":
			out[len(out)-1] = append(out[len(out)-1], geom.Pt(number(e.values[10]), number(e.values[20])))
		}
	}
	return out
}

func TestDXF_isTheStoreyAtFullSize(t *testing.T) {
	for sys, unit := range map[units.System]string{units.SI: "6", units.US: "1"} {
		p, plan, rooms := classrooms(3, sys)
		entities, header, _ := readDXF(t, drawing.StoreyView(p, plan, rooms, drawing.Options{}))
		assert.Equal(t, unit, header["$INSUNITS"])
		meters := 1.0
		if sys == units.US {
			meters = 0.0254 // an inch, by definition
		}
		shapes := rings(t, entities, "ROOMS")
		require.Len(t, shapes, 3)
		for i, r := range shapes {
			assert.InDelta(t, rooms[i].Outline.Area(), geom.Polygon{Outer: r}.Area()*meters*meters, 1e-3)
		}
		walls := rings(t, entities, "WALLS")
		assert.Len(t, walls, 3*(3+2+1+1), "pieces between openings")
		layers, texts, points := map[string]bool{}, map[string]int{}, 0
		for _, e := range entities {
			switch e.kind {
			case "LAYER":
				layers[e.values[2]] = true
			case "TEXT":
				texts[e.values[1]]++
			case "POINT":
				points++
			}
		}
		for _, e := range entities {
			if layer := e.values[8]; layer != "" {
				assert.True(t, layers[layer], "layer %s is not declared", layer)
			}
		}
		for _, want := range []string{"ROOMS", "ROOM_NUMBERS", "WALLS", "WINDOWS", "DOORS", "SEATS", "LUMINAIRES", "DEVICES_PS", "DEVICES_LC", "DEVICE_TAGS"} {
			assert.True(t, layers[want], want)
		}
		assert.Equal(t, 3, texts["PS-1"])
		assert.Equal(t, 1, texts["102"])
		assert.Equal(t, 3*len(rooms[0].Design.Devices), points, "a point where each device is")
		assert.Equal(t, "EOF", entities[len(entities)-1].kind)
	}
}

func TestDXF_keepsWordsOnTheirLine(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	rooms[0].Room.Name = "Größe\r\n0\nEOF %%u ^J 日 😀"
	_, _, text := readDXF(t, drawing.StoreyView(p, plan, rooms, drawing.Options{}))
	assert.Contains(t, text, `Gr\U+00F6\U+00DFe  0 EOF % %u ^ J \U+65E5 ?`)
	assert.Equal(t, 1, strings.Count(text, "\r\nEOF\r\n"))
	for _, r := range text {
		assert.Less(t, r, rune(0x7F), fmt.Sprintf("%q", r))
	}
}

func TestDXF_holdsOnlyTheLayersAskedFor(t *testing.T) {
	p, plan, rooms := classrooms(1, units.SI)
	_, _, text := readDXF(t, drawing.StoreyView(p, plan, rooms, drawing.Options{Layers: drawing.Without(drawing.LayerDevices, drawing.LayerSeats, drawing.LayerWalls)}))
	for _, gone := range []string{"DEVICES_", "SEATS", "WALLS", "PS-1"} {
		assert.NotContains(t, text, gone)
	}
	assert.Contains(t, text, "LUMINAIRES")
}
