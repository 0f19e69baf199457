package edit

import (
	"encoding/json"
	"slices"

	"scopewright/domain"
)

// explicit names the loads wherever the designs of two rooms that become one
// say "all loads", so that each goes on to mean its own. Where both rooms say
// the same of all their loads, it stays said of all, once: those of the second
// are given.
func explicit(a, b *domain.Design) (same map[domain.ID]bool) {
	same, kept := map[domain.ID]bool{}, map[domain.ID]bool{}
	for i := range b.Intents {
		for j := range a.Intents {
			if x, y := &a.Intents[j], &b.Intents[i]; !kept[x.ID] && saysOfAll(x) == saysOfAll(y) && saysOfAll(x) != "" {
				same[y.ID], kept[x.ID] = true, true
				break
			}
		}
	}
	nameLoads(a, b, kept)
	nameLoads(b, a, same)
	expectEach(a, b)
	expectEach(b, a)
	return same
}

// saysOfAll gives what an intent says where it says it of all loads, in a form
// that can be compared; empty where it names loads or hangs on what only its own
// room has.
func saysOfAll(in *domain.Intent) string {
	if len(in.Loads) > 0 || in.Device != "" || in.Scene != 0 {
		return ""
	}
	bare := *in
	bare.ID, bare.Seq = "", 0
	text, err := json.Marshal(bare)
	if err != nil {
		return ""
	}
	return string(text)
}

// nameLoads names the loads of intents that mean all of d's, where the other
// room has loads that they would come to mean too. One that then acts on
// nothing, and never did, is dropped.
func nameLoads(d, other *domain.Design, but map[domain.ID]bool) {
	var kept []domain.Intent
	for _, in := range d.Intents {
		if len(in.Loads) == 0 && !but[in.ID] && aboutLoads(&in) && len(in.Targets(other)) > 0 {
			if in.Loads = in.Targets(d); len(in.Loads) == 0 {
				continue
			}
		}
		kept = append(kept, in)
	}
	d.Intents = kept
}

// aboutLoads tells that an intent brings loads to a level, rather than changing
// how the room works.
func aboutLoads(in *domain.Intent) bool {
	return in.Do != domain.SetMode && in.Do != domain.PartitionJoins && in.Do != domain.PartitionParts
}

// expectEach writes a scenario's expectation of all lighting loads once a load
// of d, where the other room has lighting loads too.
func expectEach(d, other *domain.Design) {
	lit := func(d *domain.Design) []domain.ID { return (&domain.Intent{}).Targets(d) }
	if len(lit(other)) == 0 || len(lit(d)) == 0 {
		return
	}
	for i := range d.Scenarios {
		sc := d.Scenarios[i].Clone()
		var steps []domain.ScenarioStep
		for _, st := range sc.Steps {
			if st.Happen != domain.Expect || st.Load != "" {
				st.Seq = len(steps) + 1
				steps = append(steps, st)
				continue
			}
			for n, load := range lit(d) {
				each := st
				if each.Load = load; n > 0 {
					each.ID = freeID(st.ID, func(id domain.ID) bool {
						return slices.ContainsFunc(append(steps, sc.Steps...), func(o domain.ScenarioStep) bool { return o.ID == id })
					})
				}
				each.Seq = len(steps) + 1
				steps = append(steps, each)
			}
		}
		sc.Steps = steps
		d.Scenarios[i] = sc
	}
}
