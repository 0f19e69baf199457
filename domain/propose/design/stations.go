package design

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// mostStations bounds the stations at doors; a room of more doors is told.
const mostStations = 4

// key is what one button of a station does.
type key struct{ label, cell string }

// stations proposes a station at each door, and says what the buttons of
// stations do that do nothing yet.
func (d *draft) stations() {
	loads := d.lighting()
	if len(loads) == 0 {
		return
	}
	bare := d.bareStations()
	if len(bare) == 0 && (d.stationed() || d.use.station == noStation) {
		return
	}
	why := "Who enters finds the light at the latch side of the door, at the usual height. The labels say what each button does."
	if d.use.station == keyStation {
		why = "Nobody in a public way shall switch its light, but who cleans or repairs must: a station for the operator alone."
	}
	d.group(ofStations, "Stations", why, []topic{ofLoads, ofPower, ofScenes}, func() {
		for _, id := range bare {
			d.wire(id, d.keysFor(d.typeOf(d.r.Design.Device(id)).Buttons))
		}
		if len(bare) == 0 {
			d.newStations()
		}
	})
}

// stationed tells that the room has something to press.
func (d *draft) stationed() bool { return d.has(func(t equipment.Traits) bool { return t.Buttons }) }

// bareStations gives stations of the room that have no cell in the matrix.
func (d *draft) bareStations() []domain.ID {
	var out []domain.ID
	for i := range d.r.Design.Devices {
		dev := &d.r.Design.Devices[i]
		if tr := d.traits(dev); tr.Buttons && !tr.OwnOnly && !d.linked(dev.ID) {
			out = append(out, dev.ID)
		}
	}
	return out
}

func (d *draft) linked(device domain.ID) bool {
	return slices.ContainsFunc(d.r.Design.Links, func(k domain.Link) bool { return k.Device == device })
}

func (d *draft) newStations() {
	t, keys := d.station()
	if t == nil {
		d.err = fmt.Errorf("the equipment book has no station with so few buttons as the room needs: add one of 2 or 4")
		return
	}
	doors := d.lay.doors
	if len(doors) == 0 {
		doors = make([]door, 1)
	}
	most := mostStations
	if d.use.station == keyStation {
		most = 1
	}
	if len(doors) > most {
		if most > 1 {
			d.assume("The room has %d doors; stations stand at the first %d.", len(doors), most)
		}
		doors = doors[:most]
	}
	settings := []string{"height_m", d.stationHeight()}
	if float64(d.calls()+len(doors)*len(keys)) > d.limit(domain.BroadcastsPerWindow) {
		settings = append(settings, "sending", string(domain.ToLoads))
	}
	for i := range doors {
		place := "latch side of the door"
		if len(doors) > 1 {
			place = fmt.Sprintf("latch side of door %d", i+1)
		}
		id := d.device(t, place, settings...)
		if len(d.lay.doors) > 0 {
			d.stand(id, d.lay.beside(doors[i]), 0)
		}
		d.wire(id, keys)
		d.adds("%s (%s), %s: %s", d.tag(id), t.Name, place, labels(keys))
	}
	if d.lay.drawn && d.lay.guessed.door {
		d.assume("No door is drawn along the outline: stations and controllers stand at the middle of its longest side without windows.")
	} else if d.lay.drawn {
		d.assume("The side of the latch is not drawn: stations stand at the side of a door where more wall is.")
	}
}

// station chooses a type that has just the buttons which the room has use for,
// fewer where the book has none with all; a mains one, which relays radio, where
// there is one.
func (d *draft) station() (*equipment.Type, []key) {
	for _, keys := range d.sets() {
		types := d.ofKind(equipment.Station, func(t *equipment.Type) bool { return t.Buttons == len(keys) })
		if len(types) == 0 {
			continue
		}
		return slices.MinFunc(types, func(a, b *equipment.Type) int { return d.unfit(a) - d.unfit(b) }), keys
	}
	return nil, nil
}

func (d *draft) unfit(t *equipment.Type) int {
	n := 0
	if keyed := strings.Contains(strings.ToLower(t.Name+" "+t.Description), "key"); keyed != (d.use.station == keyStation) {
		n += 2
	}
	if t.Supply != equipment.Mains {
		n++
	}
	return n
}

// sets gives lists of keys that would do, the best first.
func (d *draft) sets() [][]key {
	dims := d.use.station != keyStation && slices.ContainsFunc(d.lighting(), dimmed)
	ramp := []key{{"Raise", "UP"}, {"Lower", "DN"}}
	on, off := key{"On", "100"}, key{"Off", "0"}
	var out [][]key
	if d.use.station != keyStation {
		scenes := d.recalled()
		for n := len(scenes); n > 0; n-- {
			if dims {
				out = append(out, slices.Concat(scenes[:n], ramp, []key{off}))
			}
			out = append(out, slices.Concat(scenes[:n], []key{off}))
		}
	}
	if dims {
		out = append(out, slices.Concat([]key{on, off}, ramp))
	}
	return append(out, []key{on, off}, []key{{"On/Off", "TGL"}})
}

// recalled gives keys for the scenes that one station may recall. The first
// must light something, or who enters finds no key that does.
func (d *draft) recalled() []key {
	var out []key
	for i := range d.r.Design.Scenes {
		s := &d.r.Design.Scenes[i]
		if len(out) < int(d.limit(domain.ScenesPerStation)) {
			out = append(out, key{s.Name, "SC" + strconv.Itoa(s.Number)})
		}
	}
	return out
}

// keysFor gives the keys for a station of so many buttons, nil where none fit.
func (d *draft) keysFor(buttons int) []key {
	for _, keys := range d.sets() {
		if len(keys) <= buttons {
			return keys
		}
	}
	return nil
}

// wire labels a station's buttons and says in every cell what they do.
func (d *draft) wire(id domain.ID, keys []key) {
	for n, k := range keys {
		d.set("devices/"+string(id)+"/buttons", strconv.Itoa(n+1), k.label)
		for i := range d.r.Design.Loads {
			l := &d.r.Design.Loads[i]
			d.set("links", string(domain.LinkID(id, n+1, domain.Press, l.ID)), d.cell(k.cell, l))
		}
	}
}

// cell gives what a key does to a load: nothing to receptacles, no ramp to what
// is only switched, and never dark where it lights the way out.
func (d *draft) cell(text string, l *domain.Load) string {
	ramp := text == "UP" || text == "DN"
	switch {
	case l.Kind == domain.Receptacle, ramp && !dimmed(l), l.Egress && (text == "TGL" || text == "DN"):
		return "-"
	case l.Egress && text == "0":
		if !dimmed(l) {
			return "-"
		}
		return units.Trim(float64(d.reachable(egressLow, l)), 0)
	}
	return text
}

// calls counts the messages to the whole room that all devices send when each
// sensor reports and each button is pressed once.
func (d *draft) calls() int {
	n := 0
	for i := range d.r.Design.Devices {
		dev := &d.r.Design.Devices[i]
		t := d.typeOf(dev)
		if t == nil || dev.Sending != domain.ToRoom && dev.Sending != domain.ToGroup {
			continue
		}
		if t.Kind.Traits().Presence {
			n++
		} else {
			n += t.Buttons
		}
	}
	return n
}

// stationHeight is 1.2 m (48 in), within the reach range of US accessibility
// standards; to be confirmed for the place.
func (d *draft) stationHeight() string {
	if d.us() {
		return "48 in"
	}
	return "1.2 m"
}

func labels(keys []key) string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = k.label
	}
	return strings.Join(out, ", ")
}
