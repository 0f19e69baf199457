package plan

import (
	"fmt"
	"testing"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// dayHall is a room of 12 by 9 m with three windows, a shelf that cuts, and twelve
// luminaires, as the workbench of a designer has it.
func dayHall() *domain.Scope {
	scope := dayScope()
	r, w := &scope.Rooms[0], &scope.Plans[0].Walls[0]
	r.Outline, w.B, w.Openings, r.Fixtures = geom.Rectangle(0, 0, 12, 9), geom.Pt(12, 0), nil, nil
	for i := range 3 {
		w.Openings = append(w.Openings, domain.Opening{ID: domain.ID(fmt.Sprint("w", i)), Kind: domain.Window, At: units.Metres(0.5 + 4*float64(i)), Width: 3, Sill: 0.9, Head: 2.7, Glass: 0.68})
	}
	scope.Plans[0].Walls = append(scope.Plans[0].Walls, domain.Wall{ID: "shelf", A: geom.Pt(1, 3), B: geom.Pt(4, 3), Kind: domain.Partition, Height: 1.8})
	for i := range 12 {
		r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("f", i)), Load: []domain.ID{"l1", "l2"}[i/6], At: geom.Pt(1+2*float64(i%6), 1.5+3*float64(i/6))})
	}
	return scope
}

// BenchmarkDayOverlay reckons and draws a room's daylight after a window, and after a
// luminaire, has moved: what it adds to an edit.
func BenchmarkDayOverlay(b *testing.B) {
	for _, view := range []aspect{ofZones, ofFactor, ofSensors} {
		for _, moved := range []string{"window", "luminaire"} {
			b.Run(string(view)+" "+moved, func(b *testing.B) {
				scope := dayHall()
				l, before, i := look{show: ofDaylight, aspect: view}, models{}, 0
				for b.Loop() {
					by := 0.1 * float64(1-i%2*2)
					if moved == "window" {
						scope.Plans[0].Walls[0].Openings[1].At += units.Metres(by)
					} else {
						scope.Rooms[0].Fixtures[3].At.X += by
					}
					r := (&domain.Resolved{Room: &scope.Rooms[0], Design: scope.Rooms[0].Design}).OnPlan(&scope.Plans[0])
					now := models{}
					dayOverlay(&scope.Project, r, l, &now, before)
					before = now
					i++
				}
			})
		}
	}
}
