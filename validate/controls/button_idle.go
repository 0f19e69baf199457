package controls

import (
	"fmt"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ButtonIdle asks for something that each button of a station does.
var ButtonIdle = rule.Rule{
	ID: "controls-button-idle", Title: "Button that does nothing", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A button that does nothing looks broken; people press it harder and then call.",
	Source:  commonPractice,
	Example: "A station of 4 buttons, each with a cell other than -, passes; with one row of - alone, 1 button does nothing. The buttons of a wall-box controller act on its own load and are left out.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Station() {
				continue
			}
			if idle := idleButtons(f, d); len(idle) > 0 {
				found := rule.AtMost(float64(len(idle)), 0, "buttons")
				found.Key, found.Subjects = string(d.ID), []rule.Subject{d.Subject()}
				switch {
				case len(idle) == d.Type.Buttons:
					found.Message = fmt.Sprintf("None of the %s of %s does anything: say in the matrix what they do, or remove the station.", rule.Many(d.Type.Buttons, "button"), rule.Named(d.Tag))
				case len(idle) == 1:
					found.Message = fmt.Sprintf("Button %s of %s does nothing: say in the matrix what it does, or use a station with fewer buttons.", idle[0], rule.Named(d.Tag))
				default:
					found.Message = fmt.Sprintf("%d buttons of %s do nothing (%s): say in the matrix what they do, or use a station with fewer buttons.", len(idle), rule.Named(d.Tag), domain.JoinWords(idle))
				}
				out = append(out, found)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		b := domaintest.Classroom()
		for _, l := range []domain.ID{"l1", "l2", "l3", "l4"} {
			b.Link("st", 3, domain.Press, l, "-")
		}
		return b
	},
	Quiet: func() *domaintest.Builder {
		b := domaintest.Classroom()
		for _, l := range []domain.ID{"l1", "l2", "l3"} {
			b.Link("st", 3, domain.Press, l, "-")
		}
		return b
	},
}

func idleButtons(f *rule.Facts, d *rule.Device) []string {
	var used uint64 // a bit a button: the book allows at most 24
	for i := range f.Links {
		if k := &f.Links[i]; k.From == d && k.Does() && k.Button > 0 && k.Button < 64 {
			used |= 1 << k.Button
		}
	}
	var idle []string
	for n := 1; n <= d.Type.Buttons; n++ {
		if used&(1<<n) == 0 {
			idle = append(idle, strconv.Itoa(n))
		}
	}
	return idle
}
