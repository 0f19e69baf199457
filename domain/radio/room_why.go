package radio

import (
	"cmp"
	"slices"

	"scopewright/domain/units"
)

// Link is a link with all that makes it good or bad.
type Link struct {
	A, B      *Node
	Distance  units.Metres // in space
	FreeSpace float64      // dB
	Crossed   []Passage    // from A on
	Walls     float64      // dB, their sum
	Ceilings  int          // that it goes through
	Ceiling   float64      // dB, their sum
	Floors    int          // between storeys
	Slabs     float64      // dB, their sum
	Loss      float64      // dB, all of it

	Margin        float64 // dB, in the worse direction
	Needed        float64 // dB
	ByProbability bool    // the probability asks for more than the margin that is set
	Up            float64 // probability of being up under shadowing
	Lost          float64 // share of full frames (133 octets) lost at this very margin, from 0 to 1
	Band          Band
}

// Good tells that the link has the margin that is needed.
func (l *Link) Good() bool { return units.AtMost(l.Needed, l.Margin) }

// fullFrame is the longest frame of IEEE 802.15.4 on the air, octets.
const fullFrame = 133

// Why gives what the link between two nodes is made of.
func (r *Room) Why(a, b int) Link {
	l := Link{A: &r.Nodes[a], B: &r.Nodes[b], Crossed: r.between.crossed(a, b), Needed: r.needed}
	l.Distance = l.A.Distance(l.B.Place)
	l.FreeSpace = FreeSpace(l.Distance, MeshMHz)
	for i := range l.Crossed {
		l.Walls += l.Crossed[i].Loss
	}
	if l.A.Above != l.B.Above {
		l.Ceilings, l.Ceiling = 1, r.Settings.Ceiling
	}
	l.judge(r.Settings, r.resolved.Use == "corridor")
	return l
}

// judge sums up a link whose parts are known.
func (l *Link) judge(s Settings, corridor bool) {
	l.Loss = l.FreeSpace + l.Walls + l.Ceiling + l.Slabs
	l.Margin = Margin(l.A.Radio, l.B.Radio, l.Loss)
	_, l.ByProbability = s.Needed()
	l.Up, l.Lost = Up(l.Margin, s.Sigma), LostAt(l.Margin, fullFrame)
	l.Band = BandOf(l.Distance, l.Floors, len(l.Crossed) > 0, corridor, l.Loss)
}

// inOrderFrom sorts passages by how far they are from a place.
func inOrderFrom(from Place, list []Passage) []Passage {
	slices.SortStableFunc(list, func(a, b Passage) int { return cmp.Compare(from.Distance(a.At), from.Distance(b.At)) })
	return list
}
