package rule

import (
	"time"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/radio"
	"scopewright/domain/sequence/prove"
	"scopewright/domain/units"
)

// Device is a device with what its type says; Type is nil and Traits are empty
// where the book does not have it.
type Device struct {
	*domain.Device
	At     int // its place in Facts.Devices
	Type   *equipment.Type
	Traits equipment.Traits
}

// Station tells that the device's buttons may act on any load of the room.
func (d *Device) Station() bool { return d.Traits.Buttons && !d.Traits.OwnOnly }

// Battery tells that the device runs on a battery.
func (d *Device) Battery() bool { return d.Type != nil && d.Type.Supply == equipment.Battery }

// Routes tells that the device relays radio for children.
func (d *Device) Routes() bool { return d.Type != nil && d.Type.Routes }

// Load is a load with what it hangs on: its luminaire type, the device that
// carries it and what it draws. Both are nil where nothing is named or the
// thing is gone.
type Load struct {
	*domain.Load
	At      int // its place in Facts.Loads
	Lum     *domain.Luminaire
	Carrier *Device
	Watts   units.Watts
	Amps    units.Amps
	Known   bool // watts and amperes
}

// Dims tells that the load is dimmed and not only switched.
func (l *Load) Dims() bool { return l.Dimming != "" && l.Dimming != equipment.Switched }

// Link is a matrix cell with both its ends, nil where one is gone.
type Link struct {
	*domain.Link
	From *Device
	To   *Load
	Fits bool // its row is one that the device has
}

// fits tells that a cell's row is one of the device's: a button with press or
// hold, an input of a contact module, or the device as a whole.
func (d *Device) fits(k *domain.Link) bool {
	switch {
	case d.Traits.Buttons:
		return k.Button >= 1 && k.Button <= d.Type.Buttons && (k.On == domain.Press || k.On == domain.Hold)
	case d.Traits.Inputs:
		return k.Button >= 1 && k.Button <= max(1, d.Type.Inputs) && k.On == ""
	}
	return d.Traits.Links && k.Button == 0 && k.On == ""
}

// Does tells that the cell makes something happen to a load that is there.
func (k *Link) Does() bool {
	return k.Fits && k.To != nil && k.Do.Verb != "" && k.Do.Verb != domain.Nothing
}

// Presses tells that the cell is a button's and does something.
func (k *Link) Presses() bool { return k.Does() && k.From.Traits.Buttons }

// Senses tells that a presence sensor acts on the load.
func (k *Link) Senses() bool {
	return k.Does() && k.Do.Verb == domain.Acts && k.From.Traits.Presence
}

// Reads tells that a daylight sensor acts on the load.
func (k *Link) Reads() bool { return k.Does() && k.Do.Verb == domain.Acts && k.From.Traits.Daylight }

// Facts is what a room rule may look at. What several rules need is worked out
// at most once.
type Facts struct {
	Project *domain.Project
	Room    *domain.Resolved
	Design  *domain.Design
	Devices []Device
	Loads   []Load
	Links   []Link
	Today   time.Time    // the day to judge battery dates by
	Proof   *prove.Proof // what exploring the room found; nil: it was not explored

	parenting *propose.Parenting
	spread    *propose.Spread
	shape     *shape
	paths     []Paths
	radio     *roomRadio
	sight     *sight
	daylight  *daylit
	code      *judged
}

// Paths are the ways to turn a load on and off.
type Paths struct{ On, Off int }

// NewFacts gathers the facts of a room.
func NewFacts(p *domain.Project, r *domain.Resolved, today time.Time) *Facts {
	d := &r.Design
	f := &Facts{Project: p, Room: r, Design: d, Today: today,
		Devices: make([]Device, len(d.Devices)), Loads: make([]Load, len(d.Loads)), Links: make([]Link, len(d.Links))}
	for i := range d.Devices {
		f.Devices[i].Device, f.Devices[i].At = &d.Devices[i], i
		if t := p.Book.Find(d.Devices[i].Type); t != nil {
			f.Devices[i].Type, f.Devices[i].Traits = t, t.Kind.Traits()
		}
	}
	for i := range d.Loads {
		l := &f.Loads[i]
		l.Load, l.At = &d.Loads[i], i
		l.Lum, l.Carrier = p.Luminaire(l.Luminaire), f.Device(l.Controller)
		l.Watts, l.Amps, l.Known = l.Power(p)
	}
	f.joinLinks()
	return f
}

// joinLinks finds the ends of each cell. Cells come sorted by device, then
// load, so that the next one's ends are mostly the same device and the load
// that follows.
func (f *Facts) joinLinks() {
	var from *Device
	next := 0
	for i := range f.Design.Links {
		k := &f.Design.Links[i]
		if from == nil || from.ID != k.Device {
			from = f.Device(k.Device)
		}
		var to *Load
		if next < len(f.Loads) && f.Loads[next].ID == k.Load {
			to = &f.Loads[next]
		} else {
			to = f.Load(k.Load)
		}
		next = 0
		if to != nil && to.At+1 < len(f.Loads) {
			next = to.At + 1
		}
		f.Links[i] = Link{Link: k, From: from, To: to, Fits: from != nil && from.fits(k)}
	}
}

// Limit gives a limit's number.
func (f *Facts) Limit(id domain.LimitID) float64 { return f.Project.Limits.Value(id) }

// Device gives a device of the room with its type, nil where there is none.
func (f *Facts) Device(id domain.ID) *Device {
	for i := range f.Devices {
		if f.Devices[i].ID == id {
			return &f.Devices[i]
		}
	}
	return nil
}

