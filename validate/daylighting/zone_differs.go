package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ZoneDiffers holds the window zone that a load states against the plan. Codes count
// general lighting, so that other layers are not asked.
var ZoneDiffers = rule.Rule{
	ID: "daylighting-zone-differs", Title: "Window zone of a load is not what the plan shows", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.WindowHead, domain.CeilingHeight},
	Why:     "Sheets, proposals and the daylight sensor's calibration go by the stated zone, energy codes by where the luminaires hang.",
	Source:  "daylight zones of the project's energy code, else of ASHRAE 90.1; what most of a load's luminaires hang in: " + commonPractice,
	Example: "A load with 4 luminaires 0.8 m from glass of a head of 2.4 m passes as window row and does not as none. Half of them in each of two zones passes as either; one in the second row, or only switched, that states none is only noted; an unstated zone is not asked.",
	Check: func(f *rule.Facts) []rule.Finding {
		if !statesZone(f) {
			return nil
		}
		room := f.Daylight()
		if room == nil {
			return nil
		}
		zones, err := room.Rules.Rules.Measured(room.Space)
		if err != nil {
			return nil // the rules of the outline's shape say what is wrong with it
		}
		var out []rule.Finding
		for _, h := range room.Rules.Rules.Hang(&zones, room.Space.Luminaires) {
			l := f.Load(h.Load)
			if l == nil || l.Zone == "" || !general(l) || !room.Rules.Rules.Knows(l.Zone) || h.In(h.Most()) <= h.In(l.Zone) {
				continue
			}
			all := h.Toplit + h.Primary + h.Secondary + h.Apart
			weight := rule.Warning
			if l.Zone == domain.ZoneNone && (h.Most() == domain.ZoneSecondary || !l.Dims()) {
				weight = rule.Info // what new loads state; of the second row not every code asks, and what is only switched daylight does not trim
			}
			out = append(out, rule.Finding{Key: string(l.ID), Severity: weight, Subjects: []rule.Subject{l.Subject()},
				Message: fmt.Sprintf("%s states the window zone %q, and by the plan %d of %s hang in %q, %d in %q (rules of %s): set the zone, or draw windows and luminaires as they are.",
					rule.Named(l.Tag), l.Zone, h.In(h.Most()), rule.Many(all, "luminaire"), h.Most(), h.In(l.Zone), l.Zone, room.Rules.Name),
				Fix: rule.SetFields(fmt.Sprintf("Set the zone of %s to %s", rule.Named(l.Tag), h.Most()), "loads/"+string(l.ID)+"/zone", string(h.Most()))})
		}
		return out
	},
	Fires: func() *domaintest.Builder { return drawn().Set("loads/l3/zone", string(domain.ZoneNone)) },
	Quiet: drawn,
}

func general(l *rule.Load) bool {
	return l.Kind == domain.Lighting && (l.Layer == domain.General || l.Layer == "")
}

func statesZone(f *rule.Facts) bool {
	for i := range f.Loads {
		if l := &f.Loads[i]; l.Zone != "" && general(l) {
			return true
		}
	}
	return false
}
