package presence

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// VacancyNoStation asks for buttons where sensors never turn the light on.
var VacancyNoStation = rule.Rule{
	ID: "presence-vacancy-no-station", Title: "Vacancy room without buttons for its lighting", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A vacancy sensor never turns light on: who enters stands in the dark unless there is a button at the door.",
	Source:  commonPractice,
	Example: "A room whose sensors are all vacancy sensors passes with one button that turns lighting on, and does not pass with a schedule alone.",
	Check: func(f *rule.Facts) []rule.Finding {
		some := false
		for i := range f.Devices {
			if d := &f.Devices[i]; d.Traits.Presence {
				if d.Presence != domain.Vacancy {
					return nil
				}
				some = true
			}
		}
		if !some || !sensesLighting(f) || buttonLights(f) {
			return nil
		}
		sensors := f.PresenceSensors()
		return []rule.Finding{{Subjects: sensors, Message: "All presence sensors (" + rule.Tags(sensors) + ") are vacancy sensors, which never turn light on, and no button does: add a wall station that turns the lighting on, or use occupancy sensors."}}
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Do(edit.Remove{Part: "devices", ID: "st"}, edit.Remove{Part: "scenes", ID: "s1"}, edit.Remove{Part: "scenes", ID: "s2"}).
			Working(1, "av-serial").Set("intents/for-w1/scene", "", "intents/for-w1/level", "100")
	},
	Quiet: func() *domaintest.Builder {
		return domaintest.Classroom()
	},
}

func sensesLighting(f *rule.Facts) bool {
	for i := range f.Links {
		if k := &f.Links[i]; k.Senses() && k.To.Kind == domain.Lighting {
			return true
		}
	}
	return false
}

// buttonLights tells that a person can light something by a button, of a
// station or of the wall-box controller that carries the load.
func buttonLights(f *rule.Facts) bool {
	for i := range f.Links {
		if k := &f.Links[i]; k.Presses() && k.To.Kind == domain.Lighting && k.Do.TurnsOn(f.Design, k.To.ID) {
			return true
		}
	}
	for i := range f.Loads {
		if c := f.Loads[i].Carrier; c != nil && c.Traits.OwnOnly && f.Loads[i].Kind == domain.Lighting {
			return true
		}
	}
	return false
}
