package radiolink_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
)

// Whatever stands on the plan: rules name what they find once, with numbers beyond
// their limits and places, give the same answer each time, and a fix takes its
// finding away.
func TestRadiolink_anyRoomIsJudgedAndMended(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyRoom(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 8)))
		found := judge(b)
		require.Equal(t, found, judge(b))
		seen := map[string]bool{}
		for _, f := range found {
			key := f.Rule + " " + f.Key
			if seen[key] {
				t.Fatalf("%s twice", key)
			}
			seen[key] = true
			if !f.Numbers || f.Margin >= 0 || len(f.Subjects) == 0 || math.IsNaN(f.Measured) || math.IsInf(f.Measured, 0) {
				t.Fatalf("%s: %+v", key, f)
			}
			if f.Rule != "radiolink-not-placed" && len(f.Places) == 0 {
				t.Fatalf("%s has no place", key)
			}
			if f.Fix == nil {
				continue
			}
			after := &domaintest.Builder{P: b.P, R: &domain.Resolved{Room: b.R.Room.Clone(), Design: b.R.Design.Clone(), Plan: b.R.Plan}}
			for _, still := range judge(after.Do(f.Fix.Edits...)) {
				if still.Rule+" "+still.Key == key {
					t.Fatalf("%s: %s\nstill there after %s:\n%s", key, f.Message, f.Fix.Title, still.Message)
				}
			}
		}
	})
}

func anyRoom(r *rand.Rand) *domaintest.Builder {
	b := domaintest.Room()
	for i := range b.P.Book {
		b.P.Book[i].TxPower, b.P.Book[i].Gain, b.P.Book[i].Sensitivity = 0, 0, -70-float64(r.IntN(8))
	}
	limit(b.P, domain.LinkMarginAdvice, float64(10+r.IntN(6)))
	limit(b.P, domain.ChildrenPerRouter, float64(1+r.IntN(4)))
	types := []string{"gw-room", "lc-4", "rt-plug", "st-4-mains", "ps-ceiling", "ps-ceiling", "st-2-battery", "ps-wired"}
	n := 1 + r.IntN(14)
	for i := range n {
		id := domain.ID(fmt.Sprint("d", i))
		b.Device(id, types[r.IntN(len(types))])
		d := b.R.Design.Device(id)
		if r.IntN(20) > 0 {
			d.At = new(geom.Pt(math.Round(r.Float64()*250)/10, math.Round(r.Float64()*150)/10))
		}
		if t := b.P.Book.Find(d.Type); t.Supply == "battery" && r.IntN(4) > 0 {
			d.Parent = domain.ID(fmt.Sprint("d", r.IntN(n)))
		}
	}
	plan := &domain.Plan{}
	for range r.IntN(6) {
		a := geom.Pt(r.Float64()*25, r.Float64()*15)
		plan.Walls = append(plan.Walls, domain.Wall{ID: "w", A: a, B: geom.Pt(r.Float64()*25, a.Y), Kind: domain.FullWall, Material: domain.Brick215})
	}
	b.R.Plan = plan
	return b
}
