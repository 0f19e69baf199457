package sight

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// anyhow draws the example room as a slip of the hand or an odd file would have
// it: walls of no length, doors beyond their walls, types without numbers.
func anyhow(t *rapid.T) *domaintest.Builder {
	axis := rapid.OneOf(rapid.SampledFrom([]float64{0, 0, 5, 8, 4, 2.5, 1e7, -1e7}), rapid.Float64Range(-3, 12))
	point := func() geom.Point { return geom.Pt(axis.Draw(t, "x"), axis.Draw(t, "y")) }
	length := rapid.SampledFrom([]units.Metres{0, 0, 1e-9, 1, 1.5, 2.7, 4, 1000})
	typ := wide
	typ.MajorRadius, typ.MinorRadius, typ.StatedAt = length.Draw(t, "major"), length.Draw(t, "minor"), length.Draw(t, "stated at")
	typ.Lowest, typ.Highest, typ.MostRadius = length.Draw(t, "lowest"), length.Draw(t, "highest"), length.Draw(t, "most")
	typ.Coverage = rapid.SampledFrom([]units.SquareMetres{0, 1, 1e5}).Draw(t, "coverage")
	typ.Angle = rapid.SampledFrom([]float64{0, 1, 90, 180, 270, 360, 720}).Draw(t, "angle")
	typ.StatedOn, typ.Senses = rapid.SampledFrom(equipment.Planes()).Draw(t, "on"), rapid.SampledFrom(equipment.Sensings()).Draw(t, "senses")
	b := example(typ).Working(rapid.IntRange(0, 2).Draw(t, "more"), "ps-corner")
	for i := range b.R.Design.Devices {
		d := &b.R.Design.Devices[i]
		if at := point(); rapid.Bool().Draw(t, "moved") {
			d.At = &at
		}
		d.Turn, d.Height = rapid.Float64Range(-720, 720).Draw(t, "turn"), length.Draw(t, "height")
	}
	for range rapid.IntRange(0, 4).Draw(t, "walls") {
		w := domain.Wall{ID: "x", A: point(), B: point(), Height: length.Draw(t, "wall height"), Thickness: length.Draw(t, "thickness"),
			Kind: rapid.SampledFrom([]domain.WallKind{domain.FullWall, domain.Partition, domain.Boundary, "odd"}).Draw(t, "kind")}
		for range rapid.IntRange(0, 2).Draw(t, "openings") {
			w.Openings = append(w.Openings, domain.Opening{ID: "o", Kind: rapid.SampledFrom([]domain.OpeningKind{domain.Door, domain.Gap, domain.Window}).Draw(t, "opening"), At: length.Draw(t, "at"), Width: length.Draw(t, "width")})
		}
		b.R.Plan.Walls = append(b.R.Plan.Walls, w)
	}
	b = door(b, length.Draw(t, "door at"), length.Draw(t, "door width"))
	if rapid.Bool().Draw(t, "huge") {
		b.R.Outline = geom.Rectangle(-1e6, -1e6, 2e6, 2e6)
	}
	for _, id := range []domain.LimitID{domain.SightCell, domain.SeatedHeight, domain.StandingHeight, domain.PartitionHeight, domain.LeakArea, domain.CoveredShare} {
		if rapid.IntRange(0, 3).Draw(t, "change") == 0 {
			setLimit(b, id, rapid.SampledFrom([]float64{0, 1e-6, 1, 3, 1e6}).Draw(t, "limit"))
		}
	}
	return b
}

// Whatever is drawn, the rules neither fall over nor say what is no number, keys
// tell findings apart, and a fix is either carried out or says why not.
func TestAnyRoomIsJudged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyhow(t)
		f := facts(b)
		for _, r := range []*rule.Rule{&Seat, &Entrance, &Share, &Leak, &Height, &Blind, &Load, &NotChecked} {
			keys := map[string]bool{}
			for _, one := range r.Check(f) {
				if keys[one.Key] || one.Message == "" || len(one.Subjects) == 0 || one.Numbers && !(one.Margin < 0) || strings.Contains(one.Message, "NaN") || strings.Contains(one.Message, "Inf") {
					t.Fatalf("%s %q: %s (%v)", r.ID, one.Key, one.Message, one.Margin)
				}
				keys[one.Key] = true
				tryFix(t, b, one.Fix)
			}
		}
	})
}

func tryFix(t *rapid.T, b *domaintest.Builder, fix *rule.Fix) {
	if fix == nil || rapid.IntRange(0, 4).Draw(t, "try the fix") > 0 {
		return
	}
	work := &domain.Resolved{Room: b.R.Room.Clone(), Design: b.R.Design.Clone(), Plan: b.R.Plan}
	if said, err := edit.All(edit.OfRoom(b.P, work), fix.Edits); err == nil && said == "" || err != nil && len(fmt.Sprint(err)) < 10 {
		t.Fatalf("%q: %q, %v", fix.Title, said, err)
	}
}
