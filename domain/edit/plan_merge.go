package edit

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// widestJoint is the gap in meters that is still taken for the wall between two
// rooms and becomes part of the room that they merge into: thicker inner walls
// are rare (common practice, no published source).
const widestJoint = 0.6

// mostMerged is how many rooms one gesture may merge.
const mostMerged = 50

// MergeRooms makes one room of several that touch, or that only a wall lies
// between. The first stays with its number and name and takes over what the
// others hold; the others are gone. A room that follows a typical stands alone
// first. Tags that two rooms had are told apart: the first room's stay, the
// others take the next free number of their kind. Waivers are an opinion of one
// room and those of the others go with them.
type MergeRooms struct {
	inRooms
	IDs []domain.ID // the room that stays, then those that it takes in
}

// Rooms names the rooms.
func (g MergeRooms) Rooms() []domain.ID { return g.IDs }

// Apply merges the rooms.
func (g MergeRooms) Apply(d *Drawing) (string, error) {
	if len(g.IDs) < 2 || len(g.IDs) > mostMerged {
		return "", fmt.Errorf("select 2 to %d rooms to merge", mostMerged)
	}
	rooms := make([]*domain.Resolved, len(g.IDs))
	for i, id := range g.IDs {
		if slices.Contains(g.IDs[:i], id) {
			return "", fmt.Errorf("a room cannot merge with itself: select another one")
		}
		r, err := d.room(id)
		if err != nil {
			return "", err
		}
		if r.Outline.Empty() {
			return "", fmt.Errorf("room %s has no outline on the plan: draw it first, then merge", r.Number)
		}
		rooms[i] = r
	}
	shape, err := joined(rooms)
	if err != nil {
		return "", err
	}
	first := rooms[0]
	area := statedArea(rooms, shape)
	for _, r := range rooms {
		if r.Typical != nil {
			if _, err := (StandAlone{}).Apply(OfRoom(d.Project, r)); err != nil {
				return "", err
			}
		}
	}
	var numbers []string
	for _, r := range rooms[1:] {
		if err := takeIn(d.Project, first, r); err != nil {
			return "", err
		}
		numbers = append(numbers, r.Number)
		d.Removed = append(d.Removed, r.ID)
	}
	d.Rooms = slices.DeleteFunc(d.Rooms, func(r *domain.Resolved) bool { return slices.Contains(d.Removed, r.ID) })
	first.Outline, first.Area = shape, area
	return fmt.Sprintf("merged %s into room %s", short(strings.Join(numbers, ", ")), first.Number), nil
}

// statedArea sums what the rooms state, or gives the new outline's area where
// one of them states none.
func statedArea(rooms []*domain.Resolved, shape geom.Polygon) units.SquareMetres {
	var sum units.SquareMetres
	whole := 0.0
	for _, r := range rooms {
		if r.Area == 0 {
			sum = 0
			break
		}
		sum += r.Area
		whole += r.Outline.Area()
	}
	if gained := shape.Area() - whole; sum > 0 && gained < geom.OnEdge*shape.Perimeter() && gained > -geom.OnEdge*shape.Perimeter() {
		return hundredths(sum)
	}
	return hundredths(units.SquareMetres(shape.Area()))
}

// joined gives the one shape that rooms make together.
func joined(rooms []*domain.Resolved) (geom.Polygon, error) {
	outlines := make([]geom.Polygon, len(rooms))
	for i, r := range rooms {
		outlines[i] = r.Outline
	}
	parts, err := geom.Union(outlines...)
	if err != nil {
		return geom.Polygon{}, err
	}
	if len(parts) > 1 {
		if parts, err = geom.Union(append(outlines, joints(outlines)...)...); err != nil {
			return geom.Polygon{}, err
		}
	}
	if len(parts) != 1 {
		return geom.Polygon{}, fmt.Errorf("room %s does not touch the others: rooms can merge where they share a side, or where only a wall of at most %s lies between them",
			apart(rooms, parts), units.Length(widestJoint, units.SI))
	}
	shape := exactly(parts[0]).Simplify(2 * geom.Coincident) // rounding may bring corners together
	if faults := shape.Validate(); len(faults) > 0 {
		return geom.Polygon{}, fmt.Errorf("the rooms cannot merge: %s", faults[0].Message())
	}
	return shape.Oriented(), nil
}

