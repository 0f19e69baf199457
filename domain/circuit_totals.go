package domain

import (
	"cmp"
	"slices"

	"scopewright/domain/units"
)

// CircuitTotal is what one circuit of one building carries, over all rooms.
type CircuitTotal struct {
	Building ID
	Name     string   // as it is listed, else as its first load names it; empty: loads that name none
	Facts    *Circuit // nil: not listed
	Shares   []CircuitShare
	Volts    []units.Volts // that its loads state, each once, ascending

	Loads, Receptacles, Unknown int
	Watts                       units.Watts
	VA                          float64 // of lighting, at the volts that loads state
	Amps, Rest                  units.Amps
	Drivers, Unstated           int
	Inrush                      units.Amps
}

// SumCircuits adds up what rooms put on each circuit. A name in another building
// is another circuit. Circuits that are listed and carry nothing come too. The
// order is that of the buildings, then of names as people order them; loads
// without a circuit come last.
func SumCircuits(p *Project, shares []CircuitShare) []CircuitTotal {
	type key struct {
		building ID
		name     string
	}
	buildings, place := map[ID]ID{}, map[ID]int{}
	for i := range p.Buildings {
		place[p.Buildings[i].ID] = i
		for _, s := range p.Buildings[i].Storeys {
			buildings[s.ID] = p.Buildings[i].ID
		}
	}
	facts, used := map[string]*Circuit{}, map[string]bool{}
	for i := range p.Circuits {
		facts[CircuitKey(p.Circuits[i].Name)] = &p.Circuits[i]
	}
	at, out := map[key]int{}, []CircuitTotal(nil)
	for i := range shares {
		s := &shares[i]
		k := key{buildings[s.Storey], CircuitKey(s.Circuit)}
		n, known := at[k]
		if !known {
			n = len(out)
			at[k], used[k.name] = n, true
			out = append(out, CircuitTotal{Building: k.building, Name: s.Circuit, Facts: facts[k.name]})
		}
		out[n].add(s)
	}
	for i := range p.Circuits {
		if c := &p.Circuits[i]; !used[CircuitKey(c.Name)] {
			out = append(out, CircuitTotal{Name: c.Name, Facts: c})
		}
	}
	for i := range out {
		if out[i].Facts != nil {
			out[i].Name = out[i].Facts.Name
		}
	}
	slices.SortStableFunc(out, func(a, b CircuitTotal) int {
		return cmp.Or(lastWhere(a.Name == "", b.Name == ""), cmp.Compare(place[a.Building], place[b.Building]), CompareNumbers(a.Name, b.Name))
	})
	return out
}

func lastWhere(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

func compareShares(a, b *CircuitShare) int {
	return cmp.Or(CompareNumbers(a.Circuit, b.Circuit), cmp.Compare(CircuitKey(a.Circuit), CircuitKey(b.Circuit)), cmp.Compare(a.Volts, b.Volts))
}

func (t *CircuitTotal) add(s *CircuitShare) {
	t.Shares = append(t.Shares, *s)
	if at, there := slices.BinarySearch(t.Volts, s.Volts); !there && s.Volts > 0 {
		t.Volts = slices.Insert(t.Volts, at, s.Volts)
	}
	t.Loads, t.Receptacles, t.Unknown = t.Loads+s.Loads, t.Receptacles+s.Receptacles, t.Unknown+s.Unknown
	t.Watts, t.VA = t.Watts+s.Watts, t.VA+float64(s.Amps)*float64(s.Volts)
	t.Amps, t.Rest = t.Amps+s.Amps, t.Rest+s.Rest
	t.Drivers, t.Unstated, t.Inrush = t.Drivers+s.Drivers, t.Unstated+s.Unstated, t.Inrush+s.Inrush
}

// Key tells the circuit from others of the project.
func (t *CircuitTotal) Key() string { return string(t.Building) + "/" + CircuitKey(t.Name) }

// Rating gives the breaker's rating, and whether it is assumed.
func (t *CircuitTotal) Rating(p *Project) (a units.Amps, assumed bool) {
	if t.Facts != nil && t.Facts.Breaker > 0 {
		return t.Facts.Breaker, false
	}
	return units.Amps(p.Limits.Value(CircuitRating)), true
}

// Allowed gives the continuous current that the breaker may carry, the share of
// its rating that the limits allow (NEC 210.20(A): 80 %).
func (t *CircuitTotal) Allowed(p *Project) units.Amps {
	rating, _ := t.Rating(p)
	return rating * units.Amps(p.Limits.Value(OutputShare)/100)
}

// Counted gives the current that is held to Allowed: the continuous one, and
// of the rest as much as leaves the same room, since 125 % of the one and 100 %
// of the other must fit the rating (NEC 210.20(A)).
func (t *CircuitTotal) Counted(p *Project) units.Amps {
	return t.Amps + t.Rest*units.Amps(p.Limits.Value(OutputShare)/100)
}

// TripMultiple gives the breaker's least instantaneous trip over its rating, and
// whether it is assumed.
func (t *CircuitTotal) TripMultiple(p *Project) (m float64, assumed bool) {
	if t.Facts != nil && t.Facts.Trip.Multiple() > 0 {
		return t.Facts.Trip.Multiple(), false
	}
	return p.Limits.Value(TripMultiple), true
}

// Rooms gives the rooms that the circuit feeds, each once, in the order of the
// shares.
func (t *CircuitTotal) Rooms() []CircuitShare {
	var out []CircuitShare
	for _, s := range t.Shares {
		if len(out) == 0 || out[len(out)-1].Room != s.Room {
			out = append(out, s)
		}
	}
	return out
}
