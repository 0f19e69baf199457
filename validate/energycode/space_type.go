package energycode

import (
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// SpaceType asks for the kind of space by which the code judges the room.
var SpaceType = rule.Rule{
	ID: "energycode-space-type", Title: "Kind of space not confirmed", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "The kind of space picks the row of the code: the one chosen for power is the one for controls, and a person has to choose it.",
	Source:  source,
	Example: "A classroom that is judged as proposed by its use and area is noted until somebody has confirmed the kind, for the room or for its typical.",
	Check: func(f *rule.Facts) []rule.Finding {
		c := f.Code()
		if c == nil || c.Confirmed {
			return nil
		}
		out := rule.Finding{Subjects: []rule.Subject{{Part: "facts", ID: "space_type", Tag: "Kind of space"}}}
		s := c.Pack.Space(c.Kind.Space)
		if s == nil {
			out.Key, out.Message = "none", "No check of "+c.Pack.Key()+" can be made of this room. "+c.Kind.Why
			return []rule.Finding{out}
		}
		out.Message = "Judged by " + c.Pack.Key() + " as it is proposed. " + c.Kind.Why
		out.Fix = rule.SetFields("Confirm: "+s.Name, "facts/space_type", s.ID)
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return classroom().Set("facts/space_type", "") },
	Quiet: func() *domaintest.Builder { return classroom() },
}
