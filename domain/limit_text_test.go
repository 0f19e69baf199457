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

// A new project in feet reckons daylight 30 in over the floor, one in meters at 0.85 m;
// nothing else differs.
func TestStartLimits_workPlane(t *testing.T) {
	assert.Equal(t, domain.GenericLimits(), domain.StartLimits(units.SI))
	us := domain.StartLimits(units.US)
	plane := us.Find(domain.WorkPlane)
	assert.Equal(t, "2 ft 6 in", plane.Text(units.US))
	assert.Contains(t, plane.Source, "30 in")
	require.NoError(t, plane.Validate())
	differ := 0
	for i, l := range domain.GenericLimits() {
		if us[i] != l {
			differ++
		}
	}
	assert.Equal(t, 1, differ)
	assert.Equal(t, 0.85, domain.GenericLimits().Value(domain.WorkPlane), "the built-in one is left alone")
}

// Bounds are said as a person would say them: 100 m are 328 ft and not 328 ft 1.01 in.
func TestLengthFields_boundsReadPlain(t *testing.T) {
	env := domain.Env{Project: &domain.Project{Units: units.US}}
	f, ok := domain.FieldNamed(domain.StoreyFields, "height_m")
	require.True(t, ok)
	err := f.Set(env, &domain.Storey{}, "400 ft")
	require.ErrorContains(t, err, "goes from 0 to 328 ft")
	assert.NotContains(t, err.Error(), " in")
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
