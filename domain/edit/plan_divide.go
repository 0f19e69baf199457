package edit

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// DividedArea is one of the areas that a room is divided into.
type DividedArea struct {
	ID      domain.ID // of the new room; the first area is the room itself and needs none
	Number  string    // empty: the room's own with the next free letter behind it
	Outline geom.Polygon
	Devices []domain.ID
	Loads   []domain.ID
	Hung    []HungLoad              // of its loads, those that go to another controller
	Added   []domain.Device         // what it gets besides: IDs and types
	Parents map[domain.ID]domain.ID // of its battery devices, from then on
}

// HungLoad is a load whose controller stays in another area: it goes to an output
// of one that its own area has or gets.
type HungLoad struct {
	Load, Controller domain.ID
	Output           int
}

// DivideRoom makes several rooms of one: the other way around of MergeRooms. Each
// area takes its devices and loads with the links between them, and of scenes,
// intents and scenarios what still names something of it; what none keeps is told.
// The first area stays the room. A waiver about a device or a load goes with it to
// its area; what else was waived stays with the room. A room that follows a typical
// stands alone first. Facts of the room hold for each area; its seats are shared
// out by floor area, and so are receptacles that no load has.
type DivideRoom struct {
	inRooms
	Room  domain.ID
	Areas []DividedArea
}

// Rooms names the room.
func (g DivideRoom) Rooms() []domain.ID { return []domain.ID{g.Room} }

// Apply divides the room.
func (g DivideRoom) Apply(d *Drawing) (string, error) {
	r, err := d.room(g.Room)
	if err != nil {
		return "", err
	}
	if err := g.check(d.Project.Units, r); err != nil {
		return "", err
	}
	if r.Typical != nil {
		r.Space = r.KindOfSpace()
		if _, err := (StandAlone{}).Apply(OfRoom(d.Project, r)); err != nil {
			return "", err
		}
	}
	before := &domain.Resolved{Room: r.Room.Clone(), Design: r.Design.Clone()}
	rooms := make([]*domain.Resolved, len(g.Areas))
	var numbers []string
	for i := range g.Areas {
		rooms[i] = r
		if i > 0 {
			if rooms[i], err = newRoom(d, before, &g.Areas[i], numbers); err != nil {
				return "", err
			}
			numbers = append(numbers, rooms[i].Number)
		}
		rooms[i].Outline, rooms[i].Area = exactly(g.Areas[i].Outline).Simplify(2*geom.Coincident).Oriented(), 0
		takeArea(rooms[i].Room)
	}
	shareOut(before, rooms, g.Areas)
	for i, room := range rooms {
		room.Design = partOf(&before.Design, &g.Areas[i])
		if err := equip(d.Project, room, before, &g.Areas[i]); err != nil {
			return "", err
		}
	}
	shareOutlets(before, rooms)
	shareWaivers(before, rooms)
	for _, room := range rooms[1:] {
		if err := room.Settle(); err != nil {
			return "", err
		}
		d.Added = append(d.Added, room.Room)
	}
	said := fmt.Sprintf("divided room %s, new rooms %s", r.Number, short(strings.Join(numbers, ", ")))
	if lost := LeftOut(&before.Design, rooms); len(lost) > 0 {
		said += "; " + counted(len(lost), "part") + " of its design left out"
	}
	return said, nil
}

// newRoom gives a new room with the facts of the one that is divided.
func newRoom(d *Drawing, from *domain.Resolved, a *DividedArea, given []string) (*domain.Resolved, error) {
	if !a.ID.Valid() {
		return nil, fmt.Errorf("%q is no ID for a room", a.ID)
	}
	number, err := domain.CleanLine(a.Number, domain.MaxName)
	if err != nil {
		return nil, err
	}
	taken := func(n string) bool {
		return d.numbered(n) || slices.ContainsFunc(given, func(o string) bool { return strings.EqualFold(o, n) })
	}
	switch {
	case number == "":
		number = lettered(from.Number, taken)
	case taken(number):
		return nil, fmt.Errorf("there is a room %s already: choose another number", number)
	}
	return &domain.Resolved{Room: &domain.Room{ID: a.ID, StoreyID: d.Storey, Number: number, Name: from.Name, Use: from.Use, Space: from.Space,
		Ceiling: from.Ceiling, Windows: from.Windows, Notes: from.Notes}}, nil
}

// lettered gives a number with the first letter behind it that no room has:
// 101A, 101B, after Z 101AA.
func lettered(number string, taken func(string) bool) string {
	for n := 0; ; n++ {
		tail := ""
		for m := n; m >= 0; m = m/26 - 1 {
			tail = string(rune('A'+m%26)) + tail
		}
		if next := named(number, tail); !taken(next) {
			return next
		}
	}
}

