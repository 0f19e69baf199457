package ifc

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/store/intake/building"
)

// plot writes small models for the tests.
type plot struct {
	lines []string
	next  int
}

// newPlot has a project in meters (#1) and a building (#5) at the origin.
func newPlot() *plot {
	p := &plot{next: 100}
	p.put("#1=IFCPROJECT('project',$,'Invented',$,$,$,$,(),#2);")
	p.put("#2=IFCUNITASSIGNMENT((#3));")
	p.put("#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);")
	p.put("#5=IFCBUILDING('building',$,'B',$,$,$,$,$,.ELEMENT.,$,$,$);")
	return p
}

func (p *plot) put(line string) { p.lines = append(p.lines, line) }

// add writes an instance and gives its number; %s and %v stand for what follows.
func (p *plot) add(format string, args ...any) string {
	p.next++
	p.put(fmt.Sprintf("#%d=%s;", p.next, fmt.Sprintf(format, args...)))
	return fmt.Sprintf("#%d", p.next)
}

func (p *plot) point(xyz ...float64) string {
	var parts []string
	for _, v := range xyz {
		parts = append(parts, fmt.Sprintf("%g", v))
	}
	return p.add("IFCCARTESIANPOINT((%s))", strings.Join(parts, ","))
}

func (p *plot) placement(relTo string, xyz ...float64) string {
	return p.add("IFCLOCALPLACEMENT(%s,%s)", relTo, p.add("IFCAXIS2PLACEMENT3D(%s,$,$)", p.point(xyz...)))
}

func (p *plot) storey(name string, level float64) (storey, placement string) {
	placement = p.placement("$", 0, 0, level)
	storey = p.add("IFCBUILDINGSTOREY('%s',$,'%s',$,$,%s,$,$,.ELEMENT.,%g)", name, name, placement, level)
	p.add("IFCRELAGGREGATES('r%d',$,$,$,#5,(%s))", p.next, storey)
	return storey, placement
}

func (p *plot) polyline(xy ...float64) string {
	var parts []string
	for i := 0; i+1 < len(xy); i += 2 {
		parts = append(parts, p.point(xy[i], xy[i+1]))
	}
	return p.add("IFCPOLYLINE((%s))", strings.Join(append(parts, parts[0]), ","))
}

func (p *plot) up() string { return p.add("IFCDIRECTION((0.,0.,1.))") }

func (p *plot) extruded(profile string, depth float64) string {
	return p.add("IFCEXTRUDEDAREASOLID(%s,$,%s,%g)", profile, p.up(), depth)
}

func (p *plot) shape(identifier string, items ...string) string {
	return p.add("IFCPRODUCTDEFINITIONSHAPE($,$,(%s))", p.add("IFCSHAPEREPRESENTATION($,'%s','SweptSolid',(%s))", identifier, strings.Join(items, ",")))
}

func (p *plot) space(storey, placement, shape, number, name string) string {
	s := p.add("IFCSPACE('id-%s',$,'%s',$,$,%s,%s,'%s',.ELEMENT.,.INTERNAL.,$)", number, number, placement, shape, name)
	p.add("IFCRELAGGREGATES('a%d',$,$,$,%s,(%s))", p.next, storey, s)
	return s
}

// box is a space of w x d x h meters whose corner is the placement's origin.
func (p *plot) box(w, d, h float64) string {
	return p.shape("Body", p.extruded(p.add("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,%s)", p.polyline(0, 0, w, 0, w, d, 0, d)), h))
}

func (p *plot) bytes() []byte {
	return []byte("ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n" +
		strings.Join(p.lines, "\n") + "\nENDSEC;\nEND-ISO-10303-21;\n")
}

func read(t *testing.T, data []byte) *building.Model {
	t.Helper()
	m, err := Read(context.Background(), data, Options{}, nil)
	require.NoError(t, err)
	return m
}

// only gives the one space of a model.
func only(t *testing.T, m *building.Model) building.Space {
	t.Helper()
	var all []building.Space
	for _, s := range m.Storeys {
		all = append(all, s.Spaces...)
	}
	require.Len(t, all, 1)
	return all[0]
}

func messages(m *building.Model) string {
	var out []string
	for _, p := range m.Problems {
		out = append(out, p.Message)
	}
	return strings.Join(append(out, m.Notes...), "\n")
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
