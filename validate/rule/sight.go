package rule

import "scopewright/domain/coverage"

// sight is what the room's presence sensors see; a nil room: not reckoned.
type sight struct{ room *coverage.Room }

// Sight gives what the room's presence sensors see. It is nil where that is not
// reckoned: the outline is not sound or not drawn, the plan shows no wall around
// it, so that nobody can say what stands in the way, or no presence sensor is on
// the plan. It is shared: do not change it.
func (f *Facts) Sight() *coverage.Room {
	if f.sight == nil {
		f.sight = &sight{}
		if f.Room.Plan != nil && f.placedSensor() && f.Drawn() {
			f.sight.room = coverage.NewRoom(f.Project, f.Room)
		}
	}
	return f.sight.room
}

func (f *Facts) placedSensor() bool {
	for i := range f.Devices {
		if d := &f.Devices[i]; d.Traits.Presence && d.Device.At != nil {
			return true
		}
	}
	return false
}

// Sensors names presence sensors of the room in a finding, those of a mind.
func (f *Facts) Sensors(want func(*Device) bool) []Subject {
	var out []Subject
	for i := range f.Devices {
		if d := &f.Devices[i]; d.Traits.Presence && want(d) {
			out = append(out, d.Subject())
		}
	}
	return out
}

// PresenceSensors names all presence sensors of the room.
func (f *Facts) PresenceSensors() []Subject {
	return f.Sensors(func(*Device) bool { return true })
}

// AtLeast gives a finding about a number under its limit.
func AtLeast(measured, limit float64, unit string) Finding {
	return Finding{Numbers: true, Measured: measured, Limit: limit, Margin: measured - limit, Unit: unit}
}
