package edit

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// clipForm names the form in which a Clip is written.
const clipForm = "plan-clip-1"

// Clip is what was copied on a plan, to be pasted on the same or another one:
// whole rooms with all that they hold, and single things out of rooms that stay.
// It comes back from outside the program, so all of it is checked.
type Clip struct {
	Form     string                  `json:"form"`
	Rooms    []domain.Room           `json:"rooms,omitempty"`    // each with a design of its own
	Typicals map[domain.ID]domain.ID `json:"typicals,omitempty"` // the typical that a room followed
	Parts    []domain.Room           `json:"parts,omitempty"`    // of a room: the things, their links and their loads
	Walls    []domain.Wall           `json:"walls,omitempty"`
	Openings []LooseOpening          `json:"openings,omitempty"`

	Rooflights []domain.Rooflight `json:"rooflights,omitempty"`
}

// LooseOpening is an opening without its wall.
type LooseOpening struct {
	domain.Opening
	Middle geom.Point `json:"middle"`
}

// Copied gives things as a clip. It reads the drawing only.
func Copied(d *Drawing, things []Thing) (*Clip, error) {
	if len(things) == 0 || len(things) > mostPlaced {
		return nil, fmt.Errorf("select 1 to %d things to copy first", mostPlaced)
	}
	c := &Clip{Form: clipForm}
	whole := map[domain.ID]bool{}
	for _, t := range things {
		whole[t.Room] = whole[t.Room] || t.Kind == RoomThing
	}
	for _, t := range things {
		var err error
		switch {
		case t.rooflight():
			err = c.addRooflight(d, t)
		case t.ofPlan():
			err = c.addWall(d.Plan, t, things)
		case t.Kind == RoomThing:
			err = c.addRoom(d, t)
		case !whole[t.Room]: // otherwise the room brings it
			err = c.addThing(d, t)
		}
		if err != nil {
			return nil, err
		}
	}
	return c, nil
}

func (c *Clip) addWall(p *domain.Plan, t Thing, all []Thing) error {
	if t.Kind == WallThing {
		w := p.Wall(t.ID)
		if w == nil {
			return goneWall()
		}
		c.Walls = append(c.Walls, *w)
		return nil
	}
	if slices.Contains(all, Thing{Kind: WallThing, ID: t.Wall}) {
		return nil
	}
	w := p.Wall(t.Wall)
	if w == nil {
		return goneWall()
	}
	o := openingOf(w, t.ID)
	if o == nil {
		return fmt.Errorf("the opening is no longer in its wall: it may have been removed in another window")
	}
	c.Openings = append(c.Openings, LooseOpening{*o, w.Span(o).Middle()})
	return nil
}

func (c *Clip) addRooflight(d *Drawing, t Thing) error {
	l, err := d.rooflight(t.ID)
	if err == nil {
		c.Rooflights = append(c.Rooflights, *l)
	}
	return err
}

func (c *Clip) addRoom(d *Drawing, t Thing) error {
	r, err := d.room(t.Room)
	if err != nil {
		return err
	}
	if r.Outline.Empty() {
		return fmt.Errorf("room %s has no outline on the plan to copy", r.Number)
	}
	room := *r.Room.Clone()
	room.Design, room.Exceptions, room.Waivers, room.TypicalID = unwired(&r.Design), nil, nil, ""
	if r.Typical != nil {
		if c.Typicals == nil {
			c.Typicals = map[domain.ID]domain.ID{}
		}
		c.Typicals[r.ID] = r.Typical.ID
	}
	c.Rooms = append(c.Rooms, room)
	return nil
}

// unwired gives a copy of a design without what only the first room has:
// circuits, and the days on which batteries went in.
func unwired(d *domain.Design) domain.Design {
	out := d.Shared()
	out.PlaceAs(d)
	return out
}

// part gives the clip's part of a room.
func (c *Clip) part(r *domain.Resolved) *domain.Room {
	for i := range c.Parts {
		if c.Parts[i].ID == r.ID {
			return &c.Parts[i]
		}
	}
	c.Parts = append(c.Parts, domain.Room{ID: r.ID, StoreyID: r.StoreyID, Number: r.Number})
	return &c.Parts[len(c.Parts)-1]
}

func (c *Clip) addThing(d *Drawing, t Thing) error {
	r, err := d.room(t.Room)
	if err != nil {
		return err
	}
	part := c.part(r)
	switch t.Kind {
	case DeviceThing:
		dev, err := placedDevice(r, t.ID)
		if err != nil {
			return err
		}
		twin := *dev
		twin.Fitted = ""
		part.Design.Devices = append(part.Design.Devices, twin)
		for _, k := range r.Design.Links {
			if k.Device == t.ID {
				part.Design.Links = append(part.Design.Links, k)
				addLoadOf(part, &r.Design, k.Load)
			}
		}
	case FixtureThing:
		f, err := fixtureOf(r, t.ID)
		if err != nil {
			return err
		}
		part.Fixtures = append(part.Fixtures, *f)
		addLoadOf(part, &r.Design, f.Load)
	case SeatThing:
		s, err := seatOf(r, t.ID)
		if err != nil {
			return err
		}
		part.Sitting = append(part.Sitting, *s)
	}
	return nil
}

