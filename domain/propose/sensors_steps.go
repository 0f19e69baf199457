package propose

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

// SensorAct is what a step does with a sensor.
type SensorAct string

// The acts. A sensor that is moved may also be turned, or change its type.
const (
	KeepSensor   SensorAct = "keep"
	MoveSensor   SensorAct = "move"
	AddSensor    SensorAct = "add"
	RemoveSensor SensorAct = "remove"
)

// SensorStep is one part of a plan, which a designer may take by itself.
type SensorStep struct {
	Act    SensorAct
	Device domain.ID // of the room; empty: a new one
	Tag    string
	Type   string
	At     geom.Point
	Turn   float64 // degrees counterclockwise

	retype bool
	far    bool // from where it hung: what is written about its place no longer holds
}

// farMove is from how many meters on a sensor has another place.
const farMove = 0.5

// planOf makes a plan of chosen places.
func (s *sensorSearch) planOf(found Cover, spots []spot) *SensorPlan {
	plan := &SensorPlan{Sites: len(spots), Bound: found.Bound, Proved: found.Proved, Steps: s.steps(found.Chosen, spots)}
	for _, i := range found.Chosen {
		plan.Outside = max(plan.Outside, spots[i].outside)
	}
	plan.After = coverage.NewRoom(s.p, s.with(plan.Steps))
	seats, entrances := plan.Unseen()
	plan.Complete = seats+entrances == 0 && plan.After.Share(coverage.Major) >= s.wish.Share-1e-9
	return plan
}

// steps gives each of the room's sensors the chosen place nearest to it, of its
// own type if it can be; what is left over is added or removed.
func (s *sensorSearch) steps(chosen []int, spots []spot) []SensorStep {
	var out []SensorStep
	left, free := slices.Clone(s.have), slices.Clone(chosen)
	take := func(device, place int) {
		d, x := &s.r.Design.Devices[device], &spots[place]
		act := MoveSensor
		if x.device == device {
			act = KeepSensor
		}
		out = append(out, SensorStep{Act: act, Device: d.ID, Tag: d.Tag, Type: x.typ, At: x.at, Turn: x.turn, retype: d.Type != x.typ, far: d.At != nil && d.At.Distance(x.at) > farMove})
		left = slices.DeleteFunc(left, func(i int) bool { return i == device })
		free = slices.DeleteFunc(free, func(i int) bool { return i == place })
	}
	for _, i := range chosen {
		if d := spots[i].device; d >= 0 {
			take(d, i)
		}
	}
	for len(left) > 0 && len(free) > 0 {
		device, place := s.nearest(left, free, spots)
		take(device, place)
	}
	for _, i := range free {
		out = append(out, SensorStep{Act: AddSensor, Type: spots[i].typ, At: spots[i].at, Turn: spots[i].turn})
	}
	for _, i := range left {
		d := &s.r.Design.Devices[i]
		one := SensorStep{Act: RemoveSensor, Device: d.ID, Tag: d.Tag, Type: d.Type, Turn: d.Turn}
		if d.At != nil {
			one.At = *d.At
		}
		out = append(out, one)
	}
	return out
}

// nearest gives the sensor and the place that belong together most: of one type
// first, then by distance.
func (s *sensorSearch) nearest(left, free []int, spots []spot) (device, place int) {
	best := math.Inf(1)
	for _, i := range left {
		for _, j := range free {
			d, far := &s.r.Design.Devices[i], 1e6
			if d.At != nil {
				far = d.At.Distance(spots[j].at)
			}
			if d.Type != spots[j].typ {
				far += 1e9
			}
			if far < best {
				best, device, place = far, i, j
			}
		}
	}
	return device, place
}

