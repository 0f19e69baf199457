package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// SunPlace asks where on earth the sun rises and sets that an intent names.
var SunPlace = rule.Rule{
	ID: "sequence-sun-place", Title: "Time by the sun, but no place", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Sunset at the same clock differs by hours between two towns; without a place the controller uses whatever it was delivered with.",
	Source:  commonPractice,
	Example: "A schedule at sunset passes in a project with latitude, longitude and time zone, and does not pass while one of them is missing.",
	Check: func(f *rule.Facts) []rule.Finding {
		if placed(f.Project) {
			return nil
		}
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			times := []string{in.From, in.Until}
			if in.Kind == domain.BySchedule {
				times = append(times, in.OnAt, in.OffAt)
			}
			for _, t := range times {
				if !sun(t) {
					continue
				}
				out := of(in)
				out.Message = fmt.Sprintf("The intent %s names %s, and %s: state them on the project page.", in.Kind.Title(), t, missingPlace(f.Project))
				return out, true
			}
			return rule.Finding{}, false
		})
	},
	Fires: func() *domaintest.Builder { return atSunset() },
	Quiet: func() *domaintest.Builder {
		b := atSunset()
		north, east := 41.9, -87.6
		b.P.Latitude, b.P.Longitude, b.P.Zone = &north, &east, "America/Chicago"
		return b
	},
}

// atSunset gives a classroom that a schedule turns off an hour after sunset.
func atSunset() *domaintest.Builder {
	return domaintest.Classroom().Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/off_at", "sunset+01:00")
}