// apart gives the number of a room that lies in none of the largest part.
func apart(rooms []*domain.Resolved, parts []geom.Polygon) string {
	for _, r := range rooms {
		if len(parts) == 0 || !parts[0].Contains(r.Outline.LabelPoint()) {
			return r.Number
		}
	}
	return rooms[0].Number
}

// joints gives the strips between rooms that only a wall lies between: what
// outlines cover that are grown until they meet and shrunk again, less the rooms.
func joints(outlines []geom.Polygon) (out []geom.Polygon) {
	for i, a := range outlines {
		for _, b := range outlines[i+1:] {
			gap := distanceOf(a, b)
			if gap <= geom.Coincident || gap > widestJoint {
				continue
			}
			strips, err := between(a, b, gap)
			if err == nil {
				out = append(out, strips...)
			}
		}
	}
	return out
}

func between(a, b geom.Polygon, gap float64) ([]geom.Polygon, error) {
	by := gap/2 + geom.OnEdge // a little more, so that they overlap
	grownA, err := a.Offset(by)
	if err != nil {
		return nil, err
	}
	grownB, err := b.Offset(by)
	if err != nil {
		return nil, err
	}
	both, err := geom.Union(grownA, grownB)
	if err != nil || len(both) != 1 {
		return nil, err
	}
	closed, err := both[0].Offset(-by)
	if err != nil {
		return nil, err
	}
	strips, err := geom.Difference(closed, a, b)
	return slices.DeleteFunc(strips, func(s geom.Polygon) bool {
		return distanceOf(s, a) > geom.OnEdge || distanceOf(s, b) > geom.OnEdge
	}), err
}

// distanceOf gives how far two outlines lie apart, 0 where they touch or
// overlap with an edge.
func distanceOf(a, b geom.Polygon) float64 {
	least := -1.0
	see := func(d float64) {
		if least < 0 || d < least {
			least = d
		}
	}
	box := a.Bounds().Grow(widestJoint)
	if !box.Touches(b.Bounds()) {
		return 2 * widestJoint
	}
	for _, e := range a.Edges() {
		for _, f := range b.Edges() {
			if _, cross := e.Intersect(f); cross {
				return 0
			}
			for _, d := range []float64{e.Distance(f.A), e.Distance(f.B), f.Distance(e.A), f.Distance(e.B)} {
				see(d)
			}
		}
	}
	return least
}

// takeIn gives a room what another one holds, places and design.
func takeIn(p *domain.Project, into, from *domain.Resolved) error {
	if into.Use == "" {
		into.Use = from.Use
	}
	if into.Ceiling == 0 {
		into.Ceiling = from.Ceiling
	}
	into.Windows = into.Windows || from.Windows
	into.Seats += from.Seats
	into.Outlets += from.Outlets
	if from.Notes != "" && from.Notes != into.Notes {
		notes, err := domain.CleanText(into.Notes+"\n"+from.Number+": "+from.Notes, domain.MaxText)
		if err != nil {
			return fmt.Errorf("the notes of rooms %s and %s do not fit together: shorten them first", into.Number, from.Number)
		}
		into.Notes = notes
	}
	loads, err := absorb(p, &into.Design, from.Design.Clone(), from.Number)
	if err != nil {
		return fmt.Errorf("rooms %s and %s cannot merge: %w", into.Number, from.Number, err)
	}
	for _, f := range from.Fixtures {
		f.ID = freeID(f.ID, func(id domain.ID) bool {
			return slices.ContainsFunc(into.Fixtures, func(o domain.Fixture) bool { return o.ID == id })
		})
		f.Load = renamed(loads, f.Load)
		into.Fixtures = append(into.Fixtures, f)
	}
	for _, s := range from.Sitting {
		s.ID = freeID(s.ID, func(id domain.ID) bool {
			return slices.ContainsFunc(into.Sitting, func(o domain.Seat) bool { return o.ID == id })
		})
		into.Sitting = append(into.Sitting, s)
	}
	if len(into.Fixtures) > domain.MaxPlaces || len(into.Sitting) > domain.MaxPlaces {
		return fmt.Errorf("rooms %s and %s cannot merge: together they have more luminaires or seats than the %d of one room", into.Number, from.Number, domain.MaxPlaces)
	}
	return nil
}
