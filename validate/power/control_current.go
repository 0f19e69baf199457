package power

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// ControlCurrent holds the 0-10 V current of an output's drivers to what the
// output sinks.
var ControlCurrent = rule.Rule{
	ID: "power-control-current", Title: "Too many drivers on one control output", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.SinkCurrent},
	Why:     "The drivers feed the control pair and the output sinks it; beyond its limit it cannot pull the voltage down and the lights do not dim.",
	Source:  "IEC 60929 Annex E: at most 2 mA for each driver (from memory); 60 mA for each output: " + commonPractice,
	Example: "At 2 mA for each driver and 60 mA for the output, 30 drivers pass (60 mA) and 31 do not (62 mA). Where the schedule states no current, 2 mA are assumed.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		limit := units.Milliamps(f.Limit(domain.SinkCurrent))
		outputs(f, func(d *rule.Device, output int, loads []*rule.Load) {
			most := float64(d.Type.SinkOr(limit))
			ma, drivers, assumed := currents(loads)
			if units.AtMost(ma, most) {
				return
			}
			found := rule.AtMost(ma, most, "mA")
			found.Key, found.Subjects, found.Fix = outputKey(d, output), subjects(d, loads), f.SpreadFix(loads)
			found.Message = fmt.Sprintf("The %s on %s draw %s mA, limit %s mA: %s mA over. Move luminaires to another output.",
				rule.Many(drivers, "driver"), outputName(d, output), rule.Number(ma), rule.Number(most), rule.Number(ma-most))
			if assumed {
				found.Message += fmt.Sprintf(" %s mA are assumed where the schedule states no control current.", rule.Number(float64(domain.AssumedControlMA)))
			}
			out = append(out, found)
		})
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/l1/count", "31") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("loads/l1/count", "30") },
}

// currents sums the control currents of loads dimmed by 0-10 V.
func currents(loads []*rule.Load) (ma float64, drivers int, assumed bool) {
	for _, l := range loads {
		if l.Dimming != equipment.Analog || l.Lum == nil {
			continue
		}
		n := l.Count * l.Lum.DriverCount()
		each, guess := l.Lum.ControlCurrent()
		ma, drivers, assumed = ma+float64(n)*float64(each), drivers+n, assumed || guess
	}
	return ma, drivers, assumed
}
