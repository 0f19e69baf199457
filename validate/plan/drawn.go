// Package plan judges what is drawn: outlines of rooms, walls with what stands
// in them, and the places of devices and luminaires.
package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// mostFindings is how many faults of one kind are told one by one.
const mostFindings = 50

// drawn gives a sound classroom of 8 by 5 m with all that it holds on the plan.
func drawn() *domaintest.Builder {
	b := domaintest.Classroom()
	r := b.R
	r.Outline = geom.Rectangle(0, 0, 8, 5)
	for i := range r.Design.Devices {
		at := geom.Pt(1+float64(i), 4)
		r.Design.Devices[i].At = &at
	}
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		for n := range l.Count {
			r.Fixtures = append(r.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprintf("%s-%d", l.ID, n)), Load: l.ID, At: geom.Pt(0.5+float64(n), 0.5+float64(i))})
		}
	}
	return settled(b)
}

// settled takes a design that was changed by hand back into the room.
func settled(b *domaintest.Builder) *domaintest.Builder {
	if err := b.R.Settle(); err != nil {
		panic(fmt.Sprintf("plan: example room: %v", err))
	}
	return b
}

// storey gives a storey with a plan of these walls and with rooms of these
// outlines.
func storey(walls []domain.Wall, outlines ...geom.Polygon) *rule.StoreyFacts {
	p := domaintest.Project(units.US)
	f := &rule.StoreyFacts{Project: p, Storey: &p.Buildings[0].Storeys[0], Plan: &domain.Plan{ID: "s1", Walls: walls}}
	for i, outline := range outlines {
		f.Rooms = append(f.Rooms, &domain.Room{ID: domain.ID(fmt.Sprintf("r%d", i+1)), StoreyID: "s1", Number: fmt.Sprint(101 + i), Outline: outline})
	}
	return f
}

// onPlan names the storey in a message.
func onPlan(f *rule.StoreyFacts) string { return "on the plan of " + f.Storey.Name }
