package gbxml

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// shared reads a real model that lies beside the repository; its check values
// are those of SOURCES.md there, computed from the files with GEOS.
func shared(t testing.TB, name string) []byte {
	t.Helper()
	top, err := os.Getwd()
	require.NoError(t, err)
	for ; filepath.Dir(top) != top; top = filepath.Dir(top) {
		if _, err := os.Stat(filepath.Join(top, "go.mod")); err == nil {
			break
		}
	}
	data, err := os.ReadFile(filepath.Join(top, "..", "shared", "plans", name+".gbxml.xml"))
	if os.IsNotExist(err) {
		t.Skip("the folder with real models is not beside this repository")
	}
	require.NoError(t, err)
	return data
}

func readAll(t testing.TB, data []byte) *building.Model {
	t.Helper()
	m, err := Read(context.Background(), bytes.NewReader(data), int64(len(data)), Options{}, nil)
	require.NoError(t, err)
	return m
}

// totals adds up a model.
type totals struct {
	spaces, windows, doors, inner int
	declared, area, glass         float64
}

func sum(storeys ...building.Storey) (n totals) {
	for _, s := range storeys {
		for _, r := range s.Spaces {
			n.spaces++
			n.declared += float64(r.DeclaredArea)
			n.area += float64(r.Area)
			for _, w := range r.Windows {
				n.windows++
				n.glass += float64(w.Area)
			}
		}
		for _, w := range s.Walls {
			for _, o := range w.Openings {
				switch {
				case o.Kind != building.Door:
				case w.Kind == building.ExteriorWall:
					n.doors++
				default:
					n.inner++
				}
			}
		}
	}
	return n
}

func within(t *testing.T, want, got float64, what string) {
	t.Helper()
	assert.InEpsilon(t, want, got, 0.001, what)
}

const squareFoot = units.SquareMetresPerSquareFoot

func TestSharedModels_totals(t *testing.T) {
	for name, want := range map[string]struct {
		totals
		unit    string
		storeys int
		agree   int
		all     int // openings of every kind, where given
	}{
		"office-two-storey": {totals{spaces: 19, declared: 14951.41 * squareFoot, area: 723.74}, "feet", 2, 18, 102},
		"ring-three-storey": {totals{spaces: 38, declared: 2161.47, area: 2161.15}, "meters", 3, 38, 122},
		// The table's 52 compares the lowest loops; so does 15978.31 ft2.
		"clubhouse-two-storey":         {totals{spaces: 53, declared: 16078.84 * squareFoot, area: 1484.43}, "feet", 2, 52, 31},
		"retail-two-storey-utf16":      {totals{spaces: 15, windows: 88, declared: 1859.84, area: 1859.84, glass: 309}, "meters", 2, 15, 0},
		"office-two-storey-no-storeys": {totals{spaces: 33, windows: 72, doors: 5, inner: 31, declared: 1409.04, area: 1409.02, glass: 150.22}, "feet", 2, 33, 0},
		"labs-one-storey-inches":       {totals{spaces: 12, windows: 9, declared: 1672.25, area: 1672.25, glass: 20.07}, "inches", 1, 12, 0},
	} {
		t.Run(name, func(t *testing.T) {
			m := readAll(t, shared(t, name))
			got := sum(m.Storeys...)
			assert.Equal(t, want.unit, m.Unit.Name)
			assert.True(t, m.Unit.Sure)
			assert.Len(t, m.Storeys, want.storeys)
			assert.Equal(t, want.spaces, got.spaces)
			within(t, want.declared, got.declared, "sum of Area")
			within(t, want.area, got.area, "sum of outlines")
			if want.windows > 0 {
				assert.Equal(t, want.windows, got.windows)
				within(t, want.glass, got.glass, "glass")
				assert.Equal(t, want.doors, got.doors, "outer doors")
				assert.Equal(t, want.inner, got.inner, "inner doors")
			}
			agree, openings := 0, 0
			for _, s := range m.Storeys {
				for _, r := range s.Spaces {
					if agrees(float64(r.Area), float64(r.DeclaredArea)) {
						agree++
					}
					assert.NotEmpty(t, r.OutlineFrom, r.Name)
				}
				openings += openingsOf(s)
			}
			assert.Equal(t, want.agree, agree, "rooms that agree within 1 %")
			if want.all > 0 {
				assert.Equal(t, want.all, openings)
			}
		})
	}
}

