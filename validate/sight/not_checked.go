package sight

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// NotChecked tells of which sensors it is not known what they see, or only
// roughly.
var NotChecked = rule.Rule{
	ID: "sight-not-checked", Title: "What presence sensors see is not checked, or only roughly", Severity: rule.Info, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.AreaPerPresenceSensor},
	Why:     "A check that could not be made must not look like one that passed.",
	Source:  commonPractice,
	Example: "A type that states the radii of its pattern passes; one that states only its coverage is taken for a disc and told.",
	Check: func(f *rule.Facts) []rule.Finding {
		room := f.Sight()
		if room == nil {
			return nil
		}
		var out []rule.Finding
		if s := f.Sensors(func(d *rule.Device) bool { return d.Device.At == nil }); len(s) > 0 {
			out = append(out, rule.Finding{Key: "not placed", Subjects: s,
				Message: fmt.Sprintf("Not on the plan of room %s: %s. Which seats, entrances and floor are seen is not checked until all presence sensors are.", f.Room.Number, rule.Tags(s))})
		}
		if s := of(f, room, func(s *coverage.RoomSensor) bool { return s.Refused != nil && f.Device(s.ID).Type.StatedAt == 0 }); len(s) > 0 {
			out = append(out, rule.Finding{Key: "no height", Subjects: s,
				Message: fmt.Sprintf("What %s would see is not checked: the type does not state the height at which its radii hold. Enter it in the equipment book.", rule.Tags(s))})
		}
		if s := of(f, room, func(s *coverage.RoomSensor) bool { return s.Assumed && s.Refused == nil }); len(s) > 0 {
			out = append(out, rule.Finding{Key: "assumed", Subjects: s,
				Message: fmt.Sprintf("What %s would see is checked roughly: the type states no radius, and a disc of its coverage, or of %s where it states none, stands for its pattern. Enter the radii in the equipment book.", rule.Tags(s), area(f, f.Limit(domain.AreaPerPresenceSensor)))})
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		t := wide
		t.MajorRadius, t.MinorRadius, t.Coverage = 0, 0, 300
		return example(t)
	},
	Quiet: func() *domaintest.Builder { return example(wide) },
}

func of(f *rule.Facts, room *coverage.Room, want func(*coverage.RoomSensor) bool) []rule.Subject {
	var out []rule.Subject
	for i := range room.Sensors {
		if s := &room.Sensors[i]; want(s) {
			out = append(out, f.Device(s.ID).Subject())
		}
	}
	return out
}
