package energycode

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// Room is one room to be judged: its facts and the kind of space that the designer
// chose or confirmed.
type Room struct {
	ID    domain.ID
	Space string
	Facts Facts
}

// RoomReport is what a pack says of one room.
type RoomReport struct {
	Room    *Room
	Answers []Answer
}

// Report is what a pack says of a building.
type Report struct {
	Pack     *Pack
	Units    units.System
	Sum      Building
	Rooms    []RoomReport
	Building []Answer // of the rooms together
}

// JudgeBuilding judges all rooms of a building by one pack. The sums over the
// building go into each room's facts first, since some figures of a code hold for
// the building as a whole.
func JudgeBuilding(p *Pack, rooms []Room, sys units.System) Report {
	out := Report{Pack: p, Units: sys, Sum: Sum(p, rooms), Rooms: make([]RoomReport, len(rooms))}
	for i := range rooms {
		f := rooms[i].Facts
		f.Building = &out.Sum
		out.Rooms[i] = RoomReport{&rooms[i], Judge(p, rooms[i].Space, &f)}
	}
	out.Building = []Answer{out.density(), out.egressShare()}
	if a, asked := out.demand(); asked {
		out.Building = append(out.Building, a)
	}
	return out
}

// Sum adds up what checks need to know of all rooms: the lighted area, light on the
// way out that stays on, and the watts of the space method, sum of area x density.
func Sum(p *Pack, rooms []Room) Building {
	var out Building
	for i := range rooms {
		f := &rooms[i].Facts
		out.Area += f.Area
		for k := range f.Loads {
			if l := &f.Loads[k]; l.Egress {
				out.StayOn += l.StaysOn()
			}
		}
		d := p.Density(rooms[i].Space)
		w, known := f.installed()
		if d == nil || f.Area <= 0 || !known || len(f.Loads) == 0 {
			out.Unknown++
			continue
		}
		out.Installed += units.Watts(w)
		out.Allowed += units.Watts(d.WattsFt2 * squareFeet(f.Area))
	}
	return out
}

// density compares the sums of the space method.
func (r *Report) density() Answer {
	a := Answer{Control: PowerDensity, Title: "Lighting power of the building, space method", Duty: Required}
	a.need("installed watts at most the sum of area x allowed density over all rooms")
	if len(r.Pack.Densities) == 0 {
		a.miss("power densities: the pack gives none")
		a.Open = true
		a.settle()
		return a
	}
	for i := range r.Rooms {
		if d := r.Pack.Density(r.Rooms[i].Room.Space); d != nil {
			a.rest(Basis{Clause: d.Clause, Mark: d.Mark, Source: d.Source})
		}
	}
	a.has("%s installed, %s allowed", wattWords(float64(r.Sum.Installed)), wattWords(float64(r.Sum.Allowed)))
	limit := Parameter{Sign: AtMost, Value: float64(r.Sum.Allowed), Unit: "W"}
	if !a.hold("installed lighting", float64(r.Sum.Installed), &limit) {
		a.fault("%s over the building's sum: use fewer watts.", wattWords(float64(r.Sum.Installed-r.Sum.Allowed)))
	}
	if r.Sum.Unknown > 0 {
		a.miss("area, kind of space or watts of %d of %d rooms", r.Sum.Unknown, len(r.Rooms))
	}
	a.settle()
	return a
}

// MayStayOn gives the watts that may stay lit in an empty building, P = area x
// density with the area in ft2; known is false where the pack gives none.
func (p *Pack) MayStayOn(area units.SquareMetres) (w units.Watts, known bool) {
	q := p.Parameter(EgressShare, "may_stay_on")
	if q == nil {
		return 0, false
	}
	return units.Watts(q.Value * squareFeet(area)), true
}