// check refuses areas that do not make up the room as it is.
func (g DivideRoom) check(sys units.System, r *domain.Resolved) error {
	if len(g.Areas) < 2 || len(g.Areas) > mostMerged {
		return fmt.Errorf("divide a room into 2 to %d areas", mostMerged)
	}
	if r.Outline.Empty() {
		return fmt.Errorf("room %s has no outline on the plan: draw it first, then divide it", r.Number)
	}
	changed := fmt.Errorf("room %s is no longer as it was when its areas were worked out: look at them again, then divide it", r.Number)
	devices, loads := map[domain.ID]int{}, map[domain.ID]int{}
	for i := range g.Areas {
		a := &g.Areas[i]
		for _, id := range a.Devices {
			devices[id] = i
		}
		for _, id := range a.Loads {
			loads[id] = i
		}
		if faults := a.Outline.Validate(); len(faults) > 0 {
			return fmt.Errorf("area %d cannot be drawn: %s", i+1, faults[0].Message())
		}
	}
	if !eachOnce(devices, g.Areas, func(a *DividedArea) int { return len(a.Devices) }, len(r.Design.Devices)) ||
		!eachOnce(loads, g.Areas, func(a *DividedArea) int { return len(a.Loads) }, len(r.Design.Loads)) {
		return changed
	}
	for i := range r.Design.Devices {
		if _, ok := devices[r.Design.Devices[i].ID]; !ok {
			return changed
		}
	}
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		at, ok := loads[l.ID]
		if by, carried := devices[l.Controller]; !ok || carried && by != at && !g.Areas[at].hangs(l.ID) {
			return changed
		}
	}
	return g.tiles(sys, r)
}

// hangs tells that a load goes to a controller that the area has or gets.
func (a *DividedArea) hangs(load domain.ID) bool {
	return slices.ContainsFunc(a.Hung, func(h HungLoad) bool {
		return h.Load == load && h.Output > 0 && (slices.Contains(a.Devices, h.Controller) ||
			slices.ContainsFunc(a.Added, func(d domain.Device) bool { return d.ID == h.Controller }))
	})
}

// eachOnce tells that as many parts were named as there are, none twice.
func eachOnce(of map[domain.ID]int, areas []DividedArea, count func(*DividedArea) int, want int) bool {
	sum := 0
	for i := range areas {
		sum += count(&areas[i])
	}
	return sum == want && len(of) == want
}

// tiles refuses areas that do not cover the room, each place once.
func (g DivideRoom) tiles(sys units.System, r *domain.Resolved) error {
	sum, slack := 0.0, geom.OnEdge*r.Outline.Perimeter()+geom.NoArea
	for i := range g.Areas {
		sum += g.Areas[i].Outline.Area()
		for j := range g.Areas[:i] {
			if shared, err := geom.OverlapArea(g.Areas[i].Outline, g.Areas[j].Outline); err != nil || shared > slack {
				return fmt.Errorf("areas %d and %d lie over each other", j+1, i+1)
			}
		}
		beyond, err := geom.Difference(g.Areas[i].Outline, r.Outline)
		if err != nil || geom.TotalArea(beyond) > slack {
			return fmt.Errorf("area %d reaches beyond room %s", i+1, r.Number)
		}
	}
	if left := r.Outline.Area() - sum; left > slack {
		return fmt.Errorf("the areas leave %s of room %s to none", units.Area(units.SquareMetres(left), sys), r.Number)
	}
	return nil
}

// shareOut gives luminaires to the rooms of their loads, seats to the rooms that
// they stand in, and people to reckon with by floor area.
func shareOut(from *domain.Resolved, rooms []*domain.Resolved, areas []DividedArea) {
	under := func(p geom.Point) int {
		best, least := 0, -1.0
		for i, r := range rooms {
			if r.Outline.Contains(p) {
				return i
			}
			if _, far := r.Outline.NearestOnBoundary(p); least < 0 || far < least {
				best, least = i, far
			}
		}
		return best
	}
	home := map[domain.ID]int{}
	for i := range areas {
		for _, id := range areas[i].Loads {
			home[id] = i
		}
	}
	for _, r := range rooms {
		r.Fixtures, r.Sitting = nil, nil
	}
	for _, f := range from.Fixtures {
		i, ok := home[f.Load]
		if !ok {
			i = under(f.At)
		}
		rooms[i].Fixtures = append(rooms[i].Fixtures, f)
	}
	for _, s := range from.Sitting {
		i := under(s.At)
		rooms[i].Sitting = append(rooms[i].Sitting, s)
	}
	for i, n := range byFloor(from.Seats, rooms) {
		rooms[i].Seats = n
	}
}

// byFloor shares a number out by floor area. What was rounded goes to the areas
// that follow, so that the sum stays.
func byFloor(left int, rooms []*domain.Resolved) []int {
	area := 0.0
	for _, r := range rooms {
		area += r.Outline.Area()
	}
	out := make([]int, len(rooms))
	for i, r := range rooms {
		share := r.Outline.Area()
		out[i] = int(float64(left)*share/area + 0.5)
		left, area = left-out[i], area-share
	}
	return out
}

// shareOutlets lets receptacles go with their loads, and those that hang on none be
// shared out by floor area.
func shareOutlets(from *domain.Resolved, rooms []*domain.Resolved) {
	left := from.Outlets
	for _, r := range rooms {
		r.Outlets = 0
		for i := range r.Design.Loads {
			if l := &r.Design.Loads[i]; l.Kind == domain.Receptacle {
				own := min(l.Count, left)
				r.Outlets, left = r.Outlets+own, left-own
			}
		}
	}
	for i, n := range byFloor(left, rooms) {
		rooms[i].Outlets += n
	}
}
