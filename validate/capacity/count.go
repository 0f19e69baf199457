// Package capacity judges how much a room, a controller, a station, a server
// and the radio can take. It is one of the families of rules under validate.
package capacity

import (
	"fmt"

	"scopewright/domain"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// overCount gives a finding where the room has more devices of a sort than a
// limit lets it have.
func overCount(f *rule.Facts, id domain.LimitID, one, todo string, want func(*rule.Device) bool) []rule.Finding {
	n, most := f.Count(want), f.Limit(id)
	if float64(n) <= most {
		return nil
	}
	out := rule.AtMost(float64(n), most, one+"s")
	for i := range f.Devices {
		if want(&f.Devices[i]) {
			out.Subjects = append(out.Subjects, f.Devices[i].Subject())
		}
	}
	out.Message = fmt.Sprintf("%s in the room, limit %s: %s over. %s", rule.Many(n, one), rule.Number(most), rule.Number(float64(n)-most), todo)
	return []rule.Finding{out}
}
