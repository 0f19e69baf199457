package rule

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energycode"
	"scopewright/domain/geom"
)

// Daylight is the room as daylight sees it, with its daylight sensors on the plan. It
// is shared: do not change it.
type Daylight struct {
	Space   *daylight.Space
	Light   *daylight.Light
	Sensors []DaylightSensor
	Rules   daylight.ZoneCode // by which its zones are drawn
}

// DaylightSensor is a daylight sensor at its place, with what is wrong with it.
type DaylightSensor struct {
	daylight.Sensor
	Device *Device
	Loads  []domain.ID // lighting that it acts on
	Faults []daylight.Fault
}

// daylit keeps what Facts.Daylight found; a nil room: not reckoned.
type daylit struct{ room *Daylight }

// Daylight gives the room as daylight sees it. It is nil where that is not reckoned:
// the outline is not sound or not drawn, the plan shows no window along it, or the
// ceiling is not above the work plane.
func (f *Facts) Daylight() *Daylight {
	if f.daylight == nil {
		f.daylight = &daylit{}
		if f.WindowsAround() && f.Drawn() {
			f.daylight.room = f.newDaylight()
		}
	}
	return f.daylight.room
}

// WindowsAround tells that the plan shows a window to the outside, of the room or
// near it.
func (f *Facts) WindowsAround() bool {
	if f.Room.Plan == nil {
		return false
	}
	for i := range f.Room.Plan.Walls {
		openings := f.Room.Plan.Walls[i].Openings
		for j := range openings {
			if openings[j].Kind == domain.Window && !openings[j].Indoors {
				return true
			}
		}
	}
	return false
}

func (f *Facts) newDaylight() *Daylight {
	space := daylight.NewSpace(f.Project, f.Room, daylight.AssumedOf(f.Project))
	if space == nil || len(space.Windows) == 0 {
		return nil
	}
	light, err := daylight.NewLight(space, daylight.InteriorOf(f.Project))
	if err != nil {
		return nil // a room that states such a ceiling has no daylight to judge
	}
	out := &Daylight{Space: space, Light: light, Rules: energycode.ZoneCodeOf(f.Project)}
	seats, limits := make([]geom.Point, len(f.Room.Sitting)), daylight.PlaceLimitsOf(f.Project)
	for i := range f.Room.Sitting {
		seats[i] = f.Room.Sitting[i].At
	}
	for _, s := range daylight.Sensors(f.Project, f.Room) {
		one := DaylightSensor{Sensor: s, Device: f.Device(s.ID), Loads: f.readBy(s.ID)}
		one.Faults = light.JudgeSensor(&one.Sensor, seats, one.Loads, &limits)
		out.Sensors = append(out.Sensors, one)
	}
	return out
}

// readBy gives the lighting that a daylight sensor acts on.
func (f *Facts) readBy(sensor domain.ID) (out []domain.ID) {
	for i := range f.Links {
		if k := &f.Links[i]; k.Device == sensor && k.Reads() && k.To.Kind == domain.Lighting {
			out = append(out, k.To.ID)
		}
	}
	return out
}

// Fault gives the sensor's first fault of some kinds, nil where it has none.
func (s *DaylightSensor) Fault(kinds ...daylight.PlaceFault) *daylight.Fault {
	for i := range s.Faults {
		if slices.Contains(kinds, s.Faults[i].Kind) {
			return &s.Faults[i]
		}
	}
	return nil
}
