package power

import (
	"fmt"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// OutputIdle looks for outputs that carry nothing.
var OutputIdle = rule.Rule{
	ID: "power-output-idle", Title: "Controller output without a load", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "A free output is bought and not used, or a load was forgotten.",
	Source:  commonPractice,
	Example: "A controller of 4 outputs with a load on each passes; with loads on three, 1 output is free.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Traits.Loads {
				continue
			}
			if idle := idleOutputs(f, d); len(idle) > 0 {
				found := rule.AtMost(float64(len(idle)), 0, "outputs")
				found.Key, found.Subjects = string(d.ID), []rule.Subject{d.Subject()}
				found.Message = fmt.Sprintf("Output %s of %s carries no load: put one there, or use a smaller controller.", idle[0], rule.Named(d.Tag))
				if len(idle) > 1 {
					found.Message = fmt.Sprintf("%d outputs of %s (%s) carry no load: put some there, or use a smaller controller.", len(idle), rule.Named(d.Tag), domain.JoinWords(idle))
				}
				out = append(out, found)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Device("spare", "lc-1") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

func idleOutputs(f *rule.Facts, d *rule.Device) []string {
	var used uint64 // a bit an output: the book allows at most 64
	for i := range f.Loads {
		if l := &f.Loads[i]; l.Carrier == d && l.Output > 0 && l.Output <= 64 {
			used |= 1 << (l.Output - 1)
		}
	}
	var idle []string
	for n := 1; n <= d.Type.Outputs; n++ {
		if used&(1<<(n-1)) == 0 {
			idle = append(idle, strconv.Itoa(n))
		}
	}
	return idle
}
