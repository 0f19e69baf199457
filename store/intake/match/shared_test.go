package match

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/dxf"
	"scopewright/store/intake/gbxml"
	"scopewright/store/intake/ifc"
)

// sharedPlans lists the model files beside the repository, which are not part
// of it.
func sharedPlans(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../../../shared/plans/*.*")
	require.NoError(t, err)
	if len(files) == 0 {
		t.Skip("the folder of shared plans is not there")
	}
	return files
}

func readAny(t testing.TB, path string) *building.Model {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	switch building.KindOf(data[:min(len(data), building.HeadSize)]) {
	case building.GBXMLFile:
		m, err := gbxml.Read(t.Context(), bytes.NewReader(data), int64(len(data)), gbxml.Options{}, nil)
		require.NoError(t, err, path)
		return m
	case building.IFCFile:
		m, err := ifc.Read(t.Context(), data, ifc.Options{}, nil)
		require.NoError(t, err, path)
		return m
	case building.DXFFile, building.DXFBinary:
		c, err := dxf.Survey(t.Context(), data, nil)
		require.NoError(t, err, path)
		m, err := dxf.Read(t.Context(), data, c.Suggested(), nil)
		require.NoError(t, err, path)
		return m
	}
	return nil
}

// Every file fits an empty project; fitted once more it changes nothing, and
// the areas of the rooms sum to those of the file.
func TestShared_aSecondImportChangesNothing(t *testing.T) {
	for _, path := range sharedPlans(t) {
		m := readAny(t, path)
		if m == nil {
			continue
		}
		t.Run(filepath.Base(path), func(t *testing.T) {
			newID := counter()
			first := Model(m, Here{Project: &domain.Project{ID: "p", Units: units.SI}}, Choices{}, newID)
			assert.Empty(t, first.Conflict)
			h := carryOut(Here{Project: &domain.Project{ID: "p", Units: units.SI}}, first)
			scope := &domain.Scope{Project: *h.Project}
			scope.Project.Name = "x"
			numbers := map[string]bool{}
			var drawn, stored, windows, kept float64
			for _, r := range h.Rooms {
				scope.Rooms = append(scope.Rooms, *r)
				key := string(r.StoreyID) + "/" + r.Number
				assert.False(t, numbers[key], "number %s twice", r.Number)
				numbers[key] = true
				stored += float64(r.Area)
			}
			for _, s := range m.Storeys {
				for _, sp := range s.Spaces {
					if !leftOut(&sp) {
						drawn += float64(areaOf(&sp))
					}
				}
				for _, w := range s.Walls {
					for _, o := range w.Openings {
						if o.Kind == building.Window {
							windows++
						}
					}
				}
			}
			for _, s := range first.Storeys {
				kept += float64(s.Walls.Windows)
			}
			assert.InEpsilon(t, 1+drawn, 1+stored, 0.0005, "rooms keep hundredths of a square meter")
			assert.LessOrEqual(t, kept, windows)
			assert.Empty(t, scope.Check())

			second := Model(m, h, Choices{}, newID)
			assert.Zero(t, second.Counts.New+second.Counts.Update, "the second time")
			assert.True(t, second.Nothing())
			assert.Equal(t, first.Counts.New, second.Counts.Same)
			t.Logf("%d rooms, %.1f m2, %+v, storeys %d", len(h.Rooms), stored, first.Counts, len(first.Storeys))
			for _, s := range first.Storeys {
				t.Logf("  %s -> %s (%s): %+v %+v", s.Name, s.IntoName, s.Why, s.Counts, s.Walls)
			}
		})
	}
}

// BenchmarkModel fits the shared file of most spaces to a project that has it
// already, as a second import does.
func BenchmarkModel(b *testing.B) {
	var most *building.Model
	spaces := 0
	for _, path := range sharedPlans(b) {
		m := readAny(b, path)
		n := 0
		for i := range modelStoreys(m) {
			n += len(m.Storeys[i].Spaces)
		}
		if n > spaces {
			most, spaces = m, n
		}
	}
	newID := counter()
	empty := Here{Project: &domain.Project{ID: "p", Units: units.SI}}
	h := carryOut(empty, Model(most, empty, Choices{}, newID))
	for b.Loop() {
		if f := Model(most, h, Choices{}, newID); !f.Nothing() {
			b.Fatal("the second import changes something")
		}
	}
}

func modelStoreys(m *building.Model) []building.Storey {
	if m == nil {
		return nil
	}
	return m.Storeys
}
