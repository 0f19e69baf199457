package daylighting

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// NotChecked tells that daylight sensors are not judged by the plan.
var NotChecked = rule.Rule{
	ID: "daylighting-not-checked", Title: "Places of daylight sensors are not checked", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "A check that could not be made must not look like one that passed.",
	Source:  commonPractice,
	Example: "A drawn room with a daylight sensor that says that it has windows passes with a window in its walls, and does not where the plan shows only its neighbors'. On a plan without windows it is not asked.",
	Check: func(f *rule.Facts) []rule.Finding {
		ceiling, _ := f.Project.CeilingOf(f.Room.Room)
		if !f.Room.Windows || !f.WindowsAround() || !f.Drawn() || f.Daylight() != nil || len(f.Room.Plan.Rooflights) > 0 || float64(ceiling) <= f.Limit(domain.WorkPlane) {
			return nil
		}
		var sensors []rule.Subject
		for i := range f.Devices {
			if d := &f.Devices[i]; d.Traits.Daylight && d.Device.At != nil {
				sensors = append(sensors, d.Subject())
			}
		}
		if len(sensors) == 0 {
			return nil
		}
		return []rule.Finding{{Key: "windows", Subjects: sensors,
			Message: fmt.Sprintf("Where %s should hang is not checked: room %s says that it has windows, and the plan shows some near, but none along its outline. Draw them in its walls.", rule.Tags(sensors), f.Room.Number)}}
	},
	Fires: func() *domaintest.Builder {
		b := drawn()
		b.R.Plan.Walls[2].Openings = nil
		b.R.Plan.Walls = append(b.R.Plan.Walls, domain.Wall{ID: "far", Seq: 9, A: geom.Pt(0, 9), B: geom.Pt(8, 9), Kind: domain.FullWall, Thickness: 0.15})
		return glaze(b, 4, 1, 3)
	},
	Quiet: drawn,
}
