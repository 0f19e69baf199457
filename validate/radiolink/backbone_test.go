package radiolink_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/radiolink"
	"scopewright/validate/rule"
)

// rooms gives rooms with a gateway each, 2.5 m over the floor.
func rooms(storey domain.ID, at ...geom.Point) []*domain.Resolved {
	var out []*domain.Resolved
	for i := range at {
		r := &domain.Room{ID: domain.ID(fmt.Sprint(storey, i)), StoreyID: storey, Number: fmt.Sprint(storey, "-", i)}
		r.Design.Devices = []domain.Device{{ID: domain.ID(fmt.Sprint("gw", storey, i)), Seq: 1, Tag: "GW-1", Type: "gw-room", At: &at[i], Height: 2.5}}
		out = append(out, &domain.Resolved{Room: r, Design: r.Design})
	}
	return out
}

// storey gives a building of two storeys, the lower one with gateways whose radios
// carry 10 m in the open: 10 dB at FreeSpace of 60.23 dB (ITU-R P.525, 2450 MHz).
func storey(at ...geom.Point) *rule.StoreyFacts {
	p := domaintest.Project(units.SI)
	p.Buildings[0].Storeys = append(p.Buildings[0].Storeys, domain.Storey{ID: "s2", Seq: 2, Name: "First"})
	for i := range p.Book {
		p.Book[i].TxPower, p.Book[i].Gain, p.Book[i].Sensitivity = 0, 0, -70.2318
	}
	f := &rule.StoreyFacts{Project: p, Storey: &p.Buildings[0].Storeys[0], Plan: &domain.Plan{ID: "s1"}, Designs: rooms("s1", at...)}
	for _, r := range f.Designs {
		f.Rooms = append(f.Rooms, r.Room)
	}
	return f
}

func judgeStorey(f *rule.StoreyFacts) []rule.Finding {
	var out []rule.Finding
	for _, one := range []*rule.Rule{&radiolink.BackboneApart, &radiolink.BackboneHops, &radiolink.BackboneSingle} {
		for _, found := range one.CheckStorey(f) {
			found.Rule = one.ID
			out = append(out, found)
		}
	}
	return out
}

func ofStorey(f *rule.StoreyFacts, id string) []rule.Finding { return only(judgeStorey(f), id) }

func TestBackboneApart_atTheLimit(t *testing.T) {
	for x, want := range map[float64]int{9.9: 0, 10: 0, 10.1: 1} {
		assert.Len(t, ofStorey(storey(geom.Pt(0, 0), geom.Pt(x, 0)), "radiolink-backbone-apart"), want, "%g m", x)
	}
	f := storey(geom.Pt(0, 0), geom.Pt(1, 0), geom.Pt(20, 0))
	found := ofStorey(f, "radiolink-backbone-apart")
	require.Len(t, found, 1)
	assert.Equal(t, []geom.Point{geom.Pt(20, 0)}, found[0].Places, "the smaller part is the one apart")
	assert.Contains(t, found[0].Message, "On Ground GW-1 in room s1-2 has no link")

	limit(f.Project, domain.HopsToServer, 0)
	assert.Empty(t, judgeStorey(f), "gateways with cables are not asked")
	assert.Empty(t, judgeStorey(storey(geom.Pt(0, 0))), "one gateway has none to hear")
	f = storey(geom.Pt(0, 0), geom.Pt(20, 0))
	f.Designs = nil
	assert.Empty(t, judgeStorey(f), "designs are not at hand")
}

// A gateway on the storey above joins two that are apart, if the floor lets it: at
// 4 m up and 9 m aside, 9.85 m, there are 10.13 dB; with a floor of 20 dB none.
func TestBackboneApart_byTheStoreyAbove(t *testing.T) {
	f := storey(geom.Pt(0, 0), geom.Pt(18, 0))
	f.Neighbours = rule.NeighboursOf(f.Project, "s1")
	require.Len(t, f.Neighbours, 1)
	assert.Equal(t, units.Metres(4), f.Neighbours[0].Offset, "by the limit on storeys")
	f.Neighbours[0].Designs = rooms("s2", geom.Pt(9, 0))
	assert.Len(t, ofStorey(f, "radiolink-backbone-apart"), 1, "each of the three is alone: the first counts as the backbone, that above is told there")

	f = storey(geom.Pt(0, 0), geom.Pt(18, 0))
	limit(f.Project, domain.SlabLoss, 0)
	f.Neighbours = rule.NeighboursOf(f.Project, "s1")
	f.Neighbours[0].Designs = rooms("s2", geom.Pt(9, 0))
	assert.Empty(t, ofStorey(f, "radiolink-backbone-apart"))

	f = storey(geom.Pt(0, 0), geom.Pt(18, 0))
	limit(f.Project, domain.SlabLoss, 0)
	f.Project.Buildings[0].Storeys[1].Backbone = "another"
	f.Neighbours = rule.NeighboursOf(f.Project, "s1")
	f.Neighbours[0].Designs = rooms("s2", geom.Pt(9, 0))
	assert.Len(t, ofStorey(f, "radiolink-backbone-apart"), 1, "another backbone carries nothing")
}

func TestNeighboursOf(t *testing.T) {
	p := domaintest.Project(units.SI)
	p.Buildings[0].Storeys = []domain.Storey{{ID: "b", Seq: 1, Height: 3}, {ID: "g", Seq: 2, Height: 5}, {ID: "1", Seq: 3}, {ID: "2", Seq: 4}}
	n := rule.NeighboursOf(p, "g")
	require.Len(t, n, 2)
	assert.Equal(t, []domain.ID{"b", "1"}, []domain.ID{n[0].Storey.ID, n[1].Storey.ID})
	assert.Equal(t, []units.Metres{-3, 5}, []units.Metres{n[0].Offset, n[1].Offset})
	assert.Len(t, rule.NeighboursOf(p, "2"), 1)
	assert.Nil(t, rule.NeighboursOf(p, "gone"))
}

// Pairs of gateways every 9 m: from the middle of five pairs the farthest are 2
// hops off, of six 3.
func TestBackboneHops_atTheLimit(t *testing.T) {
	for pairs, want := range map[int]int{4: 0, 5: 0, 6: 1} {
		var at []geom.Point
		for i := range pairs {
			at = append(at, geom.Pt(9*float64(i), 0), geom.Pt(9*float64(i), 1))
		}
		f := storey(at...)
		limit(f.Project, domain.HopsToServer, 2)
		assert.Len(t, ofStorey(f, "radiolink-backbone-hops"), want, "%d pairs", pairs)
	}
}

// A path of three has one gateway that holds the others together, a ring of four none.
func TestBackboneSingle(t *testing.T) {
	found := ofStorey(storey(geom.Pt(0, 0), geom.Pt(9, 0), geom.Pt(18, 0)), "radiolink-backbone-single")
	require.Len(t, found, 1)
	assert.Equal(t, []geom.Point{geom.Pt(9, 0)}, found[0].Places)
	assert.Empty(t, ofStorey(storey(geom.Pt(0, 0), geom.Pt(9, 0), geom.Pt(9, 9), geom.Pt(0, 9)), "radiolink-backbone-single"))
}
