package propose

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Division is a proposal to make several rooms, its areas, of one that is over
// its limits. What is tied by a wire stays whole: a load with the device that
// carries it, a wired sensor with the device that feeds it. Once the cuts are
// known, stations go with their loads, and a load whose luminaires all hang in
// another area than its controller gets one there.
type Division struct {
	Fits bool
	Why  string // of one that does not fit: what stands against it, a sentence

	Bound    int       // no division has fewer areas than this
	Ceilings []Ceiling // what each limit asks for, the largest being the bound
	Fewest   bool      // proved: no straight cuts give fewer areas that fit
	Best     bool      // proved: no straight cuts give as many areas at less cost

	Areas    []Area        // the first keeps the room's number
	Cut      []domain.Link // cells of the matrix whose two ends come apart
	Strays   []Stray       // what stands in another area than it belongs to
	Unplaced []domain.ID   // devices without a place, which go with what they act on
	Length   units.Metres  // of all cuts together
}

// Ceiling is what one limit asks for: Have of a kind at Most an area.
type Ceiling struct {
	Limit      domain.LimitID
	Have, Most int
	Areas      int
}

// Area is one of the rooms to be.
type Area struct {
	Outline geom.Polygon
	Devices []domain.ID
	Loads   []domain.ID
	Hung    []Hanging       // of its loads, those that change their controller
	Added   []domain.Device // that it needs besides: its own gateway, routers, controllers
	Parents map[domain.ID]domain.ID
	Counts  []Ceiling // what it has of each kind that is limited, Added included
}

// Stray is a load or a device that belongs to one area and stands, with so many
// of its luminaires or itself, in another.
type Stray struct {
	Load, Device domain.ID // one of them
	Area, In     int
	Count, Of    int
}

// DivideWork is how much a search for a division does before it settles for
// the best so far, in places and ties looked at: less than half a second.
const DivideWork = 7_000_000

// mostAreas is how many areas beyond the bound are tried.
const mostBeyond = 8

// Divide cuts a room's outline by straight lines, each across one part of it and
// along or across the room's main direction, into the fewest areas of which each
// is within the project's limits; among those it takes the one that parts the
// fewest links of inputs to loads, then leaves the fewest things standing in
// another area than they belong to, then has the shortest cuts, then the most
// even areas. Areas are connected because each cut leaves two parts.
//
// The search is exact over all such cuts that run halfway between neighboring
// things or along a corner of the outline (of those that part the bundles alike,
// the one with the fewest strays and then the shortest), by recursion over the
// parts with their best answers kept; where work runs out, Best or Fewest say so.
// Lower bound: the largest of ceil(have / limit) over the kinds, where for all
// devices together the gateways and routers that k areas need besides count too.
// Battery devices find parents in their area as ParentsBy has it. What it leaves
// out: where added gateways and routers hang, windows, partitions, and cuts that
// bend.
func Divide(p *domain.Project, r *domain.Resolved) Division {
	s, out, found := divide(p, r)
	if found != nil {
		s.conclude(&out, found)
	}
	return out
}

// divide searches; the answer is nil where the division says why there is none.
func divide(p *domain.Project, r *domain.Resolved) (*split, Division, *answer) {
	c := newCaps(p, &r.Design)
	out := Division{Ceilings: c.ceilings(c.all)}
	for _, x := range out.Ceilings {
		out.Bound = max(out.Bound, x.Areas)
	}
	s := newSplit(p, r, c)
	out.Unplaced = s.unplaced()
	if out.Why = s.hopeless(); out.Why != "" {
		return s, out, nil
	}
	found := s.search(&out)
	if found == nil {
		out.Why = fmt.Sprintf("No straight cuts were found that give %s: place the devices where they will hang, or draw the areas by hand.", areasTried(out.Bound, s.tried))
	}
	return s, out, found
}

// conclude carries an answer out, or says why the outline cannot be cut so.
func (s *split) conclude(out *Division, found *answer) {
	if err := s.carryOut(out, found); err != nil {
		out.Areas, out.Why = nil, fmt.Sprintf("The room's outline cannot be cut: %v.", err)
		return
	}
	out.Fits = true
}

func areasTried(from, to int) string {
	if from == to {
		return fmt.Sprintf("%d areas that fit", from)
	}
	return fmt.Sprintf("%d to %d areas that fit", from, to)
}

// hopeless says why no division can be made, empty where one may be.
func (s *split) hopeless() string {
	switch {
	case s.room.Outline.Empty():
		return fmt.Sprintf("Room %s has no outline on the plan: draw it first, then divide it.", s.room.Number)
	case len(s.room.Outline.Validate()) > 0:
		return fmt.Sprintf("The outline of room %s is not sound: %s.", s.room.Number, s.room.Outline.Validate()[0].Message())
	case s.caps.bound(s.caps.all) <= 1 && s.caps.fits(s.caps.all):
		return fmt.Sprintf("Room %s is within its limits: there is no need to divide it.", s.room.Number)
	case s.placed == 0:
		return "Nothing in the room has a place on the plan: place its devices or luminaires first, then divide it."
	}
	for i := range s.bundles {
		b := &s.bundles[i]
		if b.tally.devices == 0 {
			continue
		}
		if over, ok := s.caps.over(b.tally); ok {
			return fmt.Sprintf("%s and what is wired to it stay together and make %d where the limit \"%s\" is %d: wire some of it to another device first.",
				s.d.Devices[b.devices[0]].Tag, over.Have, s.p.Limits.Find(over.Limit).Title, over.Most)
		}
	}
	return ""
}

// mainDirection gives the angle, 0 to under pi/2, along and across which most
// of an outline runs.
func mainDirection(shape geom.Polygon) float64 {
	edges := shape.Edges()
	turned := func(e geom.Segment) float64 {
		way := e.B.Sub(e.A)
		return math.Mod(math.Atan2(way.Y, way.X)+2*math.Pi, math.Pi/2)
	}
	best, most := 0.0, 0.0
	for _, e := range edges {
		angle, length := turned(e), 0.0
		for _, o := range edges {
			off := math.Abs(turned(o) - angle)
			if min(off, math.Pi/2-off) < 0.01 {
				length += o.Length()
			}
		}
		if length > most+geom.OnEdge {
			best, most = angle, length
		}
	}
	if best > math.Pi/2-1e-9 {
		return 0
	}
	return best
}
