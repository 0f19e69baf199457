package controls

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// BelowLowest looks for levels above zero that the driver cannot go down to.
var BelowLowest = rule.Rule{
	ID: "controls-below-lowest", Title: "Level below what the driver dims to", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "The luminaire stops at its lowest level, so that the room is brighter than the scene says, or it flickers or goes out.",
	Source:  commonPractice + "; the lowest level is the luminaire schedule's",
	Example: "A driver that dims to 10 % passes at 10 % and at 0, and does not pass at 9 %.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		visitLevels(f, tooLow, func(l level) {
			lowest := l.load.Lum.DimsTo
			found := rule.Finding{Key: l.path + ":" + string(l.load.ID), Subjects: []rule.Subject{l.about, l.load.Subject()}, Numbers: true,
				Measured: float64(l.value), Limit: float64(lowest), Margin: float64(l.value - lowest), Unit: "%"}
			found.Message = fmt.Sprintf("%s sets %s to %s, and its driver (type %s) goes no lower than %s: raise the level by %s, or set 0.",
				l.who, rule.Named(l.load.Tag), units.Percent(l.value), l.load.Lum.Tag, units.Percent(lowest), units.Percent(lowest-l.value))
			found.Fix = rule.SetFields("Set it to "+units.Percent(lowest), l.path, l.said(lowest))
			out = append(out, found)
		})
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("scenes/s2/levels/l2", "9 in 2 s") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("scenes/s2/levels/l2", "10 in 2 s") },
}

func tooLow(l *rule.Load, v units.Level) bool {
	return v > 0 && l.Lum != nil && v < l.Lum.DimsTo && l.Dims()
}
