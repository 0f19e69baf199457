// Package prove explores what a room can come to: from an empty, dark room on a
// Monday at nine it lets everything happen that can, in every state that it finds,
// and looks for what nobody wants. It has no semantics of its own: domain/sequence
// runs each step, and what is found is played in the whole room before it is told.
//
// What makes that finite, and small:
//
//   - Loads that no toggle binds together are explored apart, each with the inputs
//     and intents that concern it. Parts that are alike are explored once.
//   - Sensors that act on the same loads are one, and so are buttons with the same
//     cells and levels that only raising and lowering leads to.
//   - Of timers counts the order in which they end and the power of two of what is
//     left; time goes by to just before, or just after, the next one ends, a
//     schedule's time comes or a condition's time of day begins or ends.
//   - Power failure, emergency, demand response and a lost network come one at a
//     time, power comes back after a second, and no sensor falls silent.
//
// So what is said to be possible is, and can be played. What is said never to be is
// so in all that was looked at; many random runs of the whole room have tried in
// vain to show otherwise, and nothing of the kind is said where states were left out.
package prove

import (
	"scopewright/domain"
	"scopewright/domain/sequence"
)

// Bounds stop an exploration of a room that has more states than can be looked
// at. They are counts and not times, so that each machine finds the same.
type Bounds struct {
	States int                   // 0: Most
	Ask    func(states int) bool // now and then, with how many there are; false stops. nil: nobody
}

// Most is how many states are looked at.
const Most = 50_000

// Proof is what an exploration found.
type Proof struct {
	Parts       int // that the room was cut into
	Unlike      int // of which so many were explored: the others are like one of them
	States      int
	Transitions int
	Bounded     bool // there are more states than were looked at: what is not found may yet be there
	Found       []Found
}

// Kind is what was found.
type Kind string

// The kinds.
const (
	NoWayOn   Kind = "no way back on"
	NoWayOff  Kind = "no way off"
	ButtonBut Kind = "button without effect"
	Twins     Kind = "buttons that do the same"
	Stuck     Kind = "a state that no one can leave"
	LitAlone  Kind = "light without a person"
	Egress    Kind = "egress lighting goes dark"
	Order     Kind = "the order of intents matters"
	Idle      Kind = "intent that never acts"
	NoExpiry  Kind = "a time that never runs out"
	LitEmpty  Kind = "a schedule lights an empty room without end"
	Burst     Kind = "messages that are refused in a burst"
)

// Found is one thing that was found, with the shortest steps that show it: a
// scenario that can be played and kept. Indices are those of the design; -1 and
// nil are none.
type Found struct {
	Kind   Kind
	Load   int
	Loads  []int // of a state that no one can leave
	Device int
	Button int
	Other  int // the twin button, or the intent whose order with Intent matters
	Intent int
	Time   string // of a time that never runs out: "delay", "warning" or "override"

	Devices []int // of a burst: who sends
	Sent    int   // messages in its worst window
	Lost    int   // that are refused

	Steps []domain.ScenarioStep
}

func found(k Kind) Found { return Found{Kind: k, Load: -1, Device: -1, Intent: -1, Other: -1} }

// Explore looks at all that a room can come to.
func Explore(p *sequence.Program, b Bounds) *Proof {
	if b.States <= 0 {
		b.States = Most
	}
	r := &room{p: p, d: p.Design, proof: &Proof{}, left: b.States, ask: b.Ask, known: map[string]*verdict{}}
	for _, s := range slicesOf(p) {
		r.explore(s)
	}
	r.buttons()
	r.intents()
	r.proof.Found = append(r.proof.Found, bursts(p)...)
	r.proof.Found = r.confirm(r.proof.Found)
	return r.proof
}

// room gathers what the exploration of its parts says.
type room struct {
	p     *sequence.Program
	d     *domain.Design
	proof *Proof
	left  int
	ask   func(states int) bool
	known map[string]*verdict // by what a part is like
	parts []part
}

// part is a slice with what was found of its kind.
type part struct {
	slice
	list *lister
	of   *verdict
}

// verdict is what exploring says of all parts that are alike: intents and buttons
// by their place in the part.
type verdict struct {
	bounded                         bool
	clean                           bool // nothing is wrong with its loads
	acted, vacated, warned, overran []bool
	sensed                          []bool // by intent: a delay of it can run
	effect                          []bool
	print                           []uint64
}

// explore looks at one part, unless one like it was sound.
func (r *room) explore(s slice) {
	r.proof.Parts++
	project := *r.p.Project
	if !s.modes {
		project.Calendar = nil // nothing hangs on the mode
	}
	p := sequence.Compile(&project, &s.design)
	list := listed(p, s.modes, s.parts)
	word := s.like(list)
	if v := r.known[word]; v != nil && v.clean {
		r.parts = append(r.parts, part{s, list, v})
		return
	}
	g := newGraph(p, list, max(1, r.left))
	said := r.proof.States
	ask := r.ask
	if ask != nil {
		ask = func(states int) bool { return r.ask(said + states) }
	}
	g.run(ask)
	r.left -= len(g.parent)
	r.proof.Unlike++
	r.proof.States += len(g.parent)
	r.proof.Transitions += len(g.edges)
	v := &verdict{bounded: g.bounded(), acted: g.acted, vacated: g.vacated, warned: g.warned, overran: g.overran, effect: g.effect, print: g.print}
	r.proof.Bounded = r.proof.Bounded || v.bounded
	for i := range s.design.Intents {
		v.sensed = append(v.sensed, g.senses(&s.design.Intents[i]))
	}
	found := s.inRoom(g.look())
	v.clean = len(found) == 0
	r.known[word] = v
	r.parts = append(r.parts, part{s, list, v})
	r.proof.Found = append(r.proof.Found, found...)
}

// inRoom tells findings of a part by the room's own indices.
func (s *slice) inRoom(list []Found) []Found {
	for i := range list {
		f := &list[i]
		if f.Load >= 0 {
			f.Load = s.loads[f.Load]
		}
		for k, l := range f.Loads {
			f.Loads[k] = s.loads[l]
		}
		if f.Intent >= 0 {
			f.Intent = s.intents[f.Intent]
		}
		if f.Kind == Order && f.Other >= 0 {
			f.Other = s.intents[f.Other]
		}
	}
	return list
}
