package sequence

import (
	"fmt"
	"strings"

	"scopewright/domain"
)

// Event is something that happens to the room.
type Event struct {
	At     Time
	Kind   domain.Happening
	Device int // index in the design's devices; -1: none
	Button int // or the number of a contact's input
	Lux    float64
	Text   string // AV command
	Mode   domain.Mode
}

// EventOf reads a scenario's step. A device that is gone, or that cannot do what
// the step says, is an error.
func (p *Program) EventOf(st *domain.ScenarioStep) (Event, error) {
	e := Event{At: seconds(st.At), Kind: st.Happen, Device: -1, Button: st.Button, Lux: float64(st.Lux), Text: st.Text}
	if st.Happen.OfDevice() {
		if e.Device = p.Design.DeviceIndex(st.Device); e.Device < 0 {
			return e, fmt.Errorf("the step names no device of the room: choose the input again")
		}
		if err := p.fits(&e); err != nil {
			return e, err
		}
	}
	if st.Happen == domain.AVCommand && st.Device != "" {
		e.Device = p.Design.DeviceIndex(st.Device)
	}
	if st.Happen == domain.ModeChanged {
		e.Mode = domain.Mode(strings.ToLower(strings.TrimSpace(st.Text)))
		known := false
		for _, m := range domain.Modes() {
			known = known || m == e.Mode
		}
		if !known {
			return e, fmt.Errorf("%q is no mode: use normal, after hours, cleaning or event", st.Text)
		}
	}
	return e, nil
}

func (p *Program) fits(e *Event) error {
	d, tag := &p.devices[e.Device], p.Design.Devices[e.Device].Tag
	switch e.Kind {
	case domain.Pressed, domain.HoldStarted, domain.HoldEnded:
		if e.Button < 1 || e.Button > d.buttonsOf {
			return fmt.Errorf("%s has no button %d", tag, e.Button)
		}
	case domain.Occupied, domain.Vacant:
		if !d.senses {
			return fmt.Errorf("%s does not report people", tag)
		}
	case domain.DaylightRead:
		if !d.daylight {
			return fmt.Errorf("%s does not read daylight", tag)
		}
	}
	return nil
}

// Do lets an event happen. Timers that end before it act first; those that end
// just then act when time goes on, so that people who come at the last instant
// keep the light. An event that the design has no place for does nothing.
func (s *State) Do(e Event) {
	s.advanceBefore(e.At)
	s.cause = Cause{At: s.now, Happen: e.Kind, Device: e.Device, Button: e.Button, Intent: -1, Lux: e.Lux}
	if e.Kind.OfDevice() && (e.Device < 0 || e.Device >= len(s.p.devices)) {
		return
	}
	if s.dark && e.Kind != domain.PowerRestored && e.Kind.OfDevice() {
		s.whileDark(e)
		return
	}
	switch e.Kind {
	case domain.Pressed:
		s.press(e.Device, e.Button)
	case domain.HoldStarted:
		s.hold(e.Device, e.Button)
	case domain.HoldEnded:
		s.release(e.Device, e.Button)
	case domain.Occupied, domain.Vacant, domain.SensorSilent:
		s.report(e.Device, e.Kind)
	case domain.DaylightRead:
		s.reads(e.Device, e.Lux)
	case domain.ContactClosed, domain.ContactOpened:
		s.contact(e.Device, e.Button, e.Kind == domain.ContactClosed)
	case domain.AVCommand:
		if e.Device >= len(s.p.devices) {
			e.Device = -1
		}
		s.av(e.Device, e.Text)
	case domain.DemandStarted, domain.DemandEnded:
		s.demandResponse(e.Kind == domain.DemandStarted)
	case domain.PowerLost:
		s.powerLost()
	case domain.PowerRestored:
		s.powerBack()
	case domain.NetworkLost:
		s.networkLost()
	case domain.NetworkRestored:
		s.networkBack()
	case domain.EmergencyBegan, domain.EmergencyEnded:
		s.emergencySignal(e.Kind == domain.EmergencyBegan)
	case domain.ModeChanged:
		s.setMode(e.Mode)
	case domain.PartitionOpens:
		s.setPartition(domain.PartitionOpen)
	case domain.PartitionCloses:
		s.setPartition(domain.PartitionClosed)
	}
}

// whileDark notes what sensors and contacts say while the room has no power, for
// when it is back. Presses are lost.
func (s *State) whileDark(e Event) {
	switch e.Kind {
	case domain.Occupied, domain.Vacant:
		s.sensors[e.Device] = sensorState{occupied: e.Kind == domain.Occupied}
		s.disarm(s.watchSlot(e.Device))
	case domain.SensorSilent:
		s.sensors[e.Device].quiet = true
	}
}
