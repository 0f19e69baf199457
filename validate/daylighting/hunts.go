package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Hunts looks for switched loads that turn themselves on and off: a closed loop sees
// them go out. What a load adds at the task is taken as its share, by watts, of what
// the sensor's loads give, which is the target.
var Hunts = rule.Rule{
	ID: "daylighting-hunts", Title: "Switched load that its daylight sensor turns on and off for ever", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "The sensor reads less as the lamps go out, turns them on for it, reads more and turns them off again.",
	Source:  commonPractice + ": the band between off and on must be wider than what the lamps add",
	Example: "A closed-loop sensor with a target of 400 lx and a lowest level of 10 % turns off at 360 lx and on at 340 lx. A switched load that adds 19 lx of the 400 passes; one that adds 20 lx or more turns itself on again. An open loop does not see its lamps and passes.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Links {
			k := &f.Links[i]
			if !k.Reads() || k.From.Loop != domain.ClosedLoop || k.To.Kind != domain.Lighting || k.To.Dims() {
				continue
			}
			if in := trims(f, k.To); in != nil && in.MayOff && in.Target > 0 {
				if one, hunts := hunting(f, k, in); hunts {
					out = append(out, one)
				}
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return switching(domain.ClosedLoop) },
	Quiet: func() *domaintest.Builder { return switching(domain.OpenLoop) },
}

// comesBack is how many points above its lowest level a load comes back that daylight
// has turned off; it is that of package sequence.
const comesBack = 5

func hunting(f *rule.Facts, k *rule.Link, in *domain.Intent) (out rule.Finding, hunts bool) {
	off := in.Target * units.Lux(1-in.Lowest/100)
	on := in.Target * units.Lux(1-(in.Lowest+comesBack)/100)
	added, known := addedBy(f, k, in.Target)
	if !known || !daylight.Hunts(on, off, added) {
		return out, false
	}
	light := func(e units.Lux) string { return units.Light(e, f.Project.Units) }
	out = rule.Finding{Key: string(k.ID), Subjects: []rule.Subject{k.To.Subject(), k.From.Subject(), rule.IntentSubject(in)}}
	out.Message = fmt.Sprintf("%s is only switched, and %s (closed loop) sees its light: it goes off at %s, takes %s with it, and is asked back on under %s, again and again. Dim it, or let an open-loop sensor act on it.",
		rule.Named(k.To.Tag), rule.Named(k.From.Tag), light(off), light(added), light(on))
	if f.Count(func(d *rule.Device) bool { return d.Traits.Daylight && d.Loop != domain.ClosedLoop }) < int(f.Limit(domain.DaylightPerRoom)) {
		out.Fix = rule.SetFields(fmt.Sprintf("Set %s to open loop", rule.Named(k.From.Tag)), "devices/"+string(k.From.ID)+"/loop", string(domain.OpenLoop))
	}
	return out, true
}

// addedBy gives what a load adds at the task; known is false where watts are not.
func addedBy(f *rule.Facts, k *rule.Link, target units.Lux) (lx units.Lux, known bool) {
	var all units.Watts
	for i := range f.Links {
		if o := &f.Links[i]; o.From == k.From && o.Reads() && o.To.Kind == domain.Lighting {
			if !o.To.Known {
				return 0, false
			}
			all += o.To.Watts
		}
	}
	if all <= 0 {
		return 0, false
	}
	return target * units.Lux(k.To.Watts/all), true
}

// trims gives the daylight intent that acts on a load, nil where none does.
func trims(f *rule.Facts, l *rule.Load) *domain.Intent {
	for i := range f.Design.Intents {
		if in := &f.Design.Intents[i]; in.Kind == domain.ByDaylight && in.ActsOn(l.Load) {
			return in
		}
	}
	return nil
}

// switching gives the classroom with a window row that is only switched, off where
// daylight is enough.
func switching(loop domain.LoopKind) *domaintest.Builder {
	return domaintest.Classroom().Set("loads/l3/dimming", "switched", "intents/i3/may_off", "yes", "devices/ds/loop", string(loop)).
		Link("st", 3, domain.Press, "l3", "-")
}
