package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// Little looks for loads that are dimmed by daylight and get hardly any.
var Little = rule.Rule{
	ID: "daylighting-little", Title: "Load dimmed by daylight that gets hardly any", Severity: rule.Info, Scope: rule.OfRoom,
	Limits: []domain.LimitID{domain.LeastFactor, domain.GlassTransmittance, domain.GlazedShare, domain.GlassMaintenance, domain.WindowSill, domain.WindowHead, domain.WorkPlane,
		domain.ReflectanceCeiling, domain.ReflectanceWalls, domain.ReflectanceFloor, domain.ReflectanceGlass, domain.ReflectanceGround, domain.OutsideLuminance},
	Why:     "Sensor and calibration cost the same where daylight never comes near the target, and dim nothing.",
	Source:  commonPractice + "; daylight factors by the sky component of the CIE overcast sky and the split flux method, a prediction",
	Example: "At a mean daylight factor of 1.01 % under its luminaires a load passes, at 0.99 % it does not: 1 % of an overcast sky of 10,000 lx is 100 lx.",
	Check: func(f *rule.Facts) []rule.Finding {
		room := f.Daylight()
		if room == nil {
			return nil
		}
		var out []rule.Finding
		limit := f.Limit(domain.LeastFactor)
		for i := range f.Loads {
			l := &f.Loads[i]
			if l.Kind != domain.Lighting || !sensed(f, l) || !acted(f, l) {
				continue
			}
			under := room.Light.Under(l.ID)
			if under.Points == 0 || under.Mean >= limit {
				continue
			}
			one := rule.AtLeast(under.Mean, limit, "%")
			one.Key, one.Subjects = string(l.ID), []rule.Subject{l.Subject()}
			one.Message = fmt.Sprintf("%s is dimmed by daylight, and under its luminaires the daylight factor is %s %% in the mean, limit %s %% (reckoned from the plan; measure on site): it will hardly ever dim. Leave it out, or draw the windows as they are.", rule.Named(l.Tag), rule.Number(under.Mean), rule.Number(limit))
			out = append(out, one)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return tinted(5) },
	Quiet: func() *domaintest.Builder { return tinted(60) },
}

// tinted gives the glass of the example a transmittance in percent.
func tinted(percent float64) *domaintest.Builder {
	b := drawn()
	b.R.Plan.Walls[2].Openings[0].Glass = percent / 100
	return b
}
