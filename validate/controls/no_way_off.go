package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// NoWayOff asks for something that turns each load off, except egress lighting.
var NoWayOff = rule.Rule{
	ID: "controls-no-way-off", Title: "Nothing turns the load off", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A load that nothing turns off burns day and night, and energy codes ask for automatic shut-off.",
	Source:  commonPractice,
	Example: "A lighting load that a button or a presence intent turns off passes; one that is only raised and lowered does not. Egress lighting is left out.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Loads {
			l := &f.Loads[i]
			if l.Egress || f.Paths(i).Off > 0 {
				continue
			}
			found := rule.Finding{Key: string(l.ID), Subjects: []rule.Subject{l.Subject()}}
			todo := "let a button, a presence intent or a schedule turn it off"
			if l.Kind == domain.Receptacle {
				todo = "let a presence sensor act on it (ACT) and add a receptacle intent, or a schedule"
			}
			found.Message = fmt.Sprintf("Nothing turns %s off: %s.", rule.Named(l.Tag), todo)
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		b := domaintest.Classroom().Set("scenes/s2/levels/l4", "50", "intents/i2/off_level", "20")
		for _, l := range []domain.ID{"l1", "l2", "l3", "l4"} {
			b.Link("st", 4, domain.Press, l, "20")
		}
		// The front and middle still go dark in scene 2; the window row and the board never do.
		return b.Set("scenes/s2/levels/l2", "0", "scenes/s2/levels/l3", "50")
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("intents/i2/off_level", "20") },
}
