package power

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// Inrush holds the peaks of all drivers on an output to what its relay makes.
// The sum is the upper bound: cable lowers it. The peak that is stated of the
// relay must hold at the drivers' pulse width. What cannot be checked is told,
// and never passes.
var Inrush = rule.Rule{
	ID: "power-inrush", Title: "Inrush beyond what the output's relay makes", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Drivers draw many times their running current as they start: contacts weld shut, and the light no longer goes out.",
	Source:  "sum of peaks within the relay's rated peak, or a relay tested for electronic drivers (NEMA 410) for the steady current",
	Example: "On a relay of 100 A peak 4 drivers of 25 A pass (100 A) and 5 (125 A) do not. A relay that is tested for electronic drivers passes within its steady rating. Where neither is stated, it is not checked.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		var lacks inrushLacks
		outputs(f, func(d *rule.Device, output int, loads []*rule.Load) {
			steady, known := steadyOf(loads)
			if d.Type.TestedForInrush && d.Type.OutputAmps > 0 && known && units.AtMost(steady, float64(d.Type.OutputAmps)) {
				return
			}
			peak, drivers, stated := 0.0, 0, true
			for _, l := range loads {
				if l.Kind != domain.Lighting || l.Luminaire != "" && l.Lum == nil {
					continue // a receptacle's is unknown to all; a type that is gone is another rule's
				}
				a, n, ok := l.Inrush(f.Project)
				peak, drivers, stated = peak+float64(a), drivers+n, stated && (ok || l.Count == 0)
			}
			switch {
			case d.Type.InrushPeak > 0 && !units.AtMost(peak, float64(d.Type.InrushPeak)):
				out = append(out, beyondRelay(d, output, loads, peak, drivers))
			case drivers > 0 && d.Type.InrushPeak == 0:
				lacks.add(d, loads, !d.Type.TestedForInrush, false)
			case d.Type.InrushPeak > 0 && !stated:
				lacks.add(d, loads, false, true)
			}
		})
		return append(out, lacks.findings()...)
	},
	Fires: func() *domaintest.Builder { return pulsed(5, 100) },
	Quiet: func() *domaintest.Builder { return pulsed(4, 100) },
}

// steadyOf sums the running current of the lighting on an output.
func steadyOf(loads []*rule.Load) (amps float64, known bool) {
	known = true
	for _, l := range loads {
		if l.Kind == domain.Lighting {
			amps, known = amps+float64(l.Amps), known && l.Known
		}
	}
	return amps, known
}

func beyondRelay(d *rule.Device, output int, loads []*rule.Load, peak float64, drivers int) rule.Finding {
	most := float64(d.Type.InrushPeak)
	found := rule.AtMost(peak, most, "A")
	found.Key, found.Subjects = outputKey(d, output), subjects(d, loads)
	found.Message = fmt.Sprintf("%s starts %s that peak at %s A together, limit %s A: %s A over. Move luminaires to another output, or choose a controller that is tested for inrush.",
		outputName(d, output), rule.Many(drivers, "driver"), rule.Number(peak), rule.Number(most), rule.Number(peak-most))
	return found
}

// inrushLacks gathers what must be known before outputs can be checked.
type inrushLacks struct {
	devices    []rule.Subject
	types      []string
	luminaires []string
}

func (k *inrushLacks) add(d *rule.Device, loads []*rule.Load, ofType, ofDrivers bool) {
	if s := d.Subject(); !slices.Contains(k.devices, s) {
		k.devices = append(k.devices, s)
	}
	if name := d.Type.Name; ofType && !slices.Contains(k.types, name) {
		k.types = append(k.types, name)
	}
	for _, l := range loads {
		if ofDrivers && l.Lum != nil && l.Lum.InrushPeak == 0 && !slices.Contains(k.luminaires, l.Lum.Tag) {
			k.luminaires = append(k.luminaires, l.Lum.Tag)
		}
	}
}

func (k *inrushLacks) findings() []rule.Finding {
	if len(k.devices) == 0 {
		return nil
	}
	var needs []string
	if len(k.types) > 0 {
		needs = append(needs, "the inrush rating of "+domain.JoinWords(k.types)+" in the equipment book")
	}
	if len(k.luminaires) > 0 {
		needs = append(needs, "the inrush peak of type "+domain.JoinWords(k.luminaires)+" in the luminaire schedule")
	}
	if len(needs) == 0 {
		needs = append(needs, "what its loads draw")
	}
	return []rule.Finding{{Severity: rule.Info, Key: "unchecked", Subjects: k.devices,
		Message: fmt.Sprintf("Inrush is not checked on %s: fill in %s.", rule.Tags(k.devices), domain.JoinWords(needs))}}
}

// pulsed gives a classroom whose first load has n luminaires of 25 A peak, on a
// controller whose relays make so many amperes and are not tested.
func pulsed(n int, relay units.Amps) *domaintest.Builder {
	b := domaintest.Classroom().Set("loads/l1/count", fmt.Sprint(n), "loads/l2/count", "4", "loads/l3/count", "4")
	b.P.Luminaire("a").InrushPeak = 25
	lc := b.P.Book.Find("lc-4")
	lc.TestedForInrush, lc.InrushPeak = false, relay
	return b
}
