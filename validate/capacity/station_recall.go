package capacity

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// StationRecall holds the scenes that one station recalls to their limit.
var StationRecall = rule.Rule{
	ID: "capacity-station-recall", Title: "Station recalls too many scenes", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.ScenesPerStation},
	Why:     "A station keeps few scene numbers of its own; a button beyond them sends nothing.",
	Source:  commonPractice,
	Example: "A station whose buttons recall 3 different scenes passes at a limit of 3; with 4 it is 1 over. Two buttons for one scene count once.",
	Check: func(f *rule.Facts) []rule.Finding {
		most := f.Limit(domain.ScenesPerStation)
		if float64(len(f.Design.Scenes)) <= most {
			return nil
		}
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Station() {
				continue
			}
			if n := recalled(f, d); float64(n) > most {
				found := rule.AtMost(float64(n), most, "scenes")
				found.Key, found.Subjects = string(d.ID), []rule.Subject{d.Subject()}
				found.Message = fmt.Sprintf("The buttons of %s recall %s, limit %s: %s over. Put some on another station, or use levels instead of scenes.", rule.Named(d.Tag), rule.Many(n, "scene"), rule.Number(most), rule.Number(float64(n)-most))
				out = append(out, found)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return recalling(4) },
	Quiet: func() *domaintest.Builder { return recalling(3) },
}

func recalled(f *rule.Facts, d *rule.Device) int {
	var seen []int
next:
	for i := range f.Links {
		k := &f.Links[i]
		if k.From != d || !k.Does() || k.Do.Verb != domain.ToScene {
			continue
		}
		for _, n := range seen {
			if n == k.Do.Scene {
				continue next
			}
		}
		seen = append(seen, k.Do.Scene)
	}
	return len(seen)
}

// recalling gives a classroom whose station recalls n scenes, at most 4.
func recalling(n int) *domaintest.Builder {
	b := domaintest.Classroom()
	for i := 2; i < n; i++ {
		scene := domain.ID(fmt.Sprint("extra", i))
		b.Do(edit.AddScene{ID: scene})
		for _, l := range []domain.ID{"l1", "l2", "l3", "l4"} {
			b.Link("st", i+1, domain.Press, l, fmt.Sprint("SC", b.R.Design.Scene(scene).Number))
		}
	}
	if n > 3 { // all four buttons are taken: something must still turn the loads off
		b.Do(edit.AddDevice{ID: "off", Type: "st-2-battery"}).Set("devices/off/parent", "LC-1", "devices/off/buttons/1", "On", "devices/off/buttons/2", "Off")
		for _, l := range []domain.ID{"l1", "l2", "l3", "l4"} {
			b.Link("off", 1, domain.Press, l, "100").Link("off", 2, domain.Press, l, "0")
		}
		b.Link("off", 1, domain.Press, "r1", "-").Link("off", 2, domain.Press, "r1", "-")
	}
	return b
}