// egressShare compares the light that stays on in the empty building with what the
// code lets stay on.
func (r *Report) egressShare() Answer {
	a := Answer{Control: EgressShare, Title: EgressShare.Title(), Duty: Required, Caution: LifeSafety}
	q := r.Pack.Parameter(EgressShare, "may_stay_on")
	a.has("%s on the way out stay lit", wattWords(float64(r.Sum.StayOn)))
	switch {
	case q == nil:
		a.Open = true
		a.miss("how much light may stay on: the pack gives no figure")
	default:
		a.rest(q.Basis)
		most, _ := r.Pack.MayStayOn(r.Sum.Area)
		a.need("%s %s of the lighted area, %s", q.Sign, densityWords(q.Value, r.Units), wattWords(float64(most)))
		limit := Parameter{Sign: q.Sign, Value: float64(most), Unit: "W"}
		if !a.hold("light that stays on", float64(r.Sum.StayOn), &limit) {
			a.fault("%s stay lit in the empty building, limit %s: %s over.", wattWords(float64(r.Sum.StayOn)), wattWords(float64(most)), wattWords(float64(r.Sum.StayOn-most)))
		}
		for i := range r.Rooms {
			if r.Rooms[i].Room.Facts.Area <= 0 {
				a.miss("the area of every room")
			}
		}
	}
	a.settle()
	return a
}

// EventPower gives the most lighting power, in W, during a demand-response event, and
// whether the code asks for it: P = watts x (1 - reduction/100) from the pack's
// installed watts on. watts is the lighting in the clause's scope.
func (p *Pack) EventPower(watts units.Watts) (most units.Watts, asked bool) {
	from, reduction := p.Parameter(DemandResponse, "installed"), p.Parameter(DemandResponse, "reduction")
	if from == nil || reduction == nil || !from.Sign.Keeps(float64(watts), from.Value) {
		return watts, false
	}
	return VacantPower(watts, reduction.Value), true
}

// demand compares the lighting power during a demand-response event. In scope is
// lighting of rooms that the pack asks several levels of, but for the way out.
func (r *Report) demand() (a Answer, asked bool) {
	from, reduction := r.Pack.Parameter(DemandResponse, "installed"), r.Pack.Parameter(DemandResponse, "reduction")
	row := r.Pack.Requirement(AnySpace, DemandResponse)
	if from == nil || reduction == nil || row == nil {
		return a, false
	}
	a = Answer{Control: DemandResponse, Title: DemandResponse.Title(), Duty: row.Duty, Basis: []Basis{row.Basis}}
	a.rest(from.Basis)
	a.rest(reduction.Basis)
	a.need("from %s %s in scope on: an event lowers lighting power by %s %s %%", from.Sign, wattWords(from.Value), reduction.Sign, units.Trim(reduction.Value, 1))
	all, event, known := r.eventWatts()
	a.has("%s in scope, %s during an event", wattWords(float64(all)), wattWords(float64(event)))
	most, asked := r.Pack.EventPower(all)
	switch limit := (Parameter{Sign: AtMost, Value: float64(most), Unit: "W"}); {
	case !asked && known:
		a.Verdict = NotAsked
	case !asked:
		a.miss("the watts of all lighting in scope")
	case !a.hold("power during an event", float64(event), &limit):
		a.fault("%s during an event, limit %s: %s over. Add demand-response intents, or lower their cap.", wattWords(float64(event)), wattWords(float64(most)), wattWords(float64(event-most)))
	case !known:
		a.miss("the watts of all lighting in scope")
	}
	a.settle()
	return a, true
}

func (r *Report) eventWatts() (all, event units.Watts, known bool) {
	known = true
	for i := range r.Rooms {
		room := r.Rooms[i].Room
		if q := r.Pack.Requirement(room.Space, Multilevel); q == nil || q.Duty != Required {
			continue
		}
		for k := range room.Facts.Loads {
			l := &room.Facts.Loads[k]
			if l.Egress {
				continue
			}
			level := units.Level(100)
			if l.Event != nil {
				level = l.Event.Cap
			}
			all, event, known = all+l.Watts, event+l.Watts*units.Watts(level/100), known && l.WattsKnown
		}
	}
	return all, event, known
}
