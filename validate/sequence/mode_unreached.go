package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// ModeUnreached asks what brings the mode that an intent waits for.
var ModeUnreached = rule.Rule{
	ID: "sequence-mode-unreached", Title: "Intent for a mode that never comes", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "What a room does in a mode prints and is tested, and on site nothing ever puts the room into it.",
	Source:  commonPractice,
	Example: "An intent for mode cleaning passes where a line of the calendar or another intent sets that mode; else it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.OnMode || comes(f, into(in)) {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Message = fmt.Sprintf("An intent says what happens when the mode becomes %s, and neither the project's calendar nor an intent of this room sets that mode: add a line to the calendar, or a command or contact that sets it.", into(in))
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return cleaned() },
	Quiet: func() *domaintest.Builder {
		b := cleaned()
		b.P.Calendar = []string{"Mon-Fri 20:00 cleaning", "Mon-Fri 22:00 normal"}
		return b
	},
}

// cleaned gives a classroom that says what happens in mode cleaning.
func cleaned() *domaintest.Builder {
	return domaintest.Classroom().Do(edit.AddIntent{ID: "clean", Kind: domain.OnMode})
}
