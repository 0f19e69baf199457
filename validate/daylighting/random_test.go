package daylighting

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// anyhow draws the example room as a slip of the hand or an odd file would have it.
func anyhow(t *rapid.T) *domaintest.Builder {
	axis := rapid.OneOf(rapid.SampledFrom([]float64{0, 5, 8, 4, 2.5, 1e7, -1e7}), rapid.Float64Range(-3, 12))
	point := func() geom.Point { return geom.Pt(axis.Draw(t, "x"), axis.Draw(t, "y")) }
	length := rapid.SampledFrom([]units.Metres{0, 1e-9, 0.9, 1.5, 2.7, 4, 1000})
	b := cornered().Link("ds", 0, "", "l4", "ACT").Link("ds", 0, "", "l1", "ACT").Set("intents/i3/loads", "L1, L3, L4", "intents/i3/may_off", "yes")
	for i := range b.R.Design.Devices {
		d := &b.R.Design.Devices[i]
		if at := point(); rapid.Bool().Draw(t, "moved") {
			d.At = &at
		}
		d.Turn, d.Height = rapid.Float64Range(-720, 720).Draw(t, "turn"), length.Draw(t, "height")
	}
	ds := b.R.Design.Device("ds")
	ds.Loop = rapid.SampledFrom([]domain.LoopKind{domain.OpenLoop, domain.ClosedLoop, "", "odd"}).Draw(t, "loop")
	for i := range b.R.Design.Loads {
		l := &b.R.Design.Loads[i]
		l.Zone = rapid.SampledFrom([]domain.WindowZone{"", domain.ZoneNone, domain.ZoneWindow, domain.ZoneSecondary, domain.ZoneRoof, "odd"}).Draw(t, "zone")
	}
	for i := range b.R.Fixtures {
		if rapid.IntRange(0, 3).Draw(t, "hang") == 0 {
			b.R.Fixtures[i].At = point()
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "walls") {
		w := domain.Wall{ID: "x", A: point(), B: point(), Height: length.Draw(t, "wall height"), Kind: rapid.SampledFrom([]domain.WallKind{domain.FullWall, domain.Partition, domain.Boundary, "odd"}).Draw(t, "kind")}
		w.Openings = append(w.Openings, domain.Opening{ID: "o", Kind: rapid.SampledFrom([]domain.OpeningKind{domain.Door, domain.Gap, domain.Window}).Draw(t, "opening"), At: length.Draw(t, "at"), Width: length.Draw(t, "width"),
			Sill: length.Draw(t, "sill"), Head: length.Draw(t, "head"), Glass: rapid.SampledFrom([]float64{0, 1e-9, 1}).Draw(t, "glass")})
		b.R.Plan.Walls = append(b.R.Plan.Walls, w)
	}
	if rapid.Bool().Draw(t, "roof") {
		b.R.Plan.Rooflights = []domain.Rooflight{{ID: "r", At: point(), Width: length.Draw(t, "w"), Length: length.Draw(t, "l")}}
	}
	b.R.Room.Ceiling = length.Draw(t, "ceiling")
	for _, id := range []domain.LimitID{domain.OpenLoopNearest, domain.OpenLoopFarthest, domain.OpenLoopAside, domain.ClosedLoopView, domain.ClosedLoopTask, domain.DaylightRowDepth, domain.LeastFactor, domain.WindowHead, domain.WorkPlane} {
		if rapid.IntRange(0, 4).Draw(t, "change") == 0 {
			setLimit(b, id, rapid.SampledFrom([]float64{0, 1e-6, 1, 3, 1e6}).Draw(t, "limit"))
		}
	}
	return b
}

// Whatever is drawn, the rules neither fall over nor say what is no number, keys tell
// findings apart, and a fix is either carried out or says why not.
func TestAnyRoomIsJudged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyhow(t)
		f := rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC))
		for _, r := range []*rule.Rule{&OpenDistance, &OpenFacing, &OpenLamps, &NoGlass, &ClosedGlass, &ClosedTask, &ClosedApart, &TwoFacades, &DeepRow, &Little, &ZoneDiffers, &Hunts, &NotChecked} {
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
