package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// EgressOff keeps everything from darkening egress lighting. It knows nothing
// of listed devices, of codes or of the rooms that the way out serves.
var EgressOff = rule.Rule{
	ID: "controls-egress-off", Title: "Something can turn egress lighting off", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The way out must be lit while anybody is in the space that it serves; a person who falls in the dark is worth more than the energy.",
	Source:  "IFC and IBC 2021 section 1008.2 ask for light on the means of egress while the space is occupied; which controls are allowed depends on the adopted code",
	Example: "Egress lighting that a vacancy intent lowers to 20 % passes; one that a button, scene, schedule, contact or intent can turn off does not, whatever bypass device is named.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if !l.Egress {
				continue
			}
			ways := waysOff(f, l)
			if len(ways) == 0 {
				continue
			}
			found := rule.AtMost(float64(len(ways)), 0, "ways off")
			found.Key, found.Subjects = string(l.ID), append([]rule.Subject{l.Subject()}, ways...)
			found.Message = fmt.Sprintf("Egress load %s can be turned off by %s. Keep it at its egress level there, or take it out of control. Caution: local codes and the authority having jurisdiction decide; accepting this is not for the designer alone.", rule.Named(l.Tag), rule.Tags(ways))
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return egress().Set("intents/i2/off_level", "0") },
	Quiet: egress,
}

// waysOff gives all that can darken a load, once each. A scene counts whether
// or not a button recalls it: a server may.
func waysOff(f *rule.Facts, l *rule.Load) []rule.Subject {
	var ways []rule.Subject
	for i := range f.Links {
		if k := &f.Links[i]; k.To == l && k.Presses() && k.Do.Verb != domain.ToScene && k.Do.TurnsOff(f.Design, l.ID) {
			ways = append(ways, cellSubject(k))
		}
	}
	for i := range f.Design.Scenes {
		s := &f.Design.Scenes[i]
		if level := s.LevelOf(l.ID); level != nil && !level.Leave && level.Level == 0 {
			ways = append(ways, rule.Subject{Part: "scenes", ID: s.ID, Tag: fmt.Sprintf("scene %d %s", s.Number, s.Name)})
		}
	}
	if c := l.Carrier; c != nil && c.Traits.OwnOnly {
		ways = append(ways, rule.Subject{Part: "devices", ID: c.ID, Tag: "the buttons of " + rule.Named(c.Tag)})
	}
	for i := range f.Design.Intents {
		if in := &f.Design.Intents[i]; in.ActsOn(l.Load) && darkens(in) {
			ways = append(ways, rule.Subject{Part: "intents", ID: in.ID, Tag: "the " + in.Kind.Title() + " intent"})
		}
	}
	return ways
}

// darkens tells that the intent by itself, not through a scene, takes its loads
// to nothing.
func darkens(in *domain.Intent) bool {
	switch {
	case in.GoesToLevel() && in.Level == 0 && in.Kind != domain.ByPresence:
		return true
	case in.Do == domain.ToggleLoads:
		return true
	}
	switch in.Kind {
	case domain.ByPresence:
		return in.OffLevel == 0
	case domain.ByDaylight:
		return in.MayOff
	case domain.BySchedule:
		return in.OffAt != ""
	case domain.OnDemandResponse:
		return in.Level == 0
	case domain.OnPowerBack:
		return in.Restore == domain.RestoreOff
	}
	return false
}

// egress gives a classroom whose board load is egress lighting that nothing
// darkens.
func egress() *domaintest.Builder {
	return domaintest.Classroom().Set("loads/l4/egress", "yes", "loads/l4/bypass", "Bypass relay, listed", "scenes/s2/levels/l4", "20", "intents/i2/off_level", "20").
		Link("st", 4, domain.Press, "l4", "20")
}
