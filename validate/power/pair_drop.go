package power

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/electrical"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// PairDrop holds the rise of voltage along a 0-10 V pair to a share of its
// span. The length is that which a load states; else it is measured on the plan.
// A pair of which neither is known is not checked. The dim curve is taken as
// linear.
var PairDrop = rule.Rule{
	ID: "power-pair-drop", Title: "Control pair too long for its wire", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.PairRise, domain.PairRiseAdvice, domain.PairRouteFactor, domain.PairDrop},
	Why:     "Drivers feed current into the pair, so the far ones see more volts and stay brighter, most at the bottom of dimming.",
	Source:  "rise = I x 2 r L x (N + 1)/(2 N) for N drivers evenly along it; r: NFPA 70 chapter 9 table 8, stranded at 75 C, or IEC 60228 at 20 C (from memory); shares of the span: " + commonPractice,
	Example: "30 drivers of 2 mA on 18 AWG: 100 ft rise by 0.55 % of the 9 V span and pass, 200 ft by 1.1 % and are warned of, 1000 ft by 5.48 % and are an error.",
	Check: func(f *rule.Facts) []rule.Finding {
		if len(f.Room.Fixtures) == 0 && !anyPairStated(f) {
			return nil
		}
		var out []rule.Finding
		outputs(f, func(d *rule.Device, output int, loads []*rule.Load) {
			p := pairOf(f, d, loads)
			if p == nil {
				return
			}
			rise := p.rise(p.wire)
			share, most, severity := electrical.RiseShare(rise), f.Limit(domain.PairRise), rule.Error
			if units.AtMost(share, most) {
				most, severity = min(most, f.Limit(domain.PairRiseAdvice)), rule.Warning
			}
			if units.AtMost(share, most) {
				return
			}
			found := rule.AtMost(share, most, "%")
			found.Severity, found.Key, found.Subjects = severity, outputKey(d, output), subjects(d, loads)
			found.Message = p.says(f, outputName(d, output), rise, most)
			found.Fix = p.thicker(loads, f.Limit(domain.PairRiseAdvice))
			out = append(out, found)
		})
		return out
	},
	Fires: func() *domaintest.Builder { return paired("1000 ft") },
	Quiet: func() *domaintest.Builder { return paired("182 ft") },
}

func (p *pair) says(f *rule.Facts, name string, rise units.Volts, most float64) string {
	sys := f.Project.Units
	how := "evenly along it"
	if p.taps != nil {
		how = "as drawn"
	}
	lowest := max(p.lowest, 1) // a driver that states none is taken to reach 1 %
	share := electrical.RiseShare(rise)
	text := fmt.Sprintf("The control pair of %s rises by %s V over %s of %s, with %s of %s mA together %s: %s %% of the 9 V span, limit %s %%, %s %% over. At the bottom of dimming its last driver shows %s in place of %s (linear dimming assumed). Take a thicker wire, or split the pair.",
		name, units.Trim(float64(rise), 3), units.Length(p.length, sys), p.wire, rule.Many(p.drivers, "driver"), rule.Number(float64(p.ma)), how,
		rule.Number(share), rule.Number(most), rule.Number(share-most), units.Percent(electrical.LevelAt(1+rise, lowest)), units.Percent(lowest))
	if p.assumed {
		text += fmt.Sprintf(" %s is assumed: state the wire of its loads.", p.wire)
	}
	if p.guessed {
		text += fmt.Sprintf(" %s mA are assumed where the schedule states no control current.", rule.Number(float64(domain.AssumedControlMA)))
	}
	return text
}

// thicker offers the thinnest wire of the same series that keeps the rise
// within a share, nil where none does.
func (p *pair) thicker(loads []*rule.Load, most float64) *rule.Fix {
	metric := strings.HasSuffix(string(p.wire), "mm2")
	for _, w := range equipment.Wires() {
		if strings.HasSuffix(string(w), "mm2") != metric || ohm(w) >= ohm(p.wire) || !units.AtMost(electrical.RiseShare(p.rise(w)), most) {
			continue
		}
		fix := &rule.Fix{Title: "Use " + string(w) + " for the pair"}
		for _, l := range loads {
			if l.Dimming == equipment.Analog {
				fix.Edits = append(fix.Edits, edit.SetField{Path: "loads/" + string(l.ID) + "/pair_wire", Text: string(w)})
			}
		}
		return fix
	}
	return nil
}

// paired gives a classroom whose first load has 30 drivers of 2 mA on a pair of
// a length, of 18 AWG.
func paired(length string) *domaintest.Builder {
	return domaintest.Classroom().Set("loads/l1/count", "30", "loads/l1/pair_m", length)
}
