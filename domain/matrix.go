package domain

import (
	"fmt"
	"strconv"

	"scopewright/domain/equipment"
)

// MatrixRow is one input of the control matrix.
type MatrixRow struct {
	Input
	Tag   string // of the device
	Label string // "1 Teach", "1 Teach, hold", "occupied, vacant"
	Kind  equipment.Kind
}

// MatrixRows lists the inputs of a design in the order of its devices. Holding
// a button gets a row of its own where it does something, or when all is set.
func MatrixRows(p *Project, d *Design, all bool) []MatrixRow {
	var rows []MatrixRow
	held := heldButtons(d)
	for i := range d.Devices {
		dev := &d.Devices[i]
		t := p.Book.Find(dev.Type)
		if t == nil || !t.Kind.Traits().Links {
			continue
		}
		row := func(button int, on Gesture, label string) {
			rows = append(rows, MatrixRow{Input{dev.ID, button, on}, dev.Tag, label, t.Kind})
		}
		switch tr := t.Kind.Traits(); {
		case tr.Buttons:
			for n := 1; n <= t.Buttons; n++ {
				name := dev.ButtonName(n)
				row(n, Press, name)
				if all || held[Input{dev.ID, n, Hold}] {
					row(n, Hold, name+", hold")
				}
			}
		case tr.Inputs:
			for n := 1; n <= max(1, t.Inputs); n++ {
				row(n, "", fmt.Sprintf("input %d", n))
			}
		case tr.Presence:
			row(0, "", "occupied, vacant")
		case tr.Daylight:
			row(0, "", "reading")
		default:
			row(0, "", "command")
		}
	}
	return rows
}

func heldButtons(d *Design) map[Input]bool {
	var held map[Input]bool
	for i := range d.Links {
		if l := &d.Links[i]; l.On == Hold {
			if held == nil {
				held = map[Input]bool{}
			}
			held[Input{l.Device, l.Button, l.On}] = true
		}
	}
	return held
}

// ButtonName gives "2 Present" for a labelled button, "2" for a bare one.
func (d *Device) ButtonName(n int) string {
	if label := d.ButtonLabel(n); label != "" {
		return strconv.Itoa(n) + " " + label
	}
	return strconv.Itoa(n)
}

// ButtonLabel gives what is engraved on a button, "" where nothing is.
func (d *Device) ButtonLabel(n int) string {
	id := ID(strconv.Itoa(n))
	for i := range d.Buttons {
		if d.Buttons[i].ID == id {
			return d.Buttons[i].Label
		}
	}
	return ""
}

// Paths counts the ways in which a load can be turned on and turned off: by
// buttons, sensors, schedule, AV, contacts and modes. Power back, daylight trim,
// demand response, emergency and network loss are not counted: nobody chose them.
func (d *Design) Paths(p *Project, l *Load) (on, off int) {
	sensed, occupied := false, false
	for i := range d.Links {
		k := &d.Links[i]
		if k.Load != l.ID {
			continue
		}
		dev := d.Device(k.Device)
		if dev == nil {
			continue
		}
		t := p.Book.Find(dev.Type)
		if t == nil {
			continue
		}
		switch tr := t.Kind.Traits(); {
		case tr.Buttons:
			if k.Do.TurnsOn(d, l.ID) {
				on++
			}
			if k.Do.TurnsOff(d, l.ID) {
				off++
			}
		case tr.Presence && k.Do.Verb == Acts:
			sensed = true
			occupied = occupied || dev.Presence == Occupancy
		}
	}
	if c := d.Device(l.Controller); c != nil {
		if t := p.Book.Find(c.Type); t != nil && t.Kind.Traits().OwnOnly {
			on, off = on+1, off+1
		}
	}
	for i := range d.Intents {
		if in := &d.Intents[i]; in.ActsOn(l) {
			a, b := in.Paths(d, l, sensed, occupied)
			on, off = on+a, off+b
		}
	}
	return on, off
}

// Paths gives 1 for each way that an intent opens to a load it acts on, given
// whether a presence sensor, and whether an occupancy sensor, acts on the load.
func (in *Intent) Paths(d *Design, l *Load, sensed, occupied bool) (on, off int) {
	reaches := func(on bool) int {
		a := Action{Verb: ToScene, Scene: in.Scene}
		if in.GoesToLevel() {
			a = Action{Verb: ToLevel, Level: in.Level}
		}
		if on && a.TurnsOn(d, l.ID) || !on && a.TurnsOff(d, l.ID) {
			return 1
		}
		return 0
	}
	switch in.Kind {
	case ByPresence:
		if !sensed {
			return 0, 0
		}
		if in.Enters && occupied {
			on = reaches(true)
		}
		if in.OffLevel == 0 {
			off = 1
		}
	case ForReceptacles:
		if sensed {
			return 1, 1
		}
	case BySchedule:
		if in.GoesTo() {
			on = reaches(true)
		}
		if in.OffAt != "" {
			off = 1
		}
	case ByAV, ByContact, OnMode:
		switch {
		case in.Kind == ByContact && in.Device == "":
		case in.Do == ToggleLoads:
			return 1, 1
		case in.GoesTo():
			return reaches(true), reaches(false)
		}
	}
	return on, off
}
