package edit

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Paste puts a clip on the plan, moved by a distance in meters. A whole room
// becomes a new one under its own number where that is free, else under "214
// copy". A device becomes one of the room under its place, with its links where
// that room has the same loads; a luminaire joins the load of the same tag.
type Paste struct {
	Clip *Clip
	By   geom.Point
	Into []domain.ID      // the rooms that single things may come to stand in
	New  func() domain.ID // IDs of what is pasted
}

// Rooms names the rooms that take single things in.
func (g Paste) Rooms() []domain.ID { return g.Into }

// Walls tells whether things of the plan are among what is pasted.
func (g Paste) Walls() bool { return g.Clip.anyOfPlan() }

// Apply pastes the clip.
func (g Paste) Apply(d *Drawing) (string, error) {
	if err := g.Clip.check(d.Project, d.Storey); err != nil {
		return "", err
	}
	var said []string
	for i := range g.Clip.Rooms {
		number, err := g.room(d, &g.Clip.Rooms[i])
		if err != nil {
			return "", err
		}
		said = append(said, "room "+number)
	}
	things := 0
	for i := range g.Clip.Parts {
		n, err := g.part(d, &g.Clip.Parts[i])
		if err != nil {
			return "", err
		}
		things += n
	}
	for i := range g.Clip.Walls {
		if err := g.wall(d, &g.Clip.Walls[i]); err != nil {
			return "", err
		}
	}
	for i := range g.Clip.Openings {
		if err := g.opening(d, &g.Clip.Openings[i]); err != nil {
			return "", err
		}
	}
	for _, l := range g.Clip.Rooflights {
		l.ID = g.New()
		if err := d.addRooflight(l, g.By); err != nil {
			return "", err
		}
	}
	if things += len(g.Clip.Walls) + len(g.Clip.Openings) + len(g.Clip.Rooflights); things > 0 {
		said = append(said, counted(things, "thing"))
	}
	return "pasted " + short(strings.Join(said, ", ")), nil
}

func (g Paste) room(d *Drawing, from *domain.Room) (number string, err error) {
	if faults := from.Outline.Validate(); len(faults) > 0 {
		return "", fmt.Errorf("room %s cannot be pasted: %s", from.Number, faults[0].Message())
	}
	twin := &domain.Resolved{Room: from.Clone(), Design: from.Design.Clone()}
	twin.Design.PlaceAs(&from.Design)
	if typical := g.Clip.Typicals[from.ID]; typical != "" && d.Typical != nil {
		if twin.Typical = d.Typical(typical); twin.Typical != nil {
			twin.TypicalID = typical
		}
	}
	return d.addCopy(twin, g.New(), g.By)
}

// addCopy makes a new room of a copy, moved by a distance.
func (d *Drawing) addCopy(twin *domain.Resolved, id domain.ID, by geom.Point) (number string, err error) {
	twin.ID, twin.StoreyID, twin.Number = id, d.Storey, d.freeNumber(twin.Number)
	twin.Waivers = nil // they were reasoned for the other room
	if err := moveRoom(twin, by); err != nil {
		return "", err
	}
	if err := twin.Settle(); err != nil {
		return "", err
	}
	d.Added = append(d.Added, twin.Room)
	return twin.Number, nil
}

// freeNumber gives a number itself where no room of the project has it, else
// "214 copy", "214 copy 2" and so on.
func (d *Drawing) freeNumber(number string) string {
	taken := d.numbered
	if !taken(number) {
		return number
	}
	stem := number
	if at := strings.LastIndex(number, " copy"); at > 0 && strings.Trim(number[at+len(" copy"):], " 0123456789") == "" {
		stem = number[:at]
	}
	for n := 1; ; n++ {
		more := " copy"
		if n > 1 {
			more = fmt.Sprintf(" copy %d", n)
		}
		if next := named(stem, more); !taken(next) {
			return next
		}
	}
}

// numbered tells that a room of the project has a number.
func (d *Drawing) numbered(number string) bool {
	same := func(r *domain.Room) bool { return strings.EqualFold(r.Number, number) }
	return d.Taken != nil && d.Taken(number) || slices.ContainsFunc(d.Added, same) ||
		slices.ContainsFunc(d.Rooms, func(r *domain.Resolved) bool { return same(r.Room) })
}

// part pastes single things of one room into those under them.
func (g Paste) part(d *Drawing, part *domain.Room) (n int, err error) {
	for i := range part.Design.Devices {
		if err := g.device(d, part, &part.Design.Devices[i]); err != nil {
			return 0, err
		}
	}
	for _, f := range part.Fixtures {
		if err := g.fixture(d, part, f); err != nil {
			return 0, err
		}
	}
	for _, s := range part.Sitting {
		at, r, err := g.under(d, s.At, "a seat")
		if err != nil {
			return 0, err
		}
		if len(r.Sitting) >= domain.MaxPlaces {
			return 0, fmt.Errorf("room %s has %d seats, which is the most that it can have", r.Number, domain.MaxPlaces)
		}
		r.Sitting = append(r.Sitting, domain.Seat{ID: g.New(), At: at})
	}
	return len(part.Design.Devices) + len(part.Fixtures) + len(part.Sitting), nil
}

