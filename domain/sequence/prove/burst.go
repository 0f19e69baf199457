package prove

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/radio"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// bursts plays a plausible burst: all presence sensors of the room say vacant at
// once, while a presenter steps through the buttons of every station, one a second.
// It counts the messages to the whole room that the interpreter sends, and asks
// which of them find no place on the air. Devices that send to their linked loads
// one by one send none.
func bursts(p *sequence.Program) []Found {
	f := found(Burst)
	for d := range p.Design.Devices {
		dev := &p.Design.Devices[d]
		t := p.Project.Book.Find(dev.Type)
		if t == nil || dev.Sending != domain.ToRoom && dev.Sending != domain.ToGroup {
			continue
		}
		if t.Kind.Traits().Presence {
			f.Steps = append(f.Steps, domain.ScenarioStep{Happen: domain.Vacant, Device: dev.ID})
		}
		for n, at := 1, units.Seconds(0); n <= t.Buttons && !t.Kind.Traits().OwnOnly; n++ {
			if press, hold := p.Acts(d, n); press || hold {
				f.Steps = append(f.Steps, domain.ScenarioStep{Happen: domain.Pressed, Device: dev.ID, Button: n, At: at})
				at++
			}
		}
	}
	slices.SortStableFunc(f.Steps, func(a, b domain.ScenarioStep) int { return int(a.At - b.At) })
	f.count(p)
	if f.Lost == 0 {
		return nil
	}
	return []Found{f}
}

// count plays the burst and reckons with its worst window.
func (f *Found) count(p *sequence.Program) {
	limits := p.Project.Limits
	most, window := int(limits.Value(domain.BroadcastsPerWindow)), int(limits.Value(domain.BroadcastWindow)*1000)
	s := p.NewState()
	var times []int
	for i := range f.Steps {
		st := &f.Steps[i]
		st.ID, st.Seq = domain.ID(fmt.Sprintf("s%d", i+1)), i+1
		e, err := p.EventOf(st)
		if err != nil {
			continue
		}
		before := s.Messages()
		s.Do(e)
		for range s.Messages() - before {
			times = append(times, int(e.At))
		}
		if s.Messages() > before && !slices.Contains(f.Devices, e.Device) {
			f.Devices = append(f.Devices, e.Device)
		}
	}
	slices.Sort(f.Devices)
	refused := radio.Refused(times, most, window)
	f.Lost = len(refused)
	for _, i := range refused {
		n := 0
		for _, t := range times {
			if t <= times[i] && t > times[i]-window {
				n++
			}
		}
		f.Sent = max(f.Sent, n)
	}
}
