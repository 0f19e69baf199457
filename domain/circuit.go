package domain

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain/units"
)

// Circuit is what is known of a branch circuit beside its loads, which name it.
// What it leaves out holds as the project's limits say.
type Circuit struct {
	ID        ID          `json:"id"`
	Seq       int         `json:"seq"`
	Name      string      `json:"name"`                // as loads name it: "LP1-3" is circuit 3 of panel LP1
	Breaker   units.Amps  `json:"breaker_a,omitempty"` // rating; 0: CircuitRating of the limits
	Volts     units.Volts `json:"volts,omitempty"`     // 0: as its loads say
	Trip      Trip        `json:"trip,omitempty"`      // empty: TripMultiple of the limits
	Emergency bool        `json:"emergency,omitempty"` // fed by the emergency source
	Notes     string      `json:"notes,omitempty"`
}

// Trip is a breaker's characteristic (IEC 60898).
type Trip string

// The characteristics.
const (
	TripB Trip = "B"
	TripC Trip = "C"
	TripD Trip = "D"
)

// Trips lists the characteristics.
func Trips() []Trip { return []Trip{TripB, TripC, TripD} }

// Multiple gives the least instantaneous trip over the rating, 0 if not known
// (IEC 60898, from memory).
func (t Trip) Multiple() float64 {
	switch t {
	case TripB:
		return 3
	case TripC:
		return 5
	case TripD:
		return 10
	}
	return 0
}

// CircuitKey gives a circuit's name as names are compared: "lp1-3 " is LP1-3.
func CircuitKey(name string) string {
	return strings.ToUpper(strings.Join(strings.Fields(name), " "))
}

// Circuit gives the facts of the circuit that loads call so, nil where none are
// listed.
func (p *Project) Circuit(name string) *Circuit {
	if len(p.Circuits) == 0 || name == "" {
		return nil
	}
	key := CircuitKey(name)
	for i := range p.Circuits {
		if CircuitKey(p.Circuits[i].Name) == key {
			return &p.Circuits[i]
		}
	}
	return nil
}

// PanelOf gives the panel in a circuit's name, the text before its last hyphen,
// and the circuit's own part; a name without a hyphen names no panel.
func PanelOf(circuit string) (panel, own string) {
	if at := strings.LastIndex(circuit, "-"); at > 0 {
		return strings.TrimSpace(circuit[:at]), strings.TrimSpace(circuit[at+1:])
	}
	return "", circuit
}

// CircuitShare is what the loads of one room put on one circuit at one voltage.
// Sums over rooms need no room to be opened.
type CircuitShare struct {
	Room, Storey ID
	Number       string // of the room
	Circuit      string // as its first load names it; empty: no circuit named

	Volts       units.Volts // 0: not known
	Loads       int         // lighting
	Receptacles int
	Unknown     int         // lighting loads without watts or volts
	Watts       units.Watts // of lighting
	Amps        units.Amps  // of lighting, which burns for hours: continuous load
	Rest        units.Amps  // of receptacle loads that state their watts
	Drivers     int         // that start together and whose peak is stated
	Inrush      units.Amps  // sum of their peaks
	Unstated    int         // lighting loads whose inrush is not stated
}

// CircuitShares gives what a design puts on each circuit, in order of the
// circuits' names and volts. Room, Storey and Number are the caller's to fill in.
func CircuitShares(p *Project, d *Design) []CircuitShare {
	var out []CircuitShare
	for i := range d.Loads {
		l := &d.Loads[i]
		volts, key := l.Voltage(p), CircuitKey(l.Circuit)
		at := slices.IndexFunc(out, func(s CircuitShare) bool { return s.Volts == volts && CircuitKey(s.Circuit) == key })
		if at < 0 {
			at, out = len(out), append(out, CircuitShare{Circuit: l.Circuit, Volts: volts})
		}
		out[at].add(p, l)
	}
	slices.SortStableFunc(out, func(a, b CircuitShare) int { return compareShares(&a, &b) })
	return out
}

// CircuitShares gives what a room puts on each circuit.
func (r *Resolved) CircuitShares(p *Project) []CircuitShare {
	out := CircuitShares(p, &r.Design)
	for i := range out {
		out[i].Room, out[i].Storey, out[i].Number = r.ID, r.StoreyID, r.Number
	}
	return out
}

func (s *CircuitShare) add(p *Project, l *Load) {
	w, a, known := l.Power(p)
	if l.Kind == Receptacle {
		s.Receptacles++
		s.Rest += a
		return
	}
	s.Loads++
	s.Watts += w
	s.Amps += a
	if !known {
		s.Unknown++
	}
	peak, drivers, stated := l.Inrush(p)
	if !stated {
		s.Unstated++
		return
	}
	s.Drivers += drivers
	s.Inrush += peak
}

// Inrush gives the peak that a load's drivers draw when they start together,
// the sum of their own, and how many they are; stated is false where the
// schedule does not say. Cable lowers it, so it is the upper bound.
func (l *Load) Inrush(p *Project) (peak units.Amps, drivers int, stated bool) {
	lum := p.Luminaire(l.Luminaire)
	if lum == nil {
		return 0, 0, false
	}
	drivers = l.Count * lum.DriverCount()
	return units.Amps(float64(drivers)) * lum.InrushPeak, drivers, lum.InrushPeak > 0
}

// circuits checks what is listed of circuits.
func (c *checker) circuits(list []Circuit) {
	seen := map[string]int{}
	for i := range list {
		at, key := fmt.Sprintf("/project/circuits/%d/name", i), CircuitKey(list[i].Name)
		c.need(at, key, "the circuit's name")
		if first, twice := seen[key]; twice && key != "" {
			c.add(at, "circuits %d and %d are both called %q: keep one", first, i, shortText(list[i].Name))
			continue
		}
		seen[key] = i
	}
}