// Load gives a load of the room with what it hangs on, nil where there is none.
func (f *Facts) Load(id domain.ID) *Load {
	for i := range f.Loads {
		if f.Loads[i].ID == id {
			return &f.Loads[i]
		}
	}
	return nil
}

// Count gives how many devices are as asked.
func (f *Facts) Count(want func(*Device) bool) int {
	n := 0
	for i := range f.Devices {
		if want(&f.Devices[i]) {
			n++
		}
	}
	return n
}

// Parenting gives the best assignment of battery devices to routers.
func (f *Facts) Parenting() *propose.Parenting {
	if f.parenting == nil {
		p := propose.Parents(f.Project, f.Design)
		f.parenting = &p
	}
	return f.parenting
}

// shape is what is wrong with the room's outline.
type shape struct{ faults []geom.Fault }

// Shape gives what is wrong with the room's outline, nothing where it is sound
// or where there is none.
func (f *Facts) Shape() []geom.Fault {
	if f.Room.Outline.IsZero() {
		return nil
	}
	if f.shape == nil {
		f.shape = &shape{f.Room.Outline.Validate()}
	}
	return f.shape.faults
}

// Drawn tells that the room has a sound outline, so that one can say what lies
// in it.
func (f *Facts) Drawn() bool { return !f.Room.Outline.Empty() && len(f.Shape()) == 0 }

// Paths gives the on and off paths of the load at an index of Loads: what
// domain.Design.Paths says, for all loads at once.
func (f *Facts) Paths(i int) Paths {
	if f.paths == nil {
		f.findPaths()
	}
	return f.paths[i]
}

func (f *Facts) findPaths() {
	f.paths = make([]Paths, len(f.Loads))
	var room [2 * 32]bool // for most rooms; a larger one asks for more
	sensed, occupied := room[:32], room[32:]
	if len(f.Loads) > 32 {
		sensed, occupied = make([]bool, len(f.Loads)), make([]bool, len(f.Loads))
	}
	for i := range f.Links {
		k := &f.Links[i]
		switch {
		case k.From == nil || k.To == nil:
		case k.From.Traits.Buttons:
			at := &f.paths[k.To.At]
			if k.Do.TurnsOn(f.Design, k.To.ID) {
				at.On++
			}
			if k.Do.TurnsOff(f.Design, k.To.ID) {
				at.Off++
			}
		case k.Senses():
			sensed[k.To.At] = true
			occupied[k.To.At] = occupied[k.To.At] || k.From.Presence == domain.Occupancy
		}
	}
	for i := range f.Loads {
		l, at := &f.Loads[i], &f.paths[i]
		if l.Carrier != nil && l.Carrier.Traits.OwnOnly {
			at.On, at.Off = at.On+1, at.Off+1
		}
		for j := range f.Design.Intents {
			if in := &f.Design.Intents[j]; in.ActsOn(l.Load) {
				on, off := in.Paths(f.Design, l.Load, sensed[i], occupied[i])
				at.On, at.Off = at.On+on, at.Off+off
			}
		}
	}
}

// AlwaysOn tells that the load at an index of Loads is egress lighting that
// nothing controls: it burns all the time, which is no defect.
func (f *Facts) AlwaysOn(i int) bool {
	if l := &f.Loads[i]; !l.Egress || l.Controller != "" {
		return false
	}
	paths := f.Paths(i)
	return paths.On+paths.Off == 0
}

// Subject names a device in a finding.
func (d *Device) Subject() Subject { return Subject{"devices", d.ID, d.Tag} }

// Subject names a load in a finding.
func (l *Load) Subject() Subject { return LoadSubject(l.Load) }

// LoadSubject names a load in a finding.
func LoadSubject(l *domain.Load) Subject { return Subject{"loads", l.ID, l.Tag} }

// SceneSubject names a scene in a finding.
func SceneSubject(s *domain.Scene) Subject { return Subject{"scenes", s.ID, s.Name} }

// IntentSubject names an intent in a finding.
func IntentSubject(in *domain.Intent) Subject { return Subject{"intents", in.ID, in.Kind.Title()} }

// WallSubject names a wall of a plan in a finding.
func WallSubject(w *domain.Wall) Subject {
	return Subject{"walls", w.ID, "wall " + units.Trim(float64(w.Seq), 0)}
}

// RoomSubject names a room in a finding of a storey or of a shape.
func RoomSubject(r *domain.Room) Subject { return Subject{"rooms", r.ID, r.Number} }

// StoreyFacts is what a storey rule may look at: the plan and the rooms on it.
type StoreyFacts struct {
	Project *domain.Project
	Storey  *domain.Storey
	Plan    *domain.Plan // empty where nothing is drawn beside the rooms
	Rooms   []*domain.Room

	// Designs are the same rooms with the designs that hold for them, on the
	// plan; nil where only shapes are judged.
	Designs []*domain.Resolved

	// Neighbours are the storeys right above and below, of the same building;
	// nil where they are not at hand.
	Neighbours []StoreyNeighbour

	backbone *radio.Backbone
}

// Limit gives a limit's number.
func (f *StoreyFacts) Limit(id domain.LimitID) float64 { return f.Project.Limits.Value(id) }

// ProjectFacts is what a project rule may look at: counts by room that each
// edit keeps up to date, so that no room has to be opened.
type ProjectFacts struct {
	Project  *domain.Project
	Rooms    []RoomCounts
	Circuits []domain.CircuitShare // of all rooms, by their numbers

	totals *[]domain.CircuitTotal
}

// RoomCounts is what project rules know of one room.
type RoomCounts struct {
	ID         domain.ID
	Storey     domain.ID
	Number     string
	Controlled bool // has devices
	Devices    int
	Gateways   int
}
