package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// The built-in limits of either system read round in the other, and typing what is
// shown moves none of them.
func TestLimits_readAsTypedAndStayWhereTheyAre(t *testing.T) {
	for _, sys := range []units.System{units.US, units.SI} {
		env := domain.Env{Project: &domain.Project{Units: sys}}
		for _, l := range domain.GenericLimits() {
			before := l
			shown := domain.LimitFields[0].Show(env, &l)
			require.NoError(t, domain.LimitFields[0].Set(env, &l, shown), shown)
			assert.Equal(t, before, l)
			assert.NotRegexp(t, `\.\d{3}.* (in|sq ft|m2)$`, shown, l.Title)
		}
	}
	area, sill := domain.GenericLimits().Find(domain.AreaPerPresenceSensor), domain.GenericLimits().Find(domain.WindowSill)
	assert.Equal(t, []string{"500 sq ft", "46.5 m2"}, []string{area.Text(units.US), area.Text(units.SI)})
	assert.Equal(t, []string{"2 ft 11.5 in", "0.9 m"}, []string{sill.Text(units.US), sill.Text(units.SI)})
}

// The built-in presence sensors' radii come from areas: 12 ft 7.39 in is printed to
// the inch, and stays what it is.
func TestBookLengths_readAsTypedAndStayWhereTheyAre(t *testing.T) {
	env := domain.Env{Project: &domain.Project{Units: units.US}}
	for _, one := range equipment.Generic() {
		for _, name := range []string{"major_m", "minor_m", "stated_at_m", "lowest_m", "highest_m", "most_radius_m"} {
			f, ok := domain.FieldNamed(domain.EquipmentFields, name)
			require.True(t, ok, name)
			before := one
			shown := f.Show(env, &one)
			assert.NotRegexp(t, `\.\d[1-46-9] in`, shown, one.Name)
			if shown != "" {
				require.NoError(t, f.Set(env, &one, shown))
				assert.Equal(t, before, one)
			}
		}
	}
}