// openingsOf counts openings in walls, and glazing in roofs, which no wall has.
func openingsOf(s building.Storey) (n int) {
	seen := map[building.Opening]bool{}
	for _, w := range s.Walls {
		n += len(w.Openings)
		for _, o := range w.Openings {
			seen[o] = true
		}
	}
	for _, r := range s.Spaces {
		for _, o := range r.Windows {
			if !seen[o] {
				n++
			}
		}
	}
	return n
}

func TestSharedModels_levels(t *testing.T) {
	for name, want := range map[string][]struct {
		level  float64
		spaces int
		area   float64
	}{
		"retail-two-storey-utf16":      {{0, 8, 985.26}, {4, 7, 874.59}},
		"office-two-storey-no-storeys": {{0, 17, 704.18}, {3.658, 16, 704.84}},
		"labs-one-storey-inches":       {{0, 12, 1672.25}},
	} {
		t.Run(name, func(t *testing.T) {
			m := readAll(t, shared(t, name))
			require.Len(t, m.Storeys, len(want))
			for i, w := range want {
				assert.InDelta(t, w.level, float64(m.Storeys[i].Level), 0.001)
				got := sum(m.Storeys[i])
				assert.Equal(t, w.spaces, got.spaces)
				within(t, w.area, got.area, "storey")
				assert.Equal(t, name != "retail-two-storey-utf16", m.Storeys[i].Derived)
			}
		})
	}
}

func TestSharedModels_rooms(t *testing.T) {
	type room struct {
		name    string // number and name as the file has them
		area    float64
		windows int
	}
	for name, storeys := range map[string][][]room{
		"retail-two-storey-utf16": {
			{{"Atrium", 110.577, 2}, {"Retail", 163.800, 10}, {"Corridor", 65.520, 1}, {"Retail", 132.460, 2},
				{"Corridor Technical", 88.617, 8}, {"Toilets", 67.461, 2}, {"Kitchen", 79.079, 7}, {"Restoran", 277.743, 13}},
			{{"Corridor Technical", 88.617, 8}, {"Toilets", 67.461, 2}, {"Dispetcher", 79.079, 7}, {"Corridor Office", 91.695, 1},
				{"Office", 182.908, 12}, {"Dressing rooms", 73.387, 0}, {"Gymnasium", 291.440, 13}},
		},
		"labs-one-storey-inches": {
			{{"Lab corridor", 74.322, 0}, {"Lab 1", 148.645, 0}, {"Lab 2", 148.645, 0}, {"Lab 3", 148.645, 0}, {"Lab 4", 148.645, 0},
				{"Office 1", 111.484, 0}, {"Office 2", 111.484, 0}, {"Office 3", 111.484, 0}, {"Office 4", 111.484, 3}, {"Office 5", 111.484, 3},
				{"Office 6", 111.484, 3}, {"Warehouse", 334.451, 0}},
		},
		"office-two-storey-no-storeys": {
			{{"Open", 371.366, 8}, {"Office", 21.490, 3}}, {{"Open", 354.700, 8}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			m := readAll(t, shared(t, name))
			for i, rooms := range storeys {
				for _, want := range rooms {
					found := false
					for _, r := range m.Storeys[i].Spaces {
						found = found || r.Name == want.name && len(r.Windows) == want.windows && relative(want.area, float64(r.Area)) < 0.001
					}
					assert.True(t, found, "storey %d: %+v", i, want)
				}
			}
		})
	}
}

func relative(want, got float64) float64 {
	if got < want {
		return (want - got) / want
	}
	return (got - want) / want
}

