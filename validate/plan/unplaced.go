package plan

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// Unplaced counts what a room that is drawn does not show yet.
var Unplaced = rule.Rule{
	ID: "plan-unplaced", Title: "Devices or luminaires that are not on the plan", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "The installer looks for each device on the plan; what is not there is mounted where it seems best on site, or forgotten.",
	Source:  commonPractice,
	Example: "A room that is drawn passes with all of its devices and luminaires on the plan; it does not with one device left in the list. A room without an outline is not asked.",
	Check: func(f *rule.Facts) []rule.Finding {
		if f.Room.Outline.Empty() {
			return nil
		}
		devices, luminaires := f.Room.Unplaced()
		if devices+luminaires == 0 {
			return nil
		}
		out := rule.AtMost(float64(devices+luminaires), 0, "things")
		for i := range f.Devices {
			if d := &f.Devices[i]; d.Device.At == nil {
				out.Subjects = append(out.Subjects, d.Subject())
			}
		}
		said := rule.Tags(out.Subjects)
		switch {
		case devices == 0:
			said = rule.Many(luminaires, "luminaire")
			out.Subjects = []rule.Subject{rule.RoomSubject(f.Room.Room)}
		case luminaires > 0:
			said += " and " + rule.Many(luminaires, "luminaire")
		}
		out.Message = fmt.Sprintf("Not on the plan of room %s yet: %s. Place them there.", f.Room.Number, said)
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder {
		b := drawn()
		b.R.Design.Device("st").At = nil
		return settled(b)
	},
	Quiet: drawn,
}
