package radiolink

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/radio"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// cabled is how a designer says that gateways do not talk to each other by radio.
const cabled = "Where each gateway has a network cable, set the limit of hops between gateways to 0."

// backbone gives the mesh of a storey's gateways, nil where there is nothing to
// judge: fewer than two gateways, or a limit of 0 hops, which says that they have
// cables.
func backbone(f *rule.StoreyFacts) *radio.Backbone {
	if f.Limit(domain.HopsToServer) < 1 {
		return nil
	}
	if b := f.Backbone(); b != nil && len(b.Gates) > 1 {
		return b
	}
	return nil
}

// gateName names a gateway with its room: "GW-1 in room 101".
func gateName(b *radio.Backbone, gate int) string {
	g := &b.Gates[gate]
	return rule.Named(g.Device.Tag) + " in room " + g.Room.Number
}

func gateNames(b *radio.Backbone, gates []int) string {
	names := make([]string, len(gates))
	for i, g := range gates {
		names[i] = gateName(b, g)
	}
	return domain.JoinWords(names)
}

// own gives the gates that are of the storey that is judged.
func own(b *radio.Backbone, gates []int) []int {
	var out []int
	for _, g := range gates {
		if b.Own(g) {
			out = append(out, g)
		}
	}
	return out
}

// ofGates fills in what a finding says of gates: rooms and places.
func ofGates(one *rule.Finding, b *radio.Backbone, gates []int) {
	for _, g := range gates {
		one.Subjects = append(one.Subjects, rule.RoomSubject(b.Gates[g].Room))
		one.Places = append(one.Places, b.Gates[g].At)
	}
}

// gates gives a storey of rooms that hold a gateway each, at places, with radios
// that carry 10 m in the open.
func gates(at ...geom.Point) *rule.StoreyFacts {
	p := domaintest.Project(units.US)
	shortRadios(p)
	f := &rule.StoreyFacts{Project: p, Storey: &p.Buildings[0].Storeys[0], Plan: &domain.Plan{ID: "s1"}}
	for i := range at {
		r := &domain.Room{ID: domain.ID(fmt.Sprint("r", i)), StoreyID: "s1", Number: fmt.Sprint(101 + i)}
		r.Design.Devices = []domain.Device{{ID: domain.ID(fmt.Sprint("gw", i)), Seq: 1, Tag: "GW-1", Type: "gw-room", At: &at[i]}}
		f.Rooms, f.Designs = append(f.Rooms, r), append(f.Designs, &domain.Resolved{Room: r, Design: r.Design})
	}
	return f
}
