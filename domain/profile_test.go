package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/units"
)

func soundProfile() domain.UseProfile {
	return domain.UseProfile{ID: "classroom", Seq: 1, Day: 1400, Night: 100, Absence: 0.25, Target: 300, Source: "timetable"}
}

// A year has 8,760 h: exactly so many are taken, one more is not.
func TestUseProfile_validate(t *testing.T) {
	require.NoError(t, soundProfile().Validate())
	full := soundProfile()
	full.Day, full.Night, full.Absence = 4380, 4380, 1
	require.NoError(t, full.Validate())
	for name, spoil := range map[string]func(*domain.UseProfile){
		"more than the 8760 of a year": func(u *domain.UseProfile) { u.Day = 8661 },
		"go from 0 up":                 func(u *domain.UseProfile) { u.Night = -1 },
		"0 to 100 %":                   func(u *domain.UseProfile) { u.Absence = 1.001 },
		"light that the task":          func(u *domain.UseProfile) { u.Target = 0 },
		"needs a source":               func(u *domain.UseProfile) { u.Source = "" },
		"no use of rooms":              func(u *domain.UseProfile) { u.ID = "castle" },
	} {
		u := soundProfile()
		spoil(&u)
		assert.ErrorContains(t, u.Validate(), name)
	}
}

// What a field shows, it reads back, in both systems of units; what makes the whole
// unsound is refused and leaves it as it was.
func TestProfileFields_readBack(t *testing.T) {
	for _, sys := range []units.System{units.US, units.SI} {
		env := domain.Env{Project: &domain.Project{Units: sys}}
		for _, f := range domain.ProfileFields {
			u := soundProfile()
			require.NoError(t, f.Set(env, &u, f.Show(env, &u)), f.Name)
			assert.Equal(t, soundProfile(), u, f.Name)
		}
		hours, _ := domain.FieldNamed(domain.ProfileFields, "day_h")
		u := soundProfile()
		require.NoError(t, hours.Set(env, &u, "8660"))
		require.ErrorContains(t, hours.Set(env, &u, "8661 h"), "more than")
		assert.EqualValues(t, 8660, u.Day)
		empty, _ := domain.FieldNamed(domain.ProfileFields, "absence")
		require.NoError(t, empty.Set(env, &u, "37.5"))
		assert.Equal(t, 0.375, u.Absence)
		require.Error(t, empty.Set(env, &u, "100.1 %"))
	}
}

func TestRateFields(t *testing.T) {
	p := &domain.Project{Rates: []domain.Rate{{ID: "tariff", Value: 0.18, Date: "2026-01-01", Origin: "bill"}}}
	assert.Equal(t, 0.18, p.Rate(domain.RateTariff).Value)
	assert.Zero(t, p.Rate(domain.RateCarbon).Value, "nothing is built in")
	env := domain.Env{Project: p}
	value := domain.RateFields[0]
	r := p.Rate(domain.RateControls)
	require.NoError(t, value.Set(env, &r, "1500"))
	assert.Equal(t, "1500", value.Show(env, &r))
	require.NoError(t, value.Set(env, &r, ""))
	assert.Empty(t, value.Show(env, &r), "empty is not stated")
	for _, bad := range []string{"-1", "much", "1000000001"} {
		assert.Error(t, value.Set(env, &r, bad), bad)
	}
	assert.Error(t, domain.RateFields[1].Set(env, &r, "last year"))
}

func TestCheck_energy(t *testing.T) {
	s := &domain.Scope{Project: domain.Project{ID: "p", Name: "P", Units: units.SI, Profiles: []domain.UseProfile{soundProfile()}, Currency: "EUR", Rates: []domain.Rate{{ID: "tariff", Seq: 1, Value: 1e9}}}}
	require.Empty(t, s.Check())
	s.Project.Profiles[0].Night = 8000
	s.Project.Rates = append(s.Project.Rates, domain.Rate{ID: "gold", Seq: 2}, domain.Rate{ID: "carbon", Seq: 3, Value: 1e9 + 1, Date: "soon"})
	s.Project.Limits = domain.Limits{{ID: domain.OccupancyManual, Title: "t", Value: 0.69, Source: "x"}, {ID: domain.ChargeHours, Title: "t", Value: 8761, Source: "x"}, {ID: domain.OccupancySweep, Title: "t", Value: 0.7, Source: "x"}}
	var paths []string
	for _, p := range s.Check() {
		paths = append(paths, p.Path)
	}
	assert.ElementsMatch(t, []string{"/project/profiles/0", "/project/rates/1/id", "/project/rates/2/value", "/project/rates/2/date", "/project/limits/0", "/project/limits/1"}, paths)
}

func TestCompare_saysWhatChangedOfEnergy(t *testing.T) {
	older, newer := &domain.Scope{}, &domain.Scope{}
	newer.Project.Profiles = []domain.UseProfile{soundProfile()}
	older.Project.Rates = []domain.Rate{{ID: "tariff", Seq: 1, Value: 0.18}}
	newer.Project.Rates = []domain.Rate{{ID: "tariff", Seq: 1, Value: 0.2}}
	newer.Project.Currency = "EUR"
	diff, err := domain.Compare(older, newer)
	require.NoError(t, err)
	assert.ElementsMatch(t, []string{"currency none -> EUR", "profile of Classroom added", "rate price of energy: value 0.18 -> 0.2"}, diff.Project)
}

// The built-in factors of energy are within what the formulas hold for.
func TestEnergyLimits_areSound(t *testing.T) {
	for _, l := range domain.EnergyLimits() {
		assert.NoError(t, l.Validate())
		assert.Equal(t, l, domain.Limits(nil).Find(l.ID))
	}
	ls := domain.Limits{}
	assert.Nil(t, ls.Own("none"))
	ls.Own(domain.OccupancyManual).Value = 0.9
	assert.Equal(t, 0.9, ls.Value(domain.OccupancyManual))
	assert.Len(t, ls, 1)
	assert.EqualValues(t, 1, domain.Limits(nil).Value(domain.OccupancyManual), "the built-in one is left alone")
}
