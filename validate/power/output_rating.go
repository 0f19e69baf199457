package power

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// OutputRating holds the current of an output's loads to a share of its
// rating. Inrush and the branch circuit are not in it.
var OutputRating = rule.Rule{
	ID: "power-output-rating", Title: "Output carries more than its rating", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.OutputShare, domain.WallBoxFuse},
	Why:     "Lighting runs for hours: an output loaded beyond its share runs hot, welds its relay or blows its fuse.",
	Source:  "NEC 210.19(A)(1), 210.20(A): 125 % of continuous load, which is 80 % of the rating; I = P/(V pf); wall-box fuse: " + commonPractice,
	Example: "Luminaires of 38 W at power factor 0.95 on an 8 A output at 80 % (6.4 A): at 120 V 19 draw 6.33 A and pass, 20 draw 6.67 A and do not; at 277 V 44 pass and 45 do not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		share, fuse := f.Limit(domain.OutputShare)/100, units.Amps(f.Limit(domain.WallBoxFuse))
		outputs(f, func(d *rule.Device, output int, loads []*rule.Load) {
			rating := float64(d.Type.Rating(fuse))
			var amps, watts float64
			for _, l := range loads {
				amps, watts = amps+float64(l.Amps), watts+float64(l.Watts)
			}
			if rating == 0 || units.AtMost(amps, rating*share) {
				return
			}
			found := rule.AtMost(amps, rating*share, "A")
			found.Key, found.Subjects, found.Fix = outputKey(d, output), subjects(d, loads), f.SpreadFix(loads)
			found.Message = fmt.Sprintf("%s carries %s A (%s W: %s), limit %s A (%s %% of %s A): %s A over. Move part of the load to another output. Caution: local codes and a licensed electrician decide.",
				outputName(d, output), fine(amps), rule.Number(watts), tags(loads), fine(rating*share), rule.Number(share*100), rule.Number(rating), fine(amps-rating*share))
			out = append(out, found)
		})
		return out
	},
	Fires: func() *domaintest.Builder { return onWallbox("b", 20) },
	Quiet: func() *domaintest.Builder { return onWallbox("b", 19) },
}

// fine prints amperes to a hundredth, and finer where that would hide them.
func fine(v float64) string {
	if math.Abs(v) < 0.01 {
		return units.Trim(v, 6)
	}
	return units.Trim(v, 2)
}

// onWallbox gives a classroom with a fifth load of n luminaires on a wall-box
// dimmer of 8 A.
func onWallbox(luminaire domain.ID, n int) *domaintest.Builder {
	b := domaintest.Classroom().Load("l5", luminaire, n).Device("wb", "wb-dim").Carry("l5", "wb", 1)
	for n, cell := range []string{"SC1", "SC2", "DN", "0"} {
		b.Link("st", n+1, domain.Press, "l5", cell)
	}
	return b.Link("ps", 0, "", "l5", "ACT").Link("ds", 0, "", "l5", "-").Set("scenes/s1/levels/l5", "100", "scenes/s2/levels/l5", "60")
}
