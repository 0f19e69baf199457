package validate

import (
	"scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// Claims gives the exceptions from energy-code checks that a person claims of a room:
// its waivers of such findings, with reason, name and date. One that covers its finding
// no more, since the numbers got worse, claims nothing. A claim changes no verdict; it
// prints beside it.
func Claims(found []rule.Finding) []energycode.Claim {
	var out []energycode.Claim
	for i := range found {
		w, r := found[i].Waiver, ByID(found[i].Rule)
		if w == nil || r == nil {
			continue
		}
		for _, c := range r.Claims {
			out = append(out, energycode.Claim{Control: c, Reason: w.Reason, Name: w.Name, Date: w.Date})
		}
	}
	return out
}
