package design

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
)

// left says what a first design leaves to the designer, as far as the room has
// not got it: what nobody can tell from its use and its plan.
func (d *draft) left() {
	if len(d.out.Changes) == 0 {
		return
	}
	loads := d.lighting()
	say := func(missing bool, text string) {
		if missing {
			d.out.Left = append(d.out.Left, text)
		}
	}
	some := func(want func(*domain.Load) bool) bool { return slices.ContainsFunc(loads, want) }
	say(len(loads) > 0 && !some(func(l *domain.Load) bool { return l.Egress }),
		"Egress lighting: mark the loads that light the way out and name their listed bypass devices. The authority having jurisdiction and licensed people decide.")
	say(some(func(l *domain.Load) bool { return l.Circuit == "" }), "Circuits: name the branch circuit of each load. A licensed electrician decides.")
	say(d.r.Use == "classroom" && !some(func(l *domain.Load) bool { return l.Layer == domain.Board }),
		"Board lighting: give the row at the board a load of its own, once it is known where the board hangs.")
	say(d.r.Use == "conference" && !d.has(func(t equipment.Traits) bool { return t == equipment.AV.Traits() }),
		"Presentation: add an AV interface where a presentation system shall recall scenes.")
	say(!slices.ContainsFunc(d.r.Design.Loads, func(l domain.Load) bool { return l.Kind == domain.Receptacle }),
		"Receptacles: add the controlled ones as loads, where the owner or the code asks for them; their controllers are proposed then.")
	say(!d.use.network && !d.onNetwork(), "Gateway: rooms of this use work by themselves. Add one where the operator shall see the room.")
}
