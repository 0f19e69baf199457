package energy

import (
	"scopewright/domain"
	"scopewright/domain/sequence"
)

func (r *player) sense(kind domain.Happening) {
	for _, i := range r.presence {
		r.s.Do(sequence.Event{At: r.s.Now(), Kind: kind, Device: i})
	}
}

func (r *player) read(light Reading) {
	for _, i := range r.daylight {
		if light.Sensor == "" || light.Sensor == r.d.Devices[i].ID {
			r.s.Do(sequence.Event{At: r.s.Now(), Kind: domain.DaylightRead, Device: i, Lux: light.Lx})
		}
	}
}

// sensed tells that something turns the light off when people go.
func (r *player) sensed() bool {
	for i := range r.d.Intents {
		if in := &r.d.Intents[i]; in.Kind == domain.ByPresence {
			return true
		}
	}
	return false
}

// lit tells that people have switched the light on or a sensor has: what daylight
// then takes of it makes nobody press.
func (r *player) lit() bool {
	for l := range r.d.Loads {
		if r.d.Loads[l].Kind == domain.Lighting && !r.d.Loads[l].Egress && r.s.Undimmed(l, r.s.Now()) > 0 {
			return true
		}
	}
	return false
}

// press presses the buttons that light the room's general lighting, or that darken
// the room: the one that does most first, then what else helps, each once.
func (r *player) press(on bool) {
	pressed := map[[2]int]bool{}
	for {
		var best [2]int
		most := 0
		for i := range r.d.Devices {
			for button := 1; button <= r.buttons[i]; button++ {
				if n := r.helps(r.d.Devices[i].ID, button, on); n > most && !pressed[[2]int{i, button}] {
					best, most = [2]int{i, button}, n
				}
			}
		}
		if most == 0 {
			return
		}
		pressed[best] = true
		r.s.Do(sequence.Event{At: r.s.Now(), Kind: domain.Pressed, Device: best[0], Button: best[1]})
	}
}

// helps counts the loads that a press of the button lights of those that are dark,
// or darkens of those that burn; 0 for one that also lights where darkness is wanted.
func (r *player) helps(dev domain.ID, button int, on bool) (n int) {
	for i := range r.d.Links {
		k := &r.d.Links[i]
		if k.Button != button || k.Device != dev || k.On != domain.Press || k.Do.Verb == domain.Nothing {
			continue
		}
		l := r.loads[i]
		if l < 0 {
			continue
		}
		general, burns := r.d.Loads[l].Layer == domain.General || r.d.Loads[l].Layer == "", r.s.Load(l).Requested > 0
		switch {
		case !on && !k.Do.TurnsOff(r.d, k.Load):
			return 0
		case on && general && !burns && k.Do.TurnsOn(r.d, k.Load), !on && burns:
			n++
		}
	}
	return n
}
