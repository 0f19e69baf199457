package design

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/units"
)

// presence proposes presence sensors where the room has none: where the room is
// drawn the fewest that see its seats, entrances and floor, else so many that
// each answers for no more floor than it covers.
func (d *draft) presence() {
	if d.use.presence == "" || len(d.lighting()) == 0 || d.has(func(t equipment.Traits) bool { return t.Presence }) {
		return
	}
	if t, n := d.presenceType(); t != nil && float64(n) > d.limit(domain.PresencePerRoom) {
		d.sensorsNeeded = n
		return
	}
	why := "People press for light, and what they leave goes off by itself: sensors of the vacancy kind."
	if d.use.presence == domain.Occupancy {
		why = "Who enters has no hand free, or no station: sensors of the occupancy kind light on entry."
	}
	n := len(d.out.Changes)
	d.group(ofPresence, "Presence sensors", why, []topic{ofLoads, ofPower}, func() {
		places := d.sensorPlaces()
		if len(places) == 0 {
			d.err = fmt.Errorf("the equipment book has no presence sensor for a ceiling of %s", units.Length(d.ceiling(), d.p.Units))
			return
		}
		settings := []string{"presence", string(d.use.presence)}
		if d.expectCalls(len(places)) {
			settings = append(settings, "sending", string(domain.ToLoads))
		}
		d.hangSensors(places, settings)
	})
	if len(d.out.Changes) == n && d.use.station == noStation {
		d.use.station = anyStation // nothing lights on entry: people must be able to press
	}
}

// sensorPlace is where a new presence sensor goes.
type sensorPlace struct {
	typ  *equipment.Type
	at   geom.Point
	turn float64
}

func (d *draft) hangSensors(places []sensorPlace, settings []string) {
	var ids []domain.ID
	feeds := d.feeds(places)
	for i, x := range places {
		id := d.device(x.typ, sensorWords(x.typ, i, len(places)), settings...)
		if feeds[i] != "" {
			d.set("devices/"+string(id), "fed_by", string(feeds[i]))
		}
		d.stand(id, x.at, x.turn)
		ids = append(ids, id)
	}
	d.senses(ids)
	for i, id := range ids {
		d.adds("%s (%s)", d.tag(id), places[i].typ.Name)
	}
}

// sensorPlaces gives where new sensors go, nothing where no type is made for
// the height of the room.
func (d *draft) sensorPlaces() []sensorPlace {
	var even []sensorPlace
	if t, n := d.presenceType(); t != nil {
		places := make([]geom.Point, n)
		if d.lay.drawn {
			places = d.lay.grid(n)
		}
		for _, at := range places {
			even = append(even, sensorPlace{typ: t, at: at})
		}
	}
	if !d.lay.drawn {
		return even
	}
	plan := propose.Sensors(d.p, d.r, propose.SensorWish{Nodes: sightNodes})
	if plan == nil || plan.After == nil {
		return even
	}
	var seen []sensorPlace
	for _, x := range plan.Steps {
		if t := d.p.Book.Find(x.Type); t != nil && x.Act == propose.AddSensor {
			seen = append(seen, sensorPlace{t, x.At, x.Turn})
		}
	}
	if len(seen) == 0 {
		return even
	}
	most := int(d.limit(domain.PresencePerRoom))
	if !plan.Complete && len(even) > 0 && len(even) <= most && d.shareOf(even) > plan.After.Share(coverage.Major) {
		return even
	}
	if !plan.Complete {
		d.sensorsNeeded = plan.Bound
		seats, entrances := plan.Unseen()
		d.assume("%s see %s %% of the floor; %s and %s stay unseen. More places or types, or a smaller room, would be needed to see all.", many(len(seen), "presence sensor"),
			units.Trim(100*plan.After.Share(coverage.Major), 0), many(seats, "seat"), many(entrances, "entrance"))
	}
	return seen
}

// sightNodes bounds the search for the fewest sensors to some hundredths of a
// second: a first design may have one more than the fewest.
const sightNodes = 2000

// shareOf gives the share of the floor that sensors at some places see.
func (d *draft) shareOf(places []sensorPlace) float64 {
	r := *d.r
	r.Design.Devices = nil
	for i := range places {
		r.Design.Devices = append(r.Design.Devices, domain.Device{ID: domain.ID(fmt.Sprint("s", i)), Type: places[i].typ.ID, At: &places[i].at, Turn: places[i].turn})
	}
	room := coverage.NewRoom(d.p, &r)
	if room == nil || !room.Whole() {
		return 0
	}
	return room.Share(coverage.Major)
}

func (d *draft) ceiling() units.Metres {
	ceiling, _ := d.p.CeilingOf(d.r.Room)
	return ceiling
}

