package capacity

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// ScenesController holds the scenes that a controller stores to its limit.
var ScenesController = rule.Rule{
	ID: "capacity-scenes-controller", Title: "More scenes than a controller stores", Severity: rule.Error, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.ScenesPerController},
	Why:     "A scene that the controller has no place for is not recalled by some of the loads, and nobody sees why.",
	Source:  commonPractice,
	Example: "A controller that stores 16 scenes takes 16 that set a level on its loads; with 17 it is 1 over. Scenes that leave all its loads as they are take no place.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Traits.Loads {
				continue
			}
			most := f.Limit(domain.ScenesPerController)
			if d.Type.Scenes > 0 {
				most = float64(d.Type.Scenes)
			}
			if float64(len(f.Design.Scenes)) <= most {
				continue
			}
			if n := stored(f, d); float64(n) > most {
				found := rule.AtMost(float64(n), most, "scenes")
				found.Key, found.Subjects = string(d.ID), []rule.Subject{d.Subject()}
				found.Message = fmt.Sprintf("%s stores %s, limit %s: %s over. Join scenes, or let some leave its loads as they are.", rule.Named(d.Tag), rule.Many(n, "scene"), rule.Number(most), rule.Number(float64(n)-most))
				out = append(out, found)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return withScenes(17) },
	Quiet: func() *domaintest.Builder { return withScenes(16) },
}

// stored counts the scenes that set a level for a load of the controller.
func stored(f *rule.Facts, d *rule.Device) int {
	n := 0
	for i := range f.Design.Scenes {
		for _, l := range f.Design.Scenes[i].Levels {
			if load := f.Load(l.ID); !l.Leave && load != nil && load.Carrier == d {
				n++
				break
			}
		}
	}
	return n
}

// withScenes gives a classroom with so many scenes, each recalled by an AV command.
func withScenes(n int) *domaintest.Builder {
	b := domaintest.Classroom().Working(1, "av-serial")
	for i := len(b.R.Design.Scenes); i < n; i++ {
		scene, intent := domain.ID(fmt.Sprint("extra", i)), domain.ID(fmt.Sprint("av", i))
		b.Do(edit.AddScene{ID: scene}, edit.AddIntent{ID: intent, Kind: domain.ByAV}).
			Set("intents/"+string(intent)+"/scene", fmt.Sprint(b.R.Design.Scene(scene).Number))
	}
	return b
}
