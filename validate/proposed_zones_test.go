package validate_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/energycode"
	"scopewright/domain/geom"
	"scopewright/domain/propose/design"
	"scopewright/domain/units"
	"scopewright/validate"
)

// hangs adds a load as a person does, with luminaires at places; its zone is as new
// loads state it.
func hangs(t require.TestingT, p *domain.Project, r *domain.Resolved, id domain.ID, luminaire domain.ID, at ...geom.Point) {
	list := []edit.Edit{edit.AddLoad{ID: id, Kind: domain.Lighting, Luminaire: luminaire, Count: len(at)}}
	hang := edit.Hang{Load: id}
	for i, pt := range at {
		hang.IDs, hang.At = append(hang.IDs, domain.ID(fmt.Sprint(id, "-", i))), append(hang.At, pt)
	}
	_, err := edit.All(edit.OfRoom(p, r), append(list, hang))
	require.NoError(t, err)
}

// A load of another hand that states no zone and hangs in the second row is given it;
// one that states a zone keeps it. The room is 8 m by 6 m, its glass in the north wall
// has a head of 2.4 m: by ASHRAE 90.1 (from memory) the primary zone ends 2.4 m and the
// secondary 4.8 m from it, so y = 2.4 m lies 3.6 m deep and y = 0.6 m beyond both.
func TestFirstDesign_setsTheZonesThatNewLoadsLackSaying(t *testing.T) {
	p, r := emptyRoom(units.US, "classroom", 48, true, true)
	hangs(t, p, r, "l1", "a", geom.Pt(3, 5), geom.Pt(5, 5))
	hangs(t, p, r, "l2", "a", geom.Pt(3, 2.4), geom.Pt(5, 2.4))
	hangs(t, p, r, "l3", "a", geom.Pt(3, 0.6), geom.Pt(5, 0.6))
	hangs(t, p, r, "l4", "a", geom.Pt(4, 5))
	r.Design.Load("l1").Zone = domain.ZoneWindow
	r.Design.Load("l4").Zone = domain.ZoneSecondary
	plan := r.Plan
	out := proposedBy(t, p, r)
	r.Plan = plan
	zones := map[domain.ID]domain.WindowZone{}
	for i := range r.Design.Loads {
		zones[r.Design.Loads[i].ID] = r.Design.Loads[i].Zone
	}
	assert.Equal(t, map[domain.ID]domain.WindowZone{"l1": domain.ZoneWindow, "l2": domain.ZoneSecondary, "l3": domain.ZoneNone, "l4": domain.ZoneSecondary}, zones)
	at := slices.IndexFunc(out.Changes, func(g design.Group) bool { return g.Title == "Window zones" })
	require.GreaterOrEqual(t, at, 0)
	assert.Equal(t, []string{"L2: second row"}, out.Changes[at].Adds)
	assert.NotContains(t, fmt.Sprint(titles(proposedBy(t, p, r))), "Window zones", "there is nothing left to say")
}

func titles(out design.Proposal) (list []string) {
	for i := range out.Changes {
		list = append(list, out.Changes[i].Title)
	}
	return list
}

// After a first design no load states another zone than the plan shows, whatever the
// code, the luminaires, and where some hang already.
func TestFirstDesign_zonesAreThoseOfThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, r := windowRoom(t)
		plan, box := r.Plan, r.Outline.Bounds()
		p.CodePack = rapid.SampledFrom([]domain.CodePack{"", "ashrae-90.1-2019", "iecc-2021", "california-2022"}).Draw(t, "code")
		var at []geom.Point
		for range rapid.IntRange(0, 6).Draw(t, "hung") {
			pt := geom.Pt(box.Min.X+rapid.Float64Range(0.05, 0.95).Draw(t, "x")*box.Width(), box.Min.Y+rapid.Float64Range(0.05, 0.95).Draw(t, "y")*box.Height())
			if r.Outline.Contains(pt) {
				at = append(at, pt)
			}
		}
		luminaire := rapid.SampledFrom(p.Luminaires).Draw(t, "luminaire").ID
		if rapid.Bool().Draw(t, "a load has them") && len(at) > 0 {
			hangs(t, p, r, "own", luminaire, at...)
		} else {
			for i, pt := range at {
				r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i)), At: pt})
			}
		}
		rules := energycode.ZoneCodeOf(p).Rules
		out := design.Room(p, r, design.Options{Zones: &rules, Luminaire: luminaire})
		list, _ := out.Take(out.All())
		_, err := edit.All(edit.OfRoom(p, r), list)
		require.NoError(t, err)
		require.NoError(t, r.Settle())
		r.Plan = plan
		for _, f := range validate.Room(p, r, today) {
			if f.Rule == "daylighting-zone-differs" {
				t.Fatalf("%s", f.Message)
			}
		}
	})
}
