package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// WallboxAsStation keeps the buttons of a wall-box controller to its own load.
var WallboxAsStation = rule.Rule{
	ID: "controls-wallbox-as-station", Title: "Wall-box controller used as a station for other loads", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "A wall-box dimmer or switch acts on the load that is wired to it and sends nothing to others.",
	Source:  commonPractice,
	Example: "A wall-box dimmer that carries L5 passes with a cell for L5 alone; a cell that sets L1, which LC-1 carries, does not pass.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Traits.OwnOnly {
				continue
			}
			var loads []rule.Subject
			var pairs []string
			for j := range f.Links {
				k := &f.Links[j]
				if k.From != d || !k.Does() || k.To.Carrier == d {
					continue
				}
				pairs = append(pairs, cellPath(k), "-")
				if s := k.To.Subject(); len(loads) == 0 || loads[len(loads)-1] != s {
					loads = append(loads, s)
				}
			}
			if len(pairs) == 0 {
				continue
			}
			found := rule.AtMost(float64(len(pairs)/2), 0, "cells")
			found.Key, found.Subjects = string(d.ID), append([]rule.Subject{d.Subject()}, loads...)
			found.Message = fmt.Sprintf("The buttons of wall-box controller %s act on %s, which it does not carry: use a wall station for that.", rule.Named(d.Tag), rule.Tags(loads))
			found.Fix = rule.SetFields("Write - there", pairs...)
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return wallbox().Link("wb", 1, domain.Press, "l1", "100") },
	Quiet: func() *domaintest.Builder { return wallbox().Link("wb", 1, domain.Press, "l5", "100") },
}

// wallbox gives a classroom with a fifth load on a wall-box dimmer.
func wallbox() *domaintest.Builder {
	b := domaintest.Classroom().Load("l5", "a", 2).Device("wb", "wb-dim").Carry("l5", "wb", 1)
	for n, cell := range []string{"SC1", "SC2", "DN", "0"} {
		b.Link("st", n+1, domain.Press, "l5", cell)
	}
	return b.Link("ps", 0, "", "l5", "ACT").Link("ds", 0, "", "l5", "-").Set("scenes/s1/levels/l5", "100", "scenes/s2/levels/l5", "60")
}
