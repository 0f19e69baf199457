package daylight

import (
	"fmt"
	"slices"
	"time"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/sun"
	"scopewright/domain/units"
)

// Day is what a room's daylight sensors read through one day, as if at the task.
type Day struct {
	Sky     Sky
	Hours   []DayHour
	Sensors []DaySensor
}

// DayHour is one full hour of a day.
type DayHour struct {
	At                time.Time
	Altitude, Azimuth float64   // of the sun, degrees
	Sky               units.Lux // outdoors on a level plane, of the sky alone
}

// DaySensor is what one sensor reads.
type DaySensor struct {
	ID      domain.ID
	Loads   []domain.ID // with luminaires on the plan, that it acts on
	Factor  float64     // mean daylight factor under their luminaires, percent
	Own     float64     // of an open loop: at its own point; 0: not placed
	Reading []units.Lux // at each hour
}

// NewDay reckons a day's readings at full hours, from the one before sunrise to the one
// after sunset, or around the clock where the sun does not set. A closed loop reads the
// mean daylight under the luminaires of its loads, in the work plane. An open loop reads
// that at its own point, carried to the task as its calibration does: times the daylight
// factor there over that at its own point. Outdoors is Facade's of the day; the sun
// itself is not in it. Real skies are half or double of that. Sensors that are not on
// the plan and have no luminaires there are left out.
func NewDay(p *domain.Project, r *domain.Resolved, l *Light, date time.Time, sky Sky) (*Day, error) {
	site, err := SiteOf(p)
	if err != nil {
		return nil, err
	}
	d := &Day{Sky: sky, Hours: hoursOf(site, date, sky)}
	if len(d.Hours) == 0 {
		return nil, fmt.Errorf("the sun does not rise there on %s: choose another day", date.Format("2006-01-02"))
	}
	y := &Year{}
	for i := range d.Hours {
		h := &d.Hours[i]
		y.Samples = append(y.Samples, Sample{h.At.YearDay(), h.Altitude, h.Azimuth})
	}
	in := y.In(l, Always(sky))
	for i := range r.Design.Devices {
		dev := &r.Design.Devices[i]
		if t := p.Book.Find(dev.Type); t == nil || !t.Kind.Traits().Daylight {
			continue
		}
		if s, known := in.sensor(r, dev); known {
			d.Sensors = append(d.Sensors, s)
		}
	}
	return d, nil
}

// hoursOf gives the full hours of a date about those with the sun up.
func hoursOf(site Site, date time.Time, sky Sky) (out []DayHour) {
	first, last := -1, -1
	var all []DayHour
	for h := range 24 {
		at := time.Date(date.Year(), date.Month(), date.Day(), h, 0, 0, 0, site.Zone)
		s := sun.At(at, site.Latitude, site.Longitude)
		all = append(all, DayHour{at, s.Elevation, s.Azimuth, SkyIlluminance(sky, s.Elevation)})
		if s.Elevation > 0 {
			if last = h; first < 0 {
				first = h
			}
		}
	}
	if first < 0 {
		return nil
	}
	return all[max(0, first-1):min(24, last+2)]
}

// sensor reckons one sensor; known is false where the plan shows neither it nor what it
// acts on.
func (in *Indoors) sensor(r *domain.Resolved, dev *domain.Device) (s DaySensor, known bool) {
	s.ID = dev.ID
	var hang []geom.Point
	for i := range in.light.space.Luminaires {
		x := &in.light.space.Luminaires[i]
		if k := r.Design.Link(domain.Input{Device: dev.ID}, x.Load); k == nil || k.Do.Verb != domain.Acts {
			continue
		}
		hang = append(hang, x.At)
		if !slices.Contains(s.Loads, x.Load) {
			s.Loads = append(s.Loads, x.Load)
		}
	}
	placed := dev.At != nil && dev.At.Finite()
	switch {
	case len(hang) == 0 && !placed:
		return s, false
	case len(hang) == 0:
		hang = []geom.Point{*dev.At}
	}
	for _, p := range hang {
		s.Factor += in.light.At(p).Total() / float64(len(hang))
	}
	points, carried := hang, 1.0
	if dev.Loop != domain.ClosedLoop && placed {
		if s.Own = in.light.At(*dev.At).Total(); s.Own > 0 {
			points, carried = []geom.Point{*dev.At}, s.Factor/s.Own
		}
	}
	for _, e := range in.mean(points).lx {
		s.Reading = append(s.Reading, units.Lux(e*carried))
	}
	return s, true
}
