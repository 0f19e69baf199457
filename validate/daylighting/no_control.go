package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// NoControl looks for loads in daylight that nothing dims by it.
var NoControl = rule.Rule{
	ID: "daylighting-no-control", Title: "Load at the window without daylight control", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "Light that burns in full sun is the cheapest saving there is, and energy codes ask for its control above a certain size.",
	Source:  commonPractice + "; whether it is mandatory depends on the adopted energy code",
	Example: "A load in the window row passes with a daylight intent or a daylight sensor for it, and is noted with neither. In a room without windows only loads under a rooflight count.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			lit := l.Zone == domain.ZoneRoof || l.Zone == domain.ZoneWindow && f.Room.Windows
			if l.Kind != domain.Lighting || !lit || sensed(f, l) || acted(f, l) {
				continue
			}
			out = append(out, rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()},
				Message: fmt.Sprintf("%s is in daylight (%s) and nothing dims it by daylight: add a daylight sensor and intent, or say why not.", rule.Named(l.Tag), l.Zone)})
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Do(edit.Remove{Part: "devices", ID: "ds"}, edit.Remove{Part: "intents", ID: "i3"})
	},
	Quiet: func() *domaintest.Builder {
		return domaintest.Classroom().Do(edit.Remove{Part: "devices", ID: "ds"}, edit.Remove{Part: "intents", ID: "i3"}).Set("loads/l3/zone", "none")
	},
}
