// Package prove explores what a room can come to: from an empty, dark room it
// lets everything happen that can, in every state that it finds, and looks for
// what nobody wants. It has no semantics of its own: domain/sequence runs each step.
//
// Two states count as one when their loads, groups, sensors and modes are alike
// and their timers end in the same order; how far off they are is left out.
// Sensors that act on the same loads are one. Raise and lower are tried in each
// state, but what they lead to is not followed: levels between are many and
// nothing hangs on them. The clock stands; schedules come in any state.
package prove

import (
	"hash/maphash"

	"scopewright/domain"
	"scopewright/domain/sequence"
)

// Bounds stop an exploration of a room that has more states than can be looked
// at. They are counts and not times, so that each machine finds the same.
type Bounds struct {
	States int // 0: Most, or fewer where a room has many loads
}

// Most is how many states are looked at.
const Most = 6_000

// Proof is what an exploration found.
type Proof struct {
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
)

// Found is one thing that was found, with the shortest steps that show it.
type Found struct {
	Kind   Kind
	Load   int // -1: none
	Device int
	Button int
	Other  int // the twin button
	Intent int
	Steps  []domain.ScenarioStep
}

func found(k Kind) Found { return Found{Kind: k, Load: -1, Device: -1, Intent: -1} }

// explorer holds the graph as it grows. Of a state only what the search for
// findings needs is kept; the state itself is dropped once its successors are known.
type explorer struct {
	p       *sequence.Program
	d       *domain.Design
	acts    []act
	seed    maphash.Seed
	index   map[[2]uint64]int32
	parent  []int32
	by      []int32 // act that led here first
	at      []sequence.Time
	lit     []bool   // states x loads
	outs    []uint64 // what all loads are at, by state
	edges   []edge
	most    int
	bounded bool
	open    int // states from here on were not expanded
	acted   []bool
	effect  map[[2]int]bool // of buttons
	print   map[[2]int]uint64
	alone   map[int]int32 // load -> edge's index
	dark    map[int]int32
	key     []byte
	current int32 // edge that is being made, for the watcher
}

type edge struct {
	from, to int32
	act      int32
}

// Explore looks at all that a room can come to.
func Explore(p *sequence.Program, b Bounds) *Proof {
	x := &explorer{p: p, d: p.Design, acts: actsOf(p), seed: maphash.MakeSeed(), index: map[[2]uint64]int32{}, most: b.States,
		acted: make([]bool, len(p.Design.Intents)), effect: map[[2]int]bool{}, print: map[[2]int]uint64{}, alone: map[int]int32{}, dark: map[int]int32{}}
	if x.most == 0 {
		x.most = min(Most, 400_000/max(1, len(x.d.Loads)))
	}
	x.run()
	proof := &Proof{States: len(x.parent), Transitions: len(x.edges), Bounded: x.bounded}
	proof.Found = x.look()
	return proof
}

// run searches in breadth, so that the first way to a state is the shortest.
func (x *explorer) run() {
	first := x.p.NewState()
	first.StopClock()
	queue := []*sequence.State{first}
	x.note(first, -1, -1)
	scratch := x.p.NewState()
	scratch.Watch = x.watch
	var spare []*sequence.State
	for at := 0; len(queue) > 0; at++ {
		s := queue[0]
		queue = queue[1:]
		for i := range x.acts {
			s.CopyInto(scratch)
			if !x.acts[i].do(scratch) {
				continue
			}
			x.current = int32(len(x.edges))
			to, fresh := x.note(scratch, int32(at), int32(i))
			x.judge(s, scratch, int32(at), to, i)
			if x.acts[i].probe || to < 0 {
				continue
			}
			x.edges = append(x.edges, edge{int32(at), to, int32(i)})
			if fresh {
				next := x.p.NewState()
				if n := len(spare); n > 0 {
					next, spare = spare[n-1], spare[:n-1]
				}
				scratch.CopyInto(next)
				queue = append(queue, next)
			}
		}
		spare = append(spare, s)
		x.open = at + 1
	}
}

// note finds a state's place in the graph, or gives it one. -1: there is no room
// for more, or the act is only tried.
func (x *explorer) note(s *sequence.State, from, act int32) (at int32, fresh bool) {
	if act >= 0 && x.acts[act].probe {
		return -1, false
	}
	x.key = s.AppendAbstract(x.key[:0])
	var h maphash.Hash
	h.SetSeed(x.seed)
	h.Write(x.key)
	a := h.Sum64()
	h.WriteByte(1)
	k := [2]uint64{a, h.Sum64()}
	if at, ok := x.index[k]; ok {
		return at, false
	}
	if len(x.parent) >= x.most {
		x.bounded = true
		return -1, false
	}
	at = int32(len(x.parent))
	x.index[k] = at
	x.parent, x.by, x.at = append(x.parent, from), append(x.by, act), append(x.at, s.Now())
	for l := range x.d.Loads {
		x.lit = append(x.lit, s.Lit(l))
	}
	x.outs = append(x.outs, x.outputs(s))
	return at, true
}

func (x *explorer) watch(c sequence.Change) {
	if c.Because.Intent >= 0 {
		x.acted[c.Because.Intent] = true
	}
}

// judge looks at one transition.
func (x *explorer) judge(before, after *sequence.State, from, to int32, i int) {
	a := &x.acts[i]
	if a.button > 0 {
		k := [2]int{a.device, a.button}
		x.effect[k] = x.effect[k] || differs(before, after, len(x.d.Loads))
		x.print[k] = x.print[k]*1099511628211 + x.fingerprint(after)
	}
	if to < 0 {
		return
	}
	for l := range x.d.Loads {
		was, is := before.Lit(l), after.Lit(l)
		if _, known := x.alone[l]; !known && !was && is && a.byItself {
			if occupancy, vacancy := x.p.Sensed(l); vacancy && !occupancy && x.d.Loads[l].Kind == domain.Lighting && !after.Relit(l) {
				x.alone[l] = x.current
			}
		}
		if _, known := x.dark[l]; !known && was && !is && x.d.Loads[l].Egress && after.Powered() {
			x.dark[l] = x.current
		}
	}
}

func differs(a, b *sequence.State, loads int) bool {
	for l := range loads {
		if a.Settled(l) != b.Settled(l) || a.Load(l).Requested != b.Load(l).Requested {
			return true
		}
	}
	return false
}

// outputs gives a word for what all loads are at.
func (x *explorer) outputs(s *sequence.State) uint64 {
	h := uint64(14695981039346656037)
	for l := range x.d.Loads {
		h = (h ^ uint64(s.Settled(l)*16)) * 1099511628211
	}
	return h
}

func (x *explorer) fingerprint(s *sequence.State) uint64 {
	h := uint64(14695981039346656037)
	for l := range x.d.Loads {
		h = (h ^ uint64(s.Load(l).Requested*16)) * 1099511628211
		h = (h ^ uint64(s.Settled(l)*16)) * 1099511628211
	}
	return h
}
