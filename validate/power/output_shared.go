package power

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/validate/rule"
)

// OutputShared keeps loads of different dimming methods off one output.
var OutputShared = rule.Rule{
	ID: "power-output-shared", Title: "Loads of different dimming on one output", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "One output gives one signal: a driver of another kind on it stays at full, flickers or is damaged.",
	Source:  commonPractice,
	Example: "Two loads dimmed by 0-10 V may share an output; one dimmed and one only switched may not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		outputs(f, func(d *rule.Device, output int, loads []*rule.Load) {
			for _, l := range loads[1:] {
				if method(l) == method(loads[0]) {
					continue
				}
				out = append(out, rule.Finding{Key: outputKey(d, output), Subjects: subjects(d, loads),
					Message: fmt.Sprintf("%s carries %s, which are not dimmed alike (%s is %s, %s is %s): give each method an output of its own.",
						outputName(d, output), tags(loads), rule.Named(loads[0].Tag), method(loads[0]), rule.Named(l.Tag), method(l))})
				return
			}
		})
		return out
	},
	Fires: func() *domaintest.Builder { return together("s") },
	Quiet: func() *domaintest.Builder { return together("a") },
}

func method(l *rule.Load) equipment.Dimming {
	if l.Dimming == "" {
		return equipment.Switched
	}
	return l.Dimming
}