// presenceType chooses the type of new sensors and how many the room's area
// takes of them: the first of the book that is made for the height and keeps
// within the project's limit, else the one that takes fewest.
func (d *draft) presenceType() (*equipment.Type, int) {
	area := math.Max(float64(d.r.Area), 1)
	most := d.limit(domain.PresencePerRoom)
	need := func(t *equipment.Type) int {
		each := float64(t.Coverage)
		if each == 0 {
			each = d.limit(domain.AreaPerPresenceSensor)
		}
		return int(math.Ceil(area/each - 1e-9))
	}
	types := d.ofKind(equipment.Presence, func(t *equipment.Type) bool {
		return d.madeForHeight(t) && strings.Contains(strings.ToLower(t.Mounting), "ceiling") && (t.Supply != equipment.Wired || d.feeder() != nil)
	})
	if len(types) == 0 {
		return nil, 0
	}
	for _, t := range types {
		if float64(need(t)) <= most {
			return t, need(t)
		}
	}
	t := slices.MinFunc(types, func(a, b *equipment.Type) int { return cmp.Compare(need(a), need(b)) })
	return t, need(t)
}

func (d *draft) madeForHeight(t *equipment.Type) bool {
	return (t.Lowest == 0 || d.ceiling() >= t.Lowest) && (t.Highest == 0 || d.ceiling() <= t.Highest)
}

func sensorWords(t *equipment.Type, i, n int) string {
	where := strings.ToLower(cmp.Or(t.Mounting, "ceiling"))
	if n == 1 {
		return where
	}
	return fmt.Sprintf("%s, %d of %d", where, i+1, n)
}

// expectCalls tells that so many sensors that send to the whole room, with the
// stations that the room is going to have, would be too much at once.
func (d *draft) expectCalls(sensors int) bool {
	n := d.calls() + sensors
	if !d.stationed() && d.use.station != noStation {
		_, keys := d.station()
		n += len(keys) * max(1, min(len(d.lay.doors), mostStations))
	}
	return float64(n) > d.limit(domain.BroadcastsPerWindow)
}

// feeder gives the book's type that feeds wired sensors, nil where it has none.
func (d *draft) feeder() *equipment.Type {
	types := d.ofKind(equipment.Contact, func(t *equipment.Type) bool { return t.Aux > 0 })
	if len(types) == 0 {
		return nil
	}
	return types[0]
}

// feeds adds what feeds the wired ones among new sensors, and gives for each
// sensor what feeds it, if anything.
func (d *draft) feeds(places []sensorPlace) []domain.ID {
	out := make([]domain.ID, len(places))
	feeder := d.feeder()
	left := 0.0
	var id domain.ID
	for i, x := range places {
		if x.typ.Supply != equipment.Wired || feeder == nil {
			continue
		}
		if id == "" || left < float64(x.typ.Draw)-1e-9 {
			id, left = d.feed(feeder), float64(feeder.Aux)
		}
		out[i], left = id, left-float64(x.typ.Draw)
	}
	return out
}

// feed adds a contact input that does nothing but feed.
func (d *draft) feed(t *equipment.Type) domain.ID {
	id := d.device(t, d.above())
	d.stand(id, d.overDoor(), 0)
	d.adds("%s (%s) feeds wired sensors", d.tag(id), t.Name)
	for n := range max(1, t.Inputs) {
		for j := range d.r.Design.Loads {
			d.set("links", string(domain.LinkID(id, n+1, "", d.r.Design.Loads[j].ID)), "-")
		}
	}
	return id
}

// senses says on which loads each sensor acts: on all, and in an open area on
// those that hang nearest to it.
func (d *draft) senses(sensors []domain.ID) {
	near := d.nearest(sensors)
	for i, id := range sensors {
		for j := range d.r.Design.Loads {
			text := "-"
			if (near == nil || near[i][j]) && d.answers(&d.r.Design.Loads[j]) {
				text = "ACT"
			}
			d.set("links", string(domain.LinkID(id, 0, "", d.r.Design.Loads[j].ID)), text)
		}
	}
}

// nearest tells by sensor and load which belong together: a load to the sensors
// that are nearest to one of its luminaires, a sensor without any to the load
// nearest to it; a load that does not hang on the plan to all. It gives nil
// where all belong together.
func (d *draft) nearest(sensors []domain.ID) [][]bool {
	if !d.use.zoned || !d.lay.drawn || len(sensors) < 2 {
		return nil
	}
	loads := d.r.Design.Loads
	near := make([][]bool, len(sensors))
	for i := range near {
		near[i] = make([]bool, len(loads))
	}
	for j := range loads {
		hung := false
		for _, f := range d.r.Fixtures {
			if f.Load == loads[j].ID {
				near[d.closest(sensors, f.At)][j], hung = true, true
			}
		}
		for i := range sensors {
			near[i][j] = near[i][j] || !hung
		}
	}
	for i, id := range sensors {
		if slices.Contains(near[i], true) {
			continue
		}
		at := d.r.Design.Device(id).At
		best := math.Inf(1)
		for _, f := range d.r.Fixtures {
			j := slices.IndexFunc(loads, func(l domain.Load) bool { return l.ID == f.Load })
			if j >= 0 && at != nil && f.At.Distance(*at) < best {
				best = f.At.Distance(*at)
				clear(near[i])
				near[i][j] = true
			}
		}
	}
	return near
}

// closest gives the sensor that is nearest to a place.
func (d *draft) closest(sensors []domain.ID, p geom.Point) int {
	best, at := math.Inf(1), 0
	for i, id := range sensors {
		if q := d.r.Design.Device(id); q != nil && q.At != nil && q.At.Distance(p) < best {
			best, at = q.At.Distance(p), i
		}
	}
	return at
}
