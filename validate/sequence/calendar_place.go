package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// CalendarPlace is SunPlace for the project's calendar of modes.
var CalendarPlace = rule.Rule{
	ID: "sequence-calendar-place", Title: "Calendar by the sun, but no place", Severity: rule.Error, Scope: rule.OfProject,
	Why:     "All rooms change their mode at the wrong hour.",
	Source:  commonPractice,
	Example: "A calendar with the line \"sunset after hours\" passes in a project with latitude, longitude and time zone, and does not pass without.",
	CheckProject: func(f *rule.ProjectFacts) []rule.Finding {
		if placed(f.Project) {
			return nil
		}
		for _, text := range f.Project.Calendar {
			if line, err := domain.ParseModeTime(text); err == nil && line.At.Sun != "" {
				return []rule.Finding{{Key: "calendar", Subjects: []rule.Subject{{Part: "facts", ID: "calendar", Tag: "Calendar of modes"}},
					Message: fmt.Sprintf("The calendar of modes has the line \"%s\", and %s: state them on the project page.", line, missingPlace(f.Project))}}
			}
		}
		return nil
	},
	FiresProject: func() *rule.ProjectFacts { return evenings() },
	QuietProject: func() *rule.ProjectFacts {
		f := evenings()
		north, east := 48.2, 16.4
		f.Project.Latitude, f.Project.Longitude, f.Project.Zone = &north, &east, "Europe/Vienna"
		return f
	},
}

func evenings() *rule.ProjectFacts {
	p := domaintest.Project(units.SI)
	p.Calendar = []string{"07:00 normal", "sunset after hours"}
	return &rule.ProjectFacts{Project: p}
}
