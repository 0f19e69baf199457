package web

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Real models lie in a folder beside the repository, for tests only. Their check
// values are sums of floor shapes in square meters and numbers of rooms, from
// that folder's list of sources.
var realPlans = []struct {
	file  string
	area  float64
	rooms int
	unit  string // answered where the file does not say
	parts bool   // some floors lie in several pieces, of which the largest is drawn
}{
	{"retail-two-storey-utf16.gbxml.xml", 1859.84, 15, "", false},
	{"office-two-storey-no-storeys.gbxml.xml", 1409.02, 33, "", false},
	{"labs-one-storey-inches.gbxml.xml", 1672.25, 12, "", false},
	{"office-two-storey.gbxml.xml", 723.74, 19, "", true},
	{"ring-three-storey.gbxml.xml", 2161.15, 38, "", true},
	{"clubhouse-two-storey.gbxml.xml", 1484.43, 53, "", true},
	{"derived-retail-level1-mm.dxf", 985.256, 8, "", false},
	{"derived-retail-level2-binary-m.dxf", 874.586, 7, "", false},
	{"derived-office-ground-r12-inch.dxf", 704.179, 17, "in", false},
	{"house-walls-unit-mislabelled.dxf", 0, 0, "in", false},
	{"duplex-two-storey.ifc", 0, 21, "", false},
}

// drawnAreas gives the areas of the rooms that the plan page has drawn, by the
// corners that its script knows, in square meters.
const drawnAreas = `(() => {
	const ring = (points) => Math.abs(points.reduce((sum, [x, y], i) => sum + x * points[(i + 1) % points.length][1] - points[(i + 1) % points.length][0] * y, 0)) / 2;
	const model = JSON.parse(document.getElementById('plan-model').textContent);
	return Object.fromEntries(model.rooms.filter((r) => r.outline.length && document.getElementById('room-' + r.id)).map((r) =>
		[r.name + ' ' + r.id, ring(r.outline[0]) - r.outline.slice(1).reduce((sum, hole) => sum + ring(hole), 0)]));
})()`

// toldAreas adds up the areas that the plan page tells of its rooms: the stated
// one, which counts all pieces of a floor, in tenths of a square meter.
const toldAreas = `JSON.parse(document.getElementById('plan-model').textContent).rooms.reduce((sum, r) =>
	sum + parseFloat(r.facts.find(([name]) => name === 'Area stated')?.[1] ?? '0'), 0)`

func TestBrowser_importsRealPlansAndShowsTheirAreas(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	folder := filepath.Join("..", "..", "shared", "plans")
	if _, err := os.Stat(folder); err != nil {
		t.Skip("the folder of real plans is not there")
	}
	for _, plan := range realPlans {
		t.Run(plan.file, func(t *testing.T) {
			b := newBrowser(t)
			scope := smallScope()
			scope.Rooms, scope.Project.Units = nil, units.SI
			a := newApp(t, scope)
			b.send(a.url+"/projects/p1/import", filepath.Join(folder, plan.file))
			if plan.unit != "" {
				evaluate[bool](b, `document.getElementById('unit').value = '`+plan.unit+`', true`)
				b.press("#answers", "Read it like this")
			}
			b.waitFor("document.querySelector('svg.thumb') && document.readyState === 'complete'")
			b.screenshot("import-" + plan.file)
			b.press("#apply", "")
			b.waitFor("document.querySelector('h1')?.textContent === 'The plan is in'")
			sum, told, rooms, named := 0.0, 0.0, 0, map[string]float64{}
			for _, storey := range storeysOf(t, a) {
				b.open(a.url + "/projects/p1/storeys/" + string(storey) + "/plan")
				b.waitFor(planShown)
				for name, area := range evaluate[map[string]float64](b, drawnAreas) {
					sum, rooms = sum+area, rooms+1
					named[name[:min(4, len(name))]] = area
				}
				told += evaluate[float64](b, toldAreas)
				b.screenshot("plan-" + plan.file + "-" + string(storey))
			}
			if plan.area > 0 {
				assert.InEpsilon(t, plan.area, told, 0.001)
			}
			if plan.area > 0 && !plan.parts {
				assert.InEpsilon(t, plan.area, sum, 0.001)
			}
			assert.Equal(t, plan.rooms, rooms)
			if plan.file == "duplex-two-storey.ifc" { // single rooms by their geometry
				for number, area := range map[string]float64{"A102": 27.660, "A103": 12.954, "A203": 22.043, "R301": 135.151} {
					assert.InEpsilon(t, area, named[number], 0.001, number)
				}
			}
			t.Logf("%d rooms drawn, %.2f m2", rooms, sum)
		})
	}
}

func storeysOf(t *testing.T, a *app) []domain.ID {
	t.Helper()
	p, _, err := a.store.Project(t.Context(), "p1")
	require.NoError(t, err)
	var out []domain.ID
	for _, building := range p.Buildings {
		for _, s := range building.Storeys {
			out = append(out, s.ID)
		}
	}
	return out
}
