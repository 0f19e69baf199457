// Package power judges loads on their controllers and circuits: outputs, ratings,
// volts, control current and control pairs, inrush, dimming methods and feeds.
// It is one of the families of rules under validate. It is for design checks
// only; local codes, the equipment's instructions and a licensed electrician
// decide.
package power

import (
	"fmt"
	"strconv"

	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// outputs visits each output of the room's controllers that carries a load,
// with its loads.
func outputs(f *rule.Facts, see func(d *rule.Device, output int, loads []*rule.Load)) {
	var room [8]*rule.Load // most outputs carry one load or a few
	for i := range f.Loads {
		l := &f.Loads[i]
		if l.Carrier == nil || !l.Carrier.Traits.Loads || l.Output < 1 || !firstOn(f, i) {
			continue
		}
		on := room[:0]
		for j := i; j < len(f.Loads); j++ {
			if o := &f.Loads[j]; o.Carrier == l.Carrier && o.Output == l.Output {
				on = append(on, o)
			}
		}
		see(l.Carrier, l.Output, on)
	}
}

// firstOn tells that no load ahead of one is on the same output.
func firstOn(f *rule.Facts, at int) bool {
	for i := range f.Loads[:at] {
		if f.Loads[i].Carrier == f.Loads[at].Carrier && f.Loads[i].Output == f.Loads[at].Output {
			return false
		}
	}
	return true
}

func outputKey(d *rule.Device, output int) string { return string(d.ID) + "." + strconv.Itoa(output) }

func outputName(d *rule.Device, output int) string {
	return fmt.Sprintf("%s output %d", rule.Named(d.Tag), output)
}

func subjects(d *rule.Device, loads []*rule.Load) []rule.Subject {
	out := []rule.Subject{d.Subject()}
	for _, l := range loads {
		out = append(out, l.Subject())
	}
	return out
}

func tags(loads []*rule.Load) string {
	out := make([]rule.Subject, len(loads))
	for i, l := range loads {
		out[i] = l.Subject()
	}
	return rule.Tags(out)
}

// freeOutput gives the first output of a controller that carries nothing, 0
// where there is none.
func freeOutput(f *rule.Facts, d *rule.Device) int {
next:
	for n := 1; n <= d.Type.Outputs; n++ {
		for i := range f.Loads {
			if f.Loads[i].Carrier == d && f.Loads[i].Output == n {
				continue next
			}
		}
		return n
	}
	return 0
}
