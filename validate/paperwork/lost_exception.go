package paperwork

import (
	"encoding/json"
	"fmt"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// LostException looks for exceptions of a room that its typical no longer has
// a place for.
var LostException = rule.Rule{
	ID: "paperwork-lost-exception", Title: "Exception that the typical has no place for", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "Somebody decided that this room differs; since the typical changed, the difference is no longer built.",
	Source:  commonPractice,
	Example: "A room with another delay for PS-1 than its typical passes; when PS-1 is taken out of the typical it does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Room.Orphans {
			c := f.Room.Orphans[i]
			if domain.Own(c) {
				continue // a place or a circuit of what the typical no longer has: nobody decided a difference
			}
			env := domain.Env{Project: f.Project, Design: f.Design}
			typical := "the typical"
			if f.Room.Typical != nil {
				typical = "typical " + f.Room.Typical.Name
			}
			out = append(out, rule.Finding{Key: c.Path, Subjects: []rule.Subject{{Part: "exceptions", ID: domain.ID(c.Path), Tag: c.Path}},
				Message: fmt.Sprintf("An exception of this room has no place in %s any more (%s): give it back, or make the change anew.", typical, domain.DescribeDesign(env, c)),
				Fix:     &rule.Fix{Title: "Give the exception back", Edits: []edit.Edit{edit.GiveBack{Path: c.Path}}}})
		}
		return out
	},
	Fires: func() *domaintest.Builder { return following("gone") },
	Quiet: func() *domaintest.Builder { return following("ps") },
}

// following gives a room that follows a typical with another delay for a device.
func following(device domain.ID) *domaintest.Builder {
	b := domaintest.Classroom()
	typical := &domain.Typical{ID: "t1", Name: "CR-1", Design: b.R.Design}
	b.R.Room.TypicalID, b.R.Room.Design = typical.ID, domain.Design{}
	b.R.Room.Exceptions = delta.Changes{{Path: "devices/" + string(device) + "/delay_s", After: json.RawMessage("900")}}
	settled, err := domain.Resolve(b.R.Room, typical)
	if err != nil {
		panic(fmt.Sprintf("paperwork: example room: %v", err))
	}
	b.R = settled
	return b
}
