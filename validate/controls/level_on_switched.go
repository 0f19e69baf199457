package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// LevelOnSwitched looks for levels, raise and lower on loads that are only
// switched.
var LevelOnSwitched = rule.Rule{
	ID: "controls-level-on-switched", Title: "Dimmed level on a switched load", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A switched load is on or off: at 60 % it is simply on, and raise and lower do nothing.",
	Source:  commonPractice,
	Example: "0 and 100 pass on a switched load; 60 does not, nor does UP or DN.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		visitLevels(f, between, func(l level) {
			found := rule.Finding{Key: l.path + ":" + string(l.load.ID), Subjects: []rule.Subject{l.about, l.load.Subject()}}
			found.Message = fmt.Sprintf("%s sets %s to %s, and it is only switched: use 0 or 100, or dim it.", l.who, rule.Named(l.load.Tag), units.Percent(l.value))
			if l.about.Part != "intents" { // whether an intent means on or off is the designer's to say
				found.Fix = rule.SetFields("Set it to 100 %", l.path, l.said(100))
			}
			out = append(out, found)
		})
		for i := range f.Links {
			k := &f.Links[i]
			if !k.Presses() || k.To.Dimming != equipment.Switched || k.Do.Verb != domain.Raise && k.Do.Verb != domain.Lower {
				continue
			}
			about := cellSubject(k)
			found := rule.Finding{Key: cellPath(k), Subjects: []rule.Subject{about, k.To.Subject()}, Fix: rule.SetFields("Write - there", cellPath(k), "-")}
			found.Message = fmt.Sprintf("%s raises or lowers %s, and it is only switched: write -, 0, 100 or TGL, or dim it.", about.Tag, rule.Named(k.To.Tag))
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return strip().Set("scenes/s2/levels/l5", "60") },
	Quiet: strip,
}

func between(l *rule.Load, v units.Level) bool {
	return l.Dimming == equipment.Switched && v > 0 && v < 100
}

// strip gives a classroom with a fifth load that is only switched.
func strip() *domaintest.Builder {
	b := domaintest.Classroom().Load("l5", "s", 2).Device("sw", "lc-1").Carry("l5", "sw", 1)
	for n, cell := range []string{"SC1", "SC2", "-", "0"} {
		b.Link("st", n+1, domain.Press, "l5", cell)
	}
	return b.Link("ps", 0, "", "l5", "ACT").Link("ds", 0, "", "l5", "-").Set("scenes/s1/levels/l5", "100", "scenes/s2/levels/l5", "0")
}
