package power

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// Voltage holds a load's line voltage to what its controller may carry.
var Voltage = rule.Rule{
	ID: "power-voltage", Title: "Line voltage outside the controller's range", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Equipment on a higher voltage than it is made for fails, and may burn or kill.",
	Source:  commonPractice + "; the range is the equipment book's",
	Example: "277 V on a controller for 100 to 277 V passes; 347 V does not, nor does 277 V on one for 100 to 125 V.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			d := l.Carrier
			if d == nil || d.Type == nil {
				continue
			}
			volts := l.Voltage(f.Project)
			if d.Type.TakesVolts(volts) {
				continue
			}
			most, least := d.Type.MaxVolts, d.Type.MinVolts
			found := rule.AtMost(float64(volts), float64(most), "V")
			side := fmt.Sprintf("%s V over", rule.Number(float64(volts-most)))
			if volts < least {
				found.Limit, found.Margin = float64(least), float64(volts-least)
				side = fmt.Sprintf("%s V under", rule.Number(float64(least-volts)))
			}
			found.Key, found.Subjects = string(l.ID), []rule.Subject{l.Subject(), d.Subject()}
			found.Message = fmt.Sprintf("%s runs on %s V, and %s is made for %s to %s V: %s. Choose another controller. Caution: mains voltage; a licensed electrician decides.",
				rule.Named(l.Tag), rule.Number(float64(volts)), rule.Named(d.Tag), rule.Number(float64(least)), rule.Number(float64(most)), side)
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/l4/volts", "278") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/l4/volts", "277") },
}
