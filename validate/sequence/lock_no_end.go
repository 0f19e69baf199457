package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// LockNoEnd asks what releases what a command or contact locks or holds.
var LockNoEnd = rule.Rule{
	ID: "sequence-lock-no-end", Title: "Lock or hold that nothing ends", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "After the first time that the contact closes, the loads stay locked for good, and so does a room whose sensors were held off.",
	Source:  commonPractice,
	Example: "A contact that locks loads when it closes passes with an intent for its opening; alone it does not. A hold also passes with a time of its own.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			holds := in.Do == domain.HoldAutomatic && in.Hold == 0
			if in.Kind != domain.ByAV && in.Kind != domain.ByContact || in.Do != domain.Lock && !holds || released(f, in) {
				return rule.Finding{}, false
			}
			out := of(in)
			what := "locks loads"
			if holds {
				what = "holds off automatic events"
				out.Fix = rule.SetFields("Let it end after 4 h", path(in, "hold_s"), "4 h")
			}
			out.Message = fmt.Sprintf("The intent %s (%s) %s, and nothing ends that: add an intent of the same input that releases them.", in.Kind.Title(), in.Command, what)
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return examKey("") },
	Quiet: func() *domaintest.Builder { return examKey("4 h") },
}

// released tells that another intent of the same input ends what this one does:
// one that releases, or for a contact the one for its other state.
func released(f *rule.Facts, in *domain.Intent) bool {
	return anyIntent(f, func(other *domain.Intent) bool {
		if other == in || other.Kind != in.Kind || other.Device != in.Device {
			return false
		}
		return other.Do == domain.Release || in.Kind == domain.ByContact && other.Command != in.Command
	})
}

// examKey gives a classroom with a key contact that holds off what is automatic.
func examKey(hold string) *domaintest.Builder {
	return domaintest.Classroom().Working(1, "cn-2").Set("intents/for-w1/do", "hold", "intents/for-w1/hold_s", hold)
}
