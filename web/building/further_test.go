package building

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/web/webtest"
)

// Twice the number 101 and an overloaded breaker: counted in the page's head beside
// what stands in rooms' lines, each with the way to it.
func TestFurther_headCountsProjectAndCircuits(t *testing.T) {
	scope := webtest.School()
	scope.Rooms[1].Number = "101"
	for i := range scope.Rooms[0].Design.Loads {
		scope.Rooms[0].Design.Loads[i].Circuit = "LP-1"
		scope.Rooms[0].Design.Loads[i].Watts = 9000
	}
	body := open(t, scope).Get("/projects/p1").Body.String()
	head := body[:strings.Index(body, `id="project-findings"`)]
	assert.Regexp(t, `<a class="badge error" href="/projects/p1/circuits" title="[1-9] errors?, \d+ warnings?">\+ \d+ of circuits`, head)
	assert.Regexp(t, `<a class="badge [a-z]+" href="#project-findings" title="[^"]+">\+ 1 of the project`, head)
	assert.NotContains(t, open(t, webtest.School()).Get("/projects/p1").Body.String(), "of circuits", "nothing is found, nothing counted")
}

// The plans are read after the page; their count comes with them.
func TestFurther_plansBringTheirCount(t *testing.T) {
	scope := webtest.School()
	for i := range scope.Rooms {
		scope.Rooms[i].StoreyID = "s1"
		scope.Rooms[i].Outline = geom.Rectangle(0, 0, 6, 4)
	}
	s := open(t, scope)
	assert.Contains(t, s.Get("/projects/p1").Body.String(), `id="plans-count"`)
	body := s.Ask(http.MethodGet, "/projects/p1/findings/plans", nil).Body.String()
	assert.Contains(t, body, `<hx-partial hx-target="#plans-count" hx-swap="innerHTML">`)
	assert.Contains(t, body, `<a class="badge error" href="#plan-findings" title="3 errors, 0 warnings">+ 3 of plans`, "three rooms on one floor: three pairs")
}

// A wall of no length on Ground is a warning, two rooms on one floor of the storey
// above an error: the error comes first.
func TestFindingsOfPlans_errorsFirst(t *testing.T) {
	scope := webtest.School()
	scope.Plans = []domain.Plan{{ID: "s1", Walls: []domain.Wall{{ID: "w1", Seq: 1, A: geom.Pt(1, 1), B: geom.Pt(1, 1), Kind: domain.FullWall}}}}
	for i := range scope.Rooms[:2] {
		scope.Rooms[i].StoreyID = "s2"
		scope.Rooms[i].Outline = geom.Rectangle(0, 0, 6, 4)
	}
	body := open(t, scope).Ask(http.MethodGet, "/projects/p1/findings/plans", nil).Body.String()
	found := regexp.MustCompile(`class="finding (\w+)"`).FindAllStringSubmatch(body, -1)
	require.Len(t, found, 2)
	assert.Equal(t, []string{"error", "warning"}, []string{found[0][1], found[1][1]})
}
