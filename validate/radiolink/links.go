// Package radiolink judges the radio of what stands on the plan: links to
// parents, the mesh of a room's routers, and the gateways of a storey.
package radiolink

import (
	"cmp"
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

const (
	commonPractice = "common practice, no published source"
	model          = "free space (ITU-R P.525) and the walls' losses; shadowing by ITU-R P.1238-13"
)

func db(v float64) string { return rule.Number(v) + " dB" }

// limits that make up the margin that a link needs.
var neededLimits = []domain.LimitID{domain.LinkMargin, domain.LinkProbability, domain.Shadowing, domain.AssumedPower, domain.AssumedSensitivity,
	domain.AssumedWallLoss, domain.AssumedDoorLoss, domain.AssumedPaneLoss, domain.CeilingLoss}

func withNeeded(more ...domain.LimitID) []domain.LimitID { return append(more, neededLimits...) }

// through tells what a link goes through: ": 14.2 m, through 2 walls (25 dB)".
func through(f *rule.Facts, a, b int) string {
	l := f.Radio().Why(a, b)
	said := units.Nearly(l.Distance, f.Project.Units)
	if n := len(l.Crossed); n > 0 {
		worst := slices.MaxFunc(l.Crossed, func(x, y radio.Passage) int { return cmp.Compare(x.Loss, y.Loss) })
		said += fmt.Sprintf(", through %s (%s, most in %s)", rule.Many(n, "obstacle"), db(l.Walls), worst.What)
	}
	return said
}

// places gives where the devices of nodes stand.
func places(f *rule.Facts, nodes ...int) []geom.Point {
	out := make([]geom.Point, len(nodes))
	for i, n := range nodes {
		out[i] = f.Radio().Nodes[n].At
	}
	return out
}

// stated tells that the designer has said which routers a device hears: what they
// know goes before what the plan makes likely.
func stated(n *radio.Node) bool { return len(n.Device.Hears) > 0 }

// parent gives the node of a battery device's parent, -1 where it has none on the
// plan.
func parent(r *radio.Room, n *radio.Node) int {
	if !n.Battery || n.Device.Parent == "" {
		return -1
	}
	if p := r.Find(n.Device.Parent); p >= 0 && r.Nodes[p].Routes {
		return p
	}
	return -1
}

// outOfReach tells that a device that does not relay hears no router though the
// room has some, all of them on the plan.
func outOfReach(f *rule.Facts, node int) bool {
	r := f.Radio()
	if n := &r.Nodes[node]; n.Routes || stated(n) || !r.Whole() {
		return false
	}
	reached, best := r.Heard(node)
	return reached == 0 && best >= 0
}

// reach is how far the radios of the examples' devices carry in the open, m.
const reach = 10.0

// classroom gives the classroom with its devices on the plan, all of whose radios
// carry 10 m in the open: from there on a margin of 10 dB is not kept. Links are
// not warned of before. Its gateway stands at the origin.
func classroom(spots map[domain.ID]geom.Point) *domaintest.Builder {
	b := domaintest.Classroom()
	shortRadios(b.P)
	setLimit(b.P, domain.LinkMarginAdvice, 10)
	place(b, map[domain.ID]geom.Point{"gw": geom.Pt(0, 0), "lc": geom.Pt(-1, 0), "rc": geom.Pt(-1, 1), "st": geom.Pt(-1, -1), "ps": geom.Pt(-2, 0), "ds": geom.Pt(-2, 1)})
	return place(b, spots)
}

// shortRadios lets the radios of a book carry 10 m in the open.
func shortRadios(p *domain.Project) {
	for i := range p.Book {
		p.Book[i].TxPower, p.Book[i].Gain, p.Book[i].Sensitivity = 0, 0, -10-radio.FreeSpace(reach, radio.MeshMHz)
	}
	setLimit(p, domain.CeilingLoss, 0)
}

func setLimit(p *domain.Project, id domain.LimitID, value float64) {
	for i := range p.Limits {
		if p.Limits[i].ID == id {
			p.Limits[i].Value = value
		}
	}
}

// place puts devices on the plan, at one height, so that distances are those of
// the plan. Routers that the room has not are added.
func place(b *domaintest.Builder, spots map[domain.ID]geom.Point) *domaintest.Builder {
	ids := make([]domain.ID, 0, len(spots))
	for id := range spots {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		d := b.R.Design.Device(id)
		if d == nil {
			b.Device(id, "rt-plug")
			d = b.R.Design.Device(id)
		}
		d.At, d.Height = new(spots[id]), 2.5
	}
	if err := b.R.Settle(); err != nil {
		panic(fmt.Sprintf("radiolink: example room: %v", err))
	}
	return b
}
