package power

import (
	"fmt"
	"strconv"

	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// OutputNumber asks for an output that the controller has.
var OutputNumber = rule.Rule{
	ID: "power-output-number", Title: "Load on an output that the controller does not have", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The electrician looks for an output that is not there and takes the next best.",
	Source:  commonPractice,
	Example: "Output 4 of a controller of 4 passes, output 5 does not, nor does a load with no output named.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			d := l.Carrier
			if d == nil || d.Type == nil || l.Output >= 1 && l.Output <= d.Type.Outputs {
				continue
			}
			name := rule.Named(l.Tag)
			found := rule.AtMost(float64(l.Output), float64(d.Type.Outputs), "output")
			found.Key, found.Subjects = string(l.ID), []rule.Subject{l.Subject(), d.Subject()}
			switch {
			case d.Type.Outputs == 0:
				found.Numbers = false
				found.Message = fmt.Sprintf("%s is on %s, which has no outputs: choose a controller.", name, rule.Named(d.Tag))
			case l.Output < 1:
				found.Numbers = false
				found.Message = fmt.Sprintf("%s is on %s, and no output is named: choose one from 1 to %d.", name, rule.Named(d.Tag), d.Type.Outputs)
			default:
				found.Message = fmt.Sprintf("%s is on output %d of %s, which has %s (limit %d): choose another.", name, l.Output, rule.Named(d.Tag), rule.Many(d.Type.Outputs, "output"), d.Type.Outputs)
			}
			if n := freeOutput(f, d); n > 0 {
				found.Fix = rule.SetFields(fmt.Sprintf("Put it on output %d", n), "loads/"+string(l.ID)+"/output", strconv.Itoa(n))
			}
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return together("a").Carry("l5", "lc", 5) },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}