// under gives the place of a pasted thing and the room there.
func (g Paste) under(d *Drawing, from geom.Point, what string) (geom.Point, *domain.Resolved, error) {
	at, err := onPlan(from.Add(g.By))
	if err != nil {
		return at, nil, err
	}
	var found *domain.Resolved
	for _, r := range d.Rooms {
		if !r.Outline.Empty() && r.Outline.Contains(at) && (found == nil || r.Outline.Area() < found.Outline.Area()) {
			found = r
		}
	}
	if found == nil {
		return at, nil, fmt.Errorf("%s would stand outside every room: point to where it belongs, then paste", what)
	}
	return at, found, nil
}

func (g Paste) device(d *Drawing, part *domain.Room, from *domain.Device) error {
	if from.At == nil {
		return fmt.Errorf("%s has no place to be pasted at", from.Tag)
	}
	at, r, err := g.under(d, *from.At, from.Tag)
	if err != nil {
		return err
	}
	if len(r.Design.Devices) >= domain.MaxParts {
		return fmt.Errorf("room %s has %d devices, which is the most that it can have", r.Number, domain.MaxParts)
	}
	dev := *from
	dev.ID, dev.At, dev.Turn, dev.Fitted = g.New(), &at, direction(from.Turn), ""
	dev.Seq = nextSeq(r.Design.Devices, func(d domain.Device) int { return d.Seq })
	dev.Buttons, dev.Hears, dev.Parent = slices.Clone(from.Buttons), nil, "" // who hears it in its new place is for its design to say
	if r.Design.Device(dev.FedBy) == nil || part.ID != r.ID {
		dev.FedBy = ""
	}
	if tagged(&r.Design, dev.Tag) {
		dev.Tag = freeTag(devicePrefix(d.Project, dev.Type), "-", func(tag string) bool { return tagged(&r.Design, tag) })
	}
	r.Design.Devices = append(r.Design.Devices, dev)
	for _, k := range part.Design.Links {
		if k.Device != from.ID || !sameLoad(part.Design.Load(k.Load), r.Design.Load(k.Load)) || len(r.Design.Links) >= domain.MaxLinks {
			continue
		}
		k.Device = dev.ID
		k.ID = domain.LinkID(k.Device, k.Button, k.On, k.Load)
		r.Design.Links = append(r.Design.Links, k)
	}
	return nil
}

func sameLoad(a, b *domain.Load) bool {
	return a != nil && b != nil && a.Kind == b.Kind && strings.EqualFold(a.Tag, b.Tag)
}

func (g Paste) fixture(d *Drawing, part *domain.Room, from domain.Fixture) error {
	was := part.Design.Load(from.Load)
	what := "a luminaire"
	if was != nil {
		what += " of " + was.Tag
	}
	at, r, err := g.under(d, from.At, what)
	if err != nil {
		return err
	}
	if len(r.Fixtures) >= domain.MaxPlaces {
		return fmt.Errorf("room %s has %d luminaires on the plan, which is the most that it can have", r.Number, domain.MaxPlaces)
	}
	for i := range r.Design.Loads {
		if l := &r.Design.Loads[i]; l.Kind == domain.Lighting && sameLoad(was, l) {
			r.Fixtures = append(r.Fixtures, domain.Fixture{ID: g.New(), Load: l.ID, At: at, Turn: full(from.Turn)})
			return nil
		}
	}
	return fmt.Errorf("room %s has no load for %s: add one with that tag first", r.Number, what)
}

func (g Paste) wall(d *Drawing, from *domain.Wall) error {
	p := d.Plan
	if len(p.Walls) >= domain.MaxWalls {
		return fmt.Errorf("the plan has %d walls, which is the most that it can have", domain.MaxWalls)
	}
	w := *from
	w.ID, w.Seq, w.Openings = g.New(), nextSeq(p.Walls, func(w domain.Wall) int { return w.Seq }), nil
	var err error
	if w.A, err = onPlan(from.A.Add(g.By)); err != nil {
		return err
	}
	if w.B, err = onPlan(from.B.Add(g.By)); err != nil {
		return err
	}
	if w.A.Distance(w.B) < shortestWall {
		return fmt.Errorf("a wall of no length: its ends must lie apart")
	}
	for _, o := range from.Openings {
		o.ID = g.New()
		if err := settle(&w, &o, o.At); err != nil {
			return err
		}
		d.settleIndoors(&w, &o)
		w.Openings = append(w.Openings, o)
	}
	p.Walls = append(p.Walls, w)
	return nil
}

// opening puts an opening into the wall that it comes to lie on.
func (g Paste) opening(d *Drawing, from *LooseOpening) error {
	p := d.Plan
	at := from.Middle.Add(g.By)
	var wall *domain.Wall
	least := widestJoint
	for i := range p.Walls {
		if far := p.Walls[i].Line().Distance(at); far <= least {
			wall, least = &p.Walls[i], far
		}
	}
	if wall == nil {
		return fmt.Errorf("a %s stands in a wall, and here is none: point to a wall, then paste", from.Kind)
	}
	o := from.Opening
	o.ID, o.Seq = g.New(), nextSeq(wall.Openings, func(o domain.Opening) int { return o.Seq })
	along := at.Sub(wall.A).Dot(wall.B.Sub(wall.A)) / max(wall.A.Distance(wall.B), geom.Coincident)
	if err := settle(wall, &o, units.Metres(along)-o.Width/2); err != nil {
		return err
	}
	d.settleIndoors(wall, &o)
	wall.Openings = append(wall.Openings, o)
	return nil
}
