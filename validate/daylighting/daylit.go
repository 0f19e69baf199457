package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// faulty gives a finding for each daylight sensor on the plan with a fault of a kind;
// moves: another place mends it.
func faulty(f *rule.Facts, moves bool, say func(*rule.DaylightSensor, *daylight.Fault) string, kinds ...daylight.PlaceFault) []rule.Finding {
	room := f.Daylight()
	if room == nil {
		return nil
	}
	var out []rule.Finding
	for i := range room.Sensors {
		s := &room.Sensors[i]
		fault := s.Fault(kinds...)
		if fault == nil {
			continue
		}
		one := rule.AtMost(fault.Measured, fault.Limit, fault.Unit)
		if fault.Measured < fault.Limit {
			one = rule.AtLeast(fault.Measured, fault.Limit, fault.Unit)
		}
		one.Key, one.Subjects, one.Places = string(s.ID), []rule.Subject{s.Device.Subject()}, []geom.Point{s.At}
		one.Message = say(s, fault)
		if moves {
			one.Fix = hang(f, s)
		}
		out = append(out, one)
	}
	return out
}

// hang gives the fix that moves a sensor to where it works, found when it is applied.
func hang(f *rule.Facts, s *rule.DaylightSensor) *rule.Fix {
	title := fmt.Sprintf("Move %s to about 6 ft (1.8 m) from the glass, facing it", rule.Named(s.Device.Tag))
	if s.Loop == domain.ClosedLoop {
		title = fmt.Sprintf("Move %s over its zone, with no glass in its view", rule.Named(s.Device.Tag))
	}
	return &rule.Fix{Title: title, Edits: []edit.Edit{propose.HangDaylight{Room: f.Room, Device: s.ID}}}
}

// exact prints a limit's length as the project writes it, length a reckoned one.
func exact(f *rule.Facts, m float64) string { return units.Length(units.Metres(m), f.Project.Units) }

func length(f *rule.Facts, m float64) string {
	return units.Nearly(units.Metres(m), f.Project.Units)
}

// tags names loads: "L1 and L2".
func tags(f *rule.Facts, loads []domain.ID) string {
	var out []rule.Subject
	for _, id := range loads {
		if l := f.Load(id); l != nil {
			out = append(out, l.Subject())
		}
	}
	return rule.Tags(out)
}
