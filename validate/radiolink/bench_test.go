package radiolink_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/radiolink"
	"scopewright/validate/rule"
)

// full gives a sound room of 32 devices with 50 walls between and around them, and
// the same with a router out of reach.
func full(apart bool) *domaintest.Builder {
	r := rand.New(rand.NewPCG(1, 1))
	b := domaintest.Room()
	for i := range 32 {
		id, typ := domain.ID(fmt.Sprint("d", i)), "ps-ceiling"
		switch {
		case i == 0:
			typ = "gw-room"
		case i%2 == 1:
			typ = "lc-4"
		}
		b.Device(id, typ)
		d := b.R.Design.Device(id)
		d.At = new(geom.Pt(r.Float64()*20, r.Float64()*15))
		if typ == "ps-ceiling" {
			d.Parent = domain.ID(fmt.Sprint("d", i-1))
		}
	}
	if apart {
		b.R.Design.Device("d31").At = new(geom.Pt(5000, 0))
	}
	plan := &domain.Plan{}
	for i := range 50 {
		a := geom.Pt(r.Float64()*30-5, r.Float64()*25-5)
		w := domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), A: a, B: a.Add(geom.Pt(r.Float64()*6-3, r.Float64()*6-3)), Kind: domain.FullWall, Material: domain.StudWall}
		if i%3 == 0 {
			w.Openings = []domain.Opening{{ID: "o", Kind: domain.Door, At: 0.5, Width: 0.9, Head: 2.1}}
		}
		plan.Walls = append(plan.Walls, w)
	}
	b.R.Plan = plan
	return b
}

// BenchmarkRoom judges the radio of a room of 32 devices among 50 walls: what an
// edit of it pays.
func BenchmarkRoom(b *testing.B) {
	rules := []*rule.Rule{&radiolink.BetterParent, &radiolink.FewRouters, &radiolink.Hops, &radiolink.NotPlaced, &radiolink.OutOfReach, &radiolink.Parenting,
		&radiolink.RouterApart, &radiolink.SingleLink, &radiolink.SingleRouter, &radiolink.WeakLink, &radiolink.WeakWay}
	for name, room := range map[string]*domaintest.Builder{"sound": full(false), "a router out of reach": full(true)} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				facts := rule.NewFacts(room.P, room.R, time.Time{})
				for _, one := range rules {
					one.Check(facts)
				}
			}
		})
	}
}
