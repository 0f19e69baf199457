package dxf

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/store/intake/building"
)

// sketch writes small drawings for the tests, in groups as a file has them.
type sketch struct {
	header, tables, blocks, entities []string
}

func groups2(g ...any) (out []string) {
	for i := 0; i+1 < len(g); i += 2 {
		out = append(out, fmt.Sprint(g[i]), fmt.Sprint(g[i+1]))
	}
	return out
}

func newSketch(version string, insUnits int) *sketch {
	s := &sketch{header: groups2(9, "$ACADVER", 1, version)}
	if insUnits >= 0 {
		s.header = append(s.header, groups2(9, "$INSUNITS", 70, insUnits)...)
	}
	return s
}

func (s *sketch) add(g ...any) *sketch {
	s.entities = append(s.entities, groups2(g...)...)
	return s
}

func (s *sketch) block(name string, g ...any) *sketch {
	s.blocks = append(s.blocks, groups2(0, "BLOCK", 8, "0", 2, name, 70, 0, 10, 0, 20, 0)...)
	s.blocks = append(s.blocks, groups2(g...)...)
	s.blocks = append(s.blocks, groups2(0, "ENDBLK", 8, "0")...)
	return s
}

func (s *sketch) layer(name string, color, flags int) *sketch {
	s.tables = append(s.tables, groups2(0, "LAYER", 2, name, 70, flags, 62, color)...)
	return s
}

// outline adds a closed polyline; coordinates come as x, y, x, y.
func (s *sketch) outline(layer string, xy ...float64) *sketch {
	g := []any{0, "LWPOLYLINE", 8, layer, 90, len(xy) / 2, 70, 1}
	for i := 0; i+1 < len(xy); i += 2 {
		g = append(g, 10, xy[i], 20, xy[i+1])
	}
	return s.add(g...)
}

func (s *sketch) rectangle(layer string, x, y, w, h float64) *sketch {
	return s.outline(layer, x, y, x+w, y, x+w, y+h, x, y+h)
}

func (s *sketch) text(layer string, x, y, height float64, words string) *sketch {
	return s.add(0, "TEXT", 8, layer, 10, x, 20, y, 40, height, 1, words)
}

func (s *sketch) lines() []string {
	var out []string
	section := func(name string, groups []string) {
		out = append(out, groups2(0, "SECTION", 2, name)...)
		out = append(out, groups...)
		out = append(out, groups2(0, "ENDSEC")...)
	}
	section("HEADER", s.header)
	section("TABLES", append(append(groups2(0, "TABLE", 2, "LAYER"), s.tables...), groups2(0, "ENDTAB")...))
	section("BLOCKS", s.blocks)
	section("ENTITIES", s.entities)
	return append(out, groups2(0, "EOF")...)
}

func (s *sketch) bytes() []byte { return []byte(strings.Join(s.lines(), "\r\n") + "\r\n") }

// binary writes the same groups in the binary form, with codes of one byte as
// until R12 or of two.
func (s *sketch) binary(short bool) []byte {
	var b bytes.Buffer
	b.Write(binaryMark)
	lines := s.lines()
	for i := 0; i+1 < len(lines); i += 2 {
		code, _ := strconv.Atoi(lines[i])
		switch {
		case !short:
			_ = binary.Write(&b, binary.LittleEndian, int16(code))
		case code > 254:
			b.WriteByte(255)
			_ = binary.Write(&b, binary.LittleEndian, int16(code))
		default:
			b.WriteByte(byte(code))
		}
		v, _ := strconv.ParseFloat(lines[i+1], 64)
		switch kindOf(code) {
		case textValue:
			b.WriteString(lines[i+1] + "\x00")
		case doubleValue:
			_ = binary.Write(&b, binary.LittleEndian, v)
		case byteValue:
			b.WriteByte(byte(v))
		case shortValue:
			_ = binary.Write(&b, binary.LittleEndian, int16(v))
		case longValue:
			_ = binary.Write(&b, binary.LittleEndian, int32(v))
		case wideValue:
			_ = binary.Write(&b, binary.LittleEndian, int64(v))
		case chunkValue:
			b.WriteByte(0)
		}
	}
	return b.Bytes()
}

func read(t *testing.T, data []byte, opt Options) *building.Model {
	t.Helper()
	m, err := Read(context.Background(), data, opt, nil)
	require.NoError(t, err)
	require.Len(t, m.Storeys, 1)
	return m
}

// rooms reads a sketch's layer R.
func rooms(t *testing.T, s *sketch) []building.Space {
	t.Helper()
	return read(t, s.bytes(), Options{RoomLayers: []string{"R"}}).Storeys[0].Spaces
}

// inR gives options for the layer that most sketches use.
var inR = Options{RoomLayers: []string{"R"}}

func messages(m *building.Model) string {
	var out []string
	for _, p := range m.Problems {
		out = append(out, p.Message)
	}
	return strings.Join(append(out, m.Notes...), "\n")
}

func within0_1Percent(t *testing.T, want, got float64, what string) {
	t.Helper()
	require.LessOrEqual(t, math.Abs(got-want), 0.001*math.Abs(want), "%s: want %g, got %g", what, want, got)
}

// shared gives a plan of the folder that lies beside the repository.
func shared(t testing.TB, name string) []byte {
	t.Helper()
	top, err := os.Getwd()
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(top, "go.mod")); err == nil {
			break
		}
		require.NotEqual(t, top, filepath.Dir(top), "no go.mod above the package")
		top = filepath.Dir(top)
	}
	data, err := os.ReadFile(filepath.Join(top, "..", "shared", "plans", name))
	if os.IsNotExist(err) {
		t.Skipf("%s is not beside the repository", name)
	}
	require.NoError(t, err)
	return data
}