func TestSharedModels_namedRooms(t *testing.T) {
	m := readAll(t, shared(t, "office-two-storey-no-storeys"))
	find := func(number string) building.Space {
		for _, s := range m.Storeys {
			for _, r := range s.Spaces {
				if r.Number == number {
					return r
				}
			}
		}
		t.Fatalf("no room %s", number)
		return building.Space{}
	}
	assert.Equal(t, "Conference Room", find("31").Name)
	within(t, 28.663, float64(find("31").Area), "31")
	assert.Len(t, find("31").Windows, 4)
	within(t, 23.537, float64(find("15").Area), "15")
	assert.Empty(t, find("15").Windows)
	assert.InDelta(t, 371.379, float64(find("1").DeclaredArea), 0.001)
}

func TestSharedModels_sillsAndHeads(t *testing.T) {
	type span struct{ sill, head float64 }
	for name, want := range map[string]map[span]int{
		"retail-two-storey-utf16":      {{0.20, 3.70}: 53, {1.20, 2.70}: 34, {4.20, 7.70}: 1},
		"office-two-storey-no-storeys": {{0.91, 2.44}: 72},
		"labs-one-storey-inches":       {{0.61, 2.44}: 9},
	} {
		t.Run(name, func(t *testing.T) {
			got := map[span]int{}
			for _, s := range readAll(t, shared(t, name)).Storeys {
				for _, r := range s.Spaces {
					for _, w := range r.Windows {
						got[span{roundTo(float64(w.Sill), 0.01), roundTo(float64(w.Head), 0.01)}]++
					}
				}
			}
			for s, n := range want {
				found := 0
				for g, k := range got {
					if relative(s.sill, g.sill) < 1e-6 && relative(s.head, g.head) < 1e-6 {
						found += k
					}
				}
				assert.Equal(t, n, found, "%+v in %v", s, got)
			}
		})
	}
}

func TestSharedModels_ceilings(t *testing.T) {
	for _, r := range readAll(t, shared(t, "labs-one-storey-inches")).Storeys[0].Spaces {
		want := 2.438
		if r.Name == "Warehouse" {
			want = 5.893
		}
		assert.InDelta(t, want, float64(r.Ceiling), 0.001, r.Name)
	}
	m := readAll(t, shared(t, "retail-two-storey-utf16"))
	assert.Contains(t, m.Notes, "1 space rises into the storey above: that storey is open to it.", "the atrium, 8 m high")
}

func TestSharedModels_warnOfTheRoomWhoseAreaIsWrong(t *testing.T) {
	m := readAll(t, shared(t, "office-two-storey"))
	var messages []string
	for _, p := range m.Problems {
		messages = append(messages, p.Message)
	}
	assert.Contains(t, messages, "33 Office: the file says 1,042.7 m2, its outline has 377.5 m2. The outline is used.")
	for _, s := range m.Storeys {
		for _, r := range s.Spaces {
			if r.Number == "33" {
				within(t, 4062.84*squareFoot, float64(r.Area), "33 Office")
			}
		}
	}
}

func TestSharedModels_outlinesAreSound(t *testing.T) {
	for _, name := range []string{"office-two-storey", "ring-three-storey", "clubhouse-two-storey", "retail-two-storey-utf16", "office-two-storey-no-storeys", "labs-one-storey-inches"} {
		for _, s := range readAll(t, shared(t, name)).Storeys {
			for _, r := range s.Spaces {
				for _, p := range append(r.MoreParts, r.Outline) {
					assert.Empty(t, p.Validate(), "%s: %s", name, r.Name)
				}
			}
		}
	}
}

// Every shared model must come out the same in whatever encoding it stands.
func TestSharedModels_sameInUTF16(t *testing.T) {
	data := shared(t, "labs-one-storey-inches")
	want := readAll(t, data)
	for _, order := range []byteOrder{littleEndian, bigEndian} {
		assert.Equal(t, want, readAll(t, utf16Bytes(string(data), order, true)))
		assert.Equal(t, want, readAll(t, utf16Bytes(string(data), order, false)), "without a mark")
	}
	assert.Equal(t, want, readAll(t, []byte(strings.Replace(string(data), `<?xml version="1.0"?>`, `<?xml version="1.0" encoding="UTF-16"?>`, 1))), "wrong label")
}

func BenchmarkRead_largestSharedFile(b *testing.B) {
	data := shared(b, "clubhouse-two-storey")
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(context.Background(), bytes.NewReader(data), int64(len(data)), Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
