package daylighting

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// TwoFacades asks that a sensor's loads are lit from one side of the building.
var TwoFacades = rule.Rule{
	ID: "daylighting-two-facades", Title: "Daylight sensor governs loads of two facades", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "The sun is on one facade at a time: the sensor follows one and leaves the rooms' other side too dark or too bright.",
	Source:  commonPractice,
	Example: "A sensor whose loads are all lit by the north windows passes; with one load more at a window in the east it does not. Windows within 30 degrees face one way.",
	Check: func(f *rule.Facts) []rule.Finding {
		out := faulty(f, false, func(s *rule.DaylightSensor, x *daylight.Fault) string {
			return fmt.Sprintf("%s governs %s, which windows on %s light most, limit 1: the sun is on one side at a time. Give each side loads and a sensor of its own (closed loop: a room takes one open loop).", rule.Named(s.Device.Tag), tags(f, s.Loads), rule.Many(int(x.Measured), "side"))
		}, daylight.TwoFacades)
		for i := range out {
			out[i].Fix = oneFacade(f, domain.ID(out[i].Key))
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return cornered().Link("ds", 0, "", "l4", "ACT").Set("intents/i3/loads", "L3, L4")
	},
	Quiet: cornered,
}

// oneFacade gives the fix that leaves a sensor the loads of the facade that lights
// most of their luminaires; nil where a single load is lit by two.
func oneFacade(f *rule.Facts, sensor domain.ID) *rule.Fix {
	room := f.Daylight()
	i := slices.IndexFunc(room.Sensors, func(s rule.DaylightSensor) bool { return s.ID == sensor })
	facades := room.Space.Facades()
	by, lamps := make([][]domain.ID, len(facades)), make([]int, len(facades))
	for _, id := range room.Sensors[i].Loads {
		switch lit := room.Light.Governs(facades, id); len(lit) {
		case 0:
		case 1:
			by[lit[0]] = append(by[lit[0]], id)
			lamps[lit[0]] += room.Light.Under(id).Points
		default:
			return nil
		}
	}
	return leave(f, &room.Sensors[i], by[slices.Index(lamps, slices.Max(lamps))])
}

// leave gives the fix that takes from a sensor, and from the daylight intents, the
// loads that do not stay. It is nil where no load would, or an intent would be empty.
func leave(f *rule.Facts, s *rule.DaylightSensor, stay []domain.ID) *rule.Fix {
	if len(stay) == 0 {
		return nil
	}
	fix := &rule.Fix{Title: fmt.Sprintf("Let %s act on %s only", rule.Named(s.Device.Tag), tags(f, stay))}
	goes := func(id domain.ID) bool { return slices.Contains(s.Loads, id) && !slices.Contains(stay, id) }
	for _, id := range s.Loads {
		if goes(id) {
			fix.Edits = append(fix.Edits, edit.SetField{Path: "links/" + string(domain.LinkID(s.ID, 0, "", id)), Text: "-"})
		}
	}
	for i := range f.Design.Intents {
		in := &f.Design.Intents[i]
		if in.Kind != domain.ByDaylight {
			continue
		}
		var rest []rule.Subject
		all := in.Targets(f.Design)
		for _, id := range all {
			if l := f.Load(id); l != nil && !goes(id) {
				rest = append(rest, l.Subject())
			}
		}
		switch {
		case len(rest) == len(all):
		case len(rest) == 0:
			return nil
		default:
			fix.Edits = append(fix.Edits, edit.SetField{Path: "intents/" + string(in.ID) + "/loads", Text: ids(rest)})
		}
	}
	return fix
}

// cornered gives the example with a window in the east wall too, and L4 before it.
func cornered() *domaintest.Builder {
	return hangAt(glaze(drawn(), 1, 0.2, 2), "l4", geom.Pt(7.2, 0.8), geom.Pt(7.2, 1.6))
}
