package domain

import (
	"fmt"
	"math"

	"scopewright/domain/units"
)

// UseProfile is how a use of room is used in a project: hours a year, the share of
// them in which it is empty, and the light that its task asks for. Its ID is the
// use. Uses that a project says nothing of have the built-in profile.
type UseProfile struct {
	ID      ID        `json:"id"` // the use: "office-private"
	Seq     int       `json:"seq"`
	Day     float64   `json:"day_h"`   // hours of use with daylight, a year
	Night   float64   `json:"night_h"` // hours of use without
	Absence float64   `json:"absence"` // share of the hours in which it is empty, 0 to 1
	Target  units.Lux `json:"target_lx"`
	Source  string    `json:"source"`
}

// Profile gives what the project says of a use, nil where it says nothing.
func (p *Project) Profile(u Use) *UseProfile {
	for i := range p.Profiles {
		if p.Profiles[i].ID == ID(u) {
			return &p.Profiles[i]
		}
	}
	return nil
}

// Validate says what is wrong with the profile.
func (u UseProfile) Validate() error {
	_, known := Use(u.ID).Info()
	name := Use(u.ID).Name()
	switch {
	case !known:
		return fmt.Errorf("there is no use of rooms %q", u.ID)
	case !(u.Day >= 0 && u.Night >= 0):
		return fmt.Errorf("%s: hours of use go from 0 up", name)
	case u.Day+u.Night > HoursPerYear:
		return fmt.Errorf("%s: %s and %s hours of use are more than the %d of a year", name, units.Trim(u.Day, 0), units.Trim(u.Night, 0), HoursPerYear)
	case !(u.Absence >= 0 && u.Absence <= 1):
		return fmt.Errorf("%s: the share of hours in which it is empty goes from 0 to 100 %%", name)
	case !(u.Target > 0):
		return fmt.Errorf("%s: state the light that the task asks for", name)
	case u.Source == "":
		return fmt.Errorf("%s: the profile needs a source", name)
	}
	return nil
}

// ProfileFields are the columns of the table of profiles.
var ProfileFields = []Field[UseProfile]{
	profileHours("day_h", "Hours with daylight", func(u *UseProfile) *float64 { return &u.Day }),
	profileHours("night_h", "Hours without", func(u *UseProfile) *float64 { return &u.Night }),
	absenceField(),
	profileField(lightField("target_lx", "Task", 20000, func(u *UseProfile) *units.Lux { return &u.Target })),
	sourceField(func(u *UseProfile) *string { return &u.Source }),
}

// profileField takes what leaves the profile sound as a whole.
func profileField(f Field[UseProfile]) Field[UseProfile] {
	set := f.Set
	f.Set = func(e Env, u *UseProfile, text string) error {
		changed := *u
		if err := set(e, &changed, text); err != nil {
			return err
		}
		if err := changed.Validate(); err != nil {
			return err
		}
		*u = changed
		return nil
	}
	return f
}

func profileHours(name, title string, at func(*UseProfile) *float64) Field[UseProfile] {
	f := Field[UseProfile]{Name: name, Title: title, Hint: "a year",
		Show: func(_ Env, u *UseProfile) string { return units.Trim(*at(u), 0) + " h" },
		Set: func(_ Env, u *UseProfile, text string) error {
			v, err := units.In(text, "h", map[string]float64{"h": 1})
			if err == nil {
				*at(u) = v
			}
			return err
		}}
	return profileField(f)
}

func absenceField() Field[UseProfile] {
	f := Field[UseProfile]{Name: "absence", Title: "Empty", Hint: "share of the hours of use in which nobody is in",
		Show: func(_ Env, u *UseProfile) string { return units.Trim(100*u.Absence, 1) + " %" },
		Set: func(_ Env, u *UseProfile, text string) error {
			v, err := units.In(text, "%", map[string]float64{"%": 1})
			if err == nil {
				u.Absence = math.Round(10*v) / 1000
			}
			return err
		}}
	return profileField(f)
}

func sourceField[T any](at func(*T) *string) Field[T] {
	return Field[T]{Name: "source", Title: "Source", Wide: true,
		Show: func(_ Env, x *T) string { return *at(x) },
		Set: func(_ Env, x *T, text string) error {
			clean, err := CleanLine(text, 240)
			if err == nil && clean == "" {
				err = fmt.Errorf("say where the numbers come from: a standard, a survey, the owner")
			}
			if err == nil {
				*at(x) = clean
			}
			return err
		}}
}

func (c *checker) profiles(list []UseProfile) {
	for i, u := range list {
		if err := u.Validate(); err != nil {
			c.add(fmt.Sprintf("/project/profiles/%d", i), "%v", err)
		}
	}
}
