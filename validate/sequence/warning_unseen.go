package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// mostOfLevel is the share of its level at which a dip can still be seen.
const mostOfLevel = 90 // %

// WarningUnseen looks for dips that nobody notices.
var WarningUnseen = rule.Rule{
	ID: "sequence-warning-unseen", Title: "Warning dip that nobody sees", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A dip of less than a tenth goes unnoticed, and one from near the driver's lowest level does not happen: the light then goes out without a warning.",
	Source:  "a tenth of the level, from memory; " + commonPractice,
	Example: "From an entry level of 100 %, a dip to 90 % of it passes, 91 % does not; from an entry level of 11 %, a driver that dims to 10 % stays at 91 % of it.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if !warns(in) {
				return rule.Finding{}, false
			}
			var unseen []rule.Subject
			worst := 0.0
			for i := range f.Loads {
				l := &f.Loads[i]
				if !in.ActsOn(l.Load) || !l.Dims() {
					continue
				}
				if share := dipShare(in, l); !units.AtMost(share, mostOfLevel) {
					unseen, worst = append(unseen, l.Subject()), max(worst, share)
				}
			}
			if len(unseen) == 0 {
				return rule.Finding{}, false
			}
			out := rule.AtMost(worst, mostOfLevel, "%")
			out.Key, out.Subjects = string(in.ID), append([]rule.Subject{rule.IntentSubject(in)}, unseen...)
			out.Message = fmt.Sprintf("As a warning, %s %s to %s of the level, and above %s nobody sees it: dip lower, or start from a higher level.", rule.Tags(unseen), verb(unseen, "dips", "dip"), units.Percent(units.Level(worst)), units.Percent(mostOfLevel))
			if units.Level(worst) == in.WarnTo {
				out.Fix = rule.SetFields("Dip to 50 %", path(in, "warn_to"), "50")
			}
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i2/warn_to", "91") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i2/warn_to", "90") },
}

// dipShare gives the share of its level, in %, that a load keeps in the dip. A
// load starts from the level of entering where the intent states one, else from
// full.
func dipShare(in *domain.Intent, l *rule.Load) float64 {
	from := units.Level(100)
	if in.Kind == domain.ByPresence && in.GoesToLevel() && in.Level > 0 {
		from = in.Level
	}
	dip := from * in.WarnTo / 100
	if l.Lum != nil {
		dip = max(dip, min(l.Lum.DimsTo, from))
	}
	return float64(100 * dip / from)
}