// with gives the room after steps.
func (s *sensorSearch) with(steps []SensorStep) *domain.Resolved {
	out := *s.r
	out.Design.Devices = nil
	for i := range steps {
		x := &steps[i]
		switch d := s.r.Design.Device(x.Device); {
		case x.Act == RemoveSensor:
		case d != nil:
			moved := *d
			if x.retype {
				moved.Height, moved.Mounting = 0, ""
			}
			moved.Type, moved.At, moved.Turn = x.Type, &x.At, x.Turn
			out.Design.Devices = append(out.Design.Devices, moved)
		default:
			fresh := s.fresh(x.Type)
			fresh.ID, fresh.At, fresh.Turn = "new", &x.At, x.Turn
			out.Design.Devices = append(out.Design.Devices, fresh)
		}
	}
	return &out
}

// fresh gives a new sensor of a type, at the height of the one that it copies.
func (s *sensorSearch) fresh(typ string) domain.Device {
	out := domain.Device{Type: typ}
	if like := likeSensor(s.p, &s.r.Design, typ); like != nil && like.Type == typ {
		out.Height, out.Mounting = like.Height, like.Mounting
	}
	return out
}

// Edits gives what carries a step out. A new sensor does what another one of the
// room does, or turns off all lighting where the room has none; id is that of the
// new one.
func (x SensorStep) Edits(p *domain.Project, d *domain.Design, id domain.ID) []edit.Edit {
	switch x.Act {
	case RemoveSensor:
		return []edit.Edit{edit.Remove{Part: "devices", ID: x.Device}}
	case MoveSensor:
		out := x.typed(x.Device, x.retype)
		if x.far {
			out = append(out, clearField(x.Device, "place"))
		}
		return append(out, edit.Stand{Device: x.Device, At: x.At, Turn: x.Turn})
	case AddSensor:
		if like := likeSensor(p, d, x.Type); like != nil {
			out := []edit.Edit{edit.Duplicate{Part: "devices", ID: like.ID, New: id}}
			out = append(out, x.typed(id, like.Type != x.Type)...)
			return append(out, clearField(id, "place"), edit.Stand{Device: id, At: x.At, Turn: x.Turn})
		}
		out := []edit.Edit{edit.AddDevice{ID: id, Type: x.Type}, edit.Stand{Device: id, At: x.At, Turn: x.Turn}}
		for i := range d.Loads {
			if l := &d.Loads[i]; l.Kind == domain.Lighting {
				out = append(out, edit.SetField{Path: "links/" + string(domain.LinkID(id, 0, "", l.ID)), Text: "ACT"})
			}
		}
		return out
	}
	return nil
}

// typed changes the type, and with it where and how high it is mounted.
func (x SensorStep) typed(id domain.ID, change bool) []edit.Edit {
	if !change {
		return nil
	}
	return []edit.Edit{edit.SetField{Path: "devices/" + string(id) + "/type", Text: x.Type}, clearField(id, "height_m"), clearField(id, "mounting")}
}

func clearField(id domain.ID, name string) edit.Edit {
	return edit.SetField{Path: "devices/" + string(id) + "/" + name}
}

// likeSensor gives a presence sensor of the room that a new one may copy, of its
// type first.
func likeSensor(p *domain.Project, d *domain.Design, typ string) *domain.Device {
	var like *domain.Device
	for i := range d.Devices {
		x := &d.Devices[i]
		if t := p.Book.Find(x.Type); t == nil || !t.Kind.Traits().Presence {
			continue
		}
		if x.Type == typ {
			return x
		}
		if like == nil {
			like = x
		}
	}
	return like
}

// Edits gives what carries the whole plan out; ids gives IDs of new sensors.
func (s *SensorPlan) Edits(p *domain.Project, d *domain.Design, ids func(n int) domain.ID) []edit.Edit {
	var out []edit.Edit
	n := 0
	for _, act := range []SensorAct{MoveSensor, AddSensor, RemoveSensor} { // new ones copy before old ones go
		for i := range s.Steps {
			if s.Steps[i].Act != act {
				continue
			}
			id := domain.ID("")
			if act == AddSensor {
				id, n = ids(n), n+1
			}
			out = append(out, s.Steps[i].Edits(p, d, id)...)
		}
	}
	return out
}
