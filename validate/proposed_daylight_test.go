package validate_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// windowRoom draws an empty room with windows of some width in one or two of its
// walls, at any angle.
func windowRoom(t *rapid.T) (*domain.Project, *domain.Resolved) {
	use := rapid.SampledFrom([]domain.Use{"classroom", "office-open", "office-private", "conference", "break-room"}).Draw(t, "use")
	area := rapid.Float64Range(10, 160).Draw(t, "area")
	p, r := emptyRoom(rapid.SampledFrom([]units.System{units.US, units.SI}).Draw(t, "units"), use, area, false, true)
	plan := *r.Plan
	plan.Walls = append([]domain.Wall(nil), plan.Walls...)
	for _, wall := range []int{2, 1}[:rapid.IntRange(1, 2).Draw(t, "facades")] {
		w := &plan.Walls[wall]
		length := float64(w.Line().Length())
		wide := length * rapid.Float64Range(0.2, 1).Draw(t, "glass")
		w.Openings = []domain.Opening{{ID: domain.ID("g" + string(w.ID)), Seq: 1, Kind: domain.Window, At: units.Metres((length - wide) * rapid.Float64Range(0, 1).Draw(t, "from")), Width: units.Metres(wide), Sill: 0.9,
			Head: units.Metres(rapid.Float64Range(1.8, 2.7).Draw(t, "head"))}}
	}
	turn := rapid.SampledFrom([]float64{0, 0, 0.4, 1.57}).Draw(t, "turn")
	r.Outline = r.Outline.Rotate(geom.Pt(0, 0), turn)
	for i := range plan.Walls {
		w := &plan.Walls[i]
		w.A, w.B = w.A.Rotate(geom.Pt(0, 0), turn), w.B.Rotate(geom.Pt(0, 0), turn)
	}
	r.Room.Windows, r.Plan = true, nil
	return p, r.OnPlan(&plan)
}

// A first design never breaks the rules about daylight that it goes by: what it hangs
// and zones as proposed has no warning of them, or it says that it found no place.
func TestFirstDesign_keepsTheDaylightRules(t *testing.T) {
	sensors, judged := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p, r := windowRoom(t)
		plan := r.Plan
		out := proposedBy(t, p, r)
		r.Plan = plan
		if strings.Contains(strings.Join(out.Assumed, " "), "No place for a daylight sensor was found") {
			return
		}
		judged++
		for i := range r.Design.Devices {
			if r.Design.Devices[i].Loop != "" {
				sensors++
			}
		}
		for _, f := range validate.Room(p, r, today) {
			if strings.HasPrefix(f.Rule, "daylighting-") && f.Severity != rule.Info {
				t.Fatalf("%s: %s", f.Rule, f.Message)
			}
		}
	})
	assert.Greater(t, sensors, judged/2, "%d rooms", judged)
}