// addLoadOf puts a load into a clip's part, once.
func addLoadOf(part *domain.Room, d *domain.Design, id domain.ID) {
	if l := d.Load(id); l != nil && part.Design.Load(id) == nil {
		twin := *l
		twin.Circuit = ""
		part.Design.Loads = append(part.Design.Loads, twin)
	}
}

// ReadClip reads a clip that comes from outside.
func ReadClip(text []byte) (*Clip, error) {
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	c := new(Clip)
	if err := dec.Decode(c); err != nil || c.Form != clipForm || dec.More() {
		return nil, fmt.Errorf("the clipboard holds nothing that was copied on a plan: copy it again")
	}
	return c, nil
}

// check refuses a clip that no plan could have given.
func (c *Clip) check(p *domain.Project, storey domain.ID) error {
	n := len(c.Rooms) + len(c.Walls) + len(c.Openings) + len(c.Rooflights)
	scope := domain.Scope{Project: domain.Project{ID: p.ID, Name: "clip", Units: p.Units, Buildings: p.Buildings}, Rooms: slices.Concat(c.Rooms, c.Parts), Plans: []domain.Plan{{ID: storey, Walls: c.walls(), Rooflights: c.Rooflights}}}
	for i := range scope.Rooms {
		r := &scope.Rooms[i]
		n += len(r.Design.Devices) + len(r.Fixtures) + len(r.Sitting)
		if r.StoreyID = storey; r.TypicalID != "" || len(r.Exceptions)+len(r.Waivers) > 0 {
			return fmt.Errorf("the clipboard holds nothing that was copied on a plan: copy it again")
		}
	}
	if n == 0 {
		return fmt.Errorf("nothing was copied: select something and copy it first")
	}
	if n > domain.MaxPlaces || len(c.Rooms) > mostPlaced {
		return fmt.Errorf("%d things are too many to paste at once: copy less", n)
	}
	if problems := scope.Check(); len(problems) > 0 {
		return fmt.Errorf("this cannot be pasted: %s", problems[0].Message)
	}
	for i := range scope.Rooms {
		if err := known(p, &scope.Rooms[i]); err != nil {
			return err
		}
	}
	return nil
}

// walls gives the clip's walls, loose openings as those of a wall of their own,
// so that all are checked alike.
func (c *Clip) walls() []domain.Wall {
	out := slices.Clone(c.Walls)
	for i, o := range c.Openings {
		out = append(out, domain.Wall{ID: domain.ID(fmt.Sprintf("loose.%d", i)), A: o.Middle, B: o.Middle, Kind: domain.FullWall, Openings: []domain.Opening{o.Opening}})
	}
	return out
}

// known refuses equipment and luminaires that the project does not have: the
// clip may come from another one.
func known(p *domain.Project, r *domain.Room) error {
	for i := range r.Design.Devices {
		if typ := r.Design.Devices[i].Type; p.Book.Find(typ) == nil {
			return fmt.Errorf("%s cannot be pasted: the equipment book of this project has no type %.40q", r.Design.Devices[i].Tag, typ)
		}
	}
	for i := range r.Design.Loads {
		if l := &r.Design.Loads[i]; l.Luminaire != "" && p.Luminaire(l.Luminaire) == nil {
			return fmt.Errorf("load %s cannot be pasted: the luminaire schedule of this project does not have its luminaire", l.Tag)
		}
	}
	return nil
}

// Places gives where the clip's single things stand: each needs a room there.
func (c *Clip) Places() (out []geom.Point) {
	for i := range c.Parts {
		part := &c.Parts[i]
		for j := range part.Design.Devices {
			if at := part.Design.Devices[j].At; at != nil {
				out = append(out, *at)
			}
		}
		for _, f := range part.Fixtures {
			out = append(out, f.At)
		}
		for _, s := range part.Sitting {
			out = append(out, s.At)
		}
	}
	return out
}

func (c *Clip) anyOfPlan() bool { return len(c.Walls)+len(c.Openings)+len(c.Rooflights) > 0 }

// Windows tells that windows are among what is pasted: they look for the rooms
// beside them.
func (c *Clip) Windows() bool {
	window := func(o domain.Opening) bool { return o.Kind == domain.Window }
	return slices.ContainsFunc(c.Openings, func(o LooseOpening) bool { return window(o.Opening) }) ||
		slices.ContainsFunc(c.Walls, func(w domain.Wall) bool { return slices.ContainsFunc(w.Openings, window) })
}
