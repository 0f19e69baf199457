package daylight

import (
	"math"
	"time"

	"scopewright/domain/sun"
	"scopewright/domain/units"
)

// Hours are the times of a year at which a room is asked: on some weekdays, at the
// minutes of the day given. A nil Days is Monday to Friday.
type Hours struct {
	Days  []time.Weekday
	Times []int // minutes after midnight, of the place's own clock
}

// OfficeHours gives 08:30, 09:30 ... 17:30 from Monday to Friday: each stands for
// the hour around it.
func OfficeHours() Hours {
	h := Hours{}
	for hour := 8; hour <= 17; hour++ {
		h.Times = append(h.Times, hour*60+30)
	}
	return h
}

// Site is where on earth a building stands and whose clock it keeps.
type Site struct {
	Latitude, Longitude float64 // degrees, north and east above 0
	Zone                *time.Location
}

// Sample is one time of a year.
type Sample struct {
	Day               int // of the year, from 1
	Altitude, Azimuth float64
}

// Year is a year of samples at one site, made once for all of its rooms.
type Year struct {
	Samples []Sample
	Dark    int // of them with the sun down
}

// NewYear finds where the sun stands at the hours of a year. Altitudes are
// geometric.
func NewYear(site Site, year int, h Hours) Year {
	var y Year
	zone := site.Zone
	if zone == nil {
		zone = time.UTC
	}
	for day := time.Date(year, 1, 1, 0, 0, 0, 0, zone); day.Year() == year; day = day.AddDate(0, 0, 1) {
		if !h.on(day.Weekday()) {
			continue
		}
		for _, m := range h.Times {
			at := sun.At(time.Date(year, day.Month(), day.Day(), 0, m, 0, 0, zone), site.Latitude, site.Longitude)
			y.Samples = append(y.Samples, Sample{day.YearDay(), at.Elevation, at.Azimuth})
			if at.Elevation <= 0 {
				y.Dark++
			}
		}
	}
	return y
}

func (h *Hours) on(d time.Weekday) bool {
	if h.Days == nil {
		return d != time.Saturday && d != time.Sunday
	}
	for _, x := range h.Days {
		if x == d {
			return true
		}
	}
	return false
}

// SkyOf gives the sky of a day of the year.
type SkyOf func(day int) Sky

// Always gives the same sky every day.
func Always(s Sky) SkyOf { return func(int) Sky { return s } }

// Mixed gives an overcast sky on a share of the days, 0 to 1, spread evenly, and a
// clear one on the others: one half is overcast on the odd days.
func Mixed(overcast float64) SkyOf {
	return func(day int) Sky {
		if math.Ceil(float64(day)*overcast-1e-9) != math.Ceil(float64(day-1)*overcast-1e-9) {
			return Overcast
		}
		return Clear
	}
}

// Outdoors is the light outdoors at each sample of a year: the sky's on a level
// plane, and, for a facade, how much more of it falls on the glass under a clear
// sky than the overcast sky's share would.
type Outdoors struct {
	lx []float64
}

// Level gives the sky's illuminance at each sample, SkyIlluminance; daylight
// through a window is then the daylight factor times it, whichever way the window
// faces. The sun itself is not in it: blinds keep it off the task.
func (y *Year) Level(of SkyOf) Outdoors { return y.outdoors(of, nil) }

// Facade gives the same for a window that faces an azimuth, degrees clockwise from
// north. On clear days the sky's light is taken times the share that falls on an
// upright plane that way, ClearVertical, over that of the overcast sky for which
// daylight factors are reckoned. That carries a facade's light to the room as the
// overcast sky's is: rough, and too much deep in the room when the sky is brightest
// low by the sun.
func (y *Year) Facade(of SkyOf, facing float64) Outdoors { return y.outdoors(of, &facing) }

func (y *Year) outdoors(of SkyOf, facing *float64) Outdoors {
	o := Outdoors{make([]float64, len(y.Samples))}
	for i, s := range y.Samples {
		if s.Altitude <= 0 {
			continue
		}
		sky := of(s.Day)
		o.lx[i] = float64(SkyIlluminance(sky, s.Altitude))
		if facing != nil && sky == Clear {
			o.lx[i] *= facadeFactor(s.Altitude, s.Azimuth-*facing)
		}
	}
	return o
}

// Need is what a zone wants and has.
type Need struct {
	Factor    float64   // daylight factor at the task, percent
	Set, Full units.Lux // target, and what the lamps give at full; Full 0: the target
	Lamps     Dimming
}

// Saved is what daylight does for a zone over the samples of a year.
type Saved struct {
	Light  float64 // mean share of full light that the lamps still give
	Power  float64 // mean share of full power that they still take
	Enough float64 // share of samples at which daylight alone gives the target
}

// Saved sums up a year: for each sample WantedLight by daylight = factor x outdoors,
// and what the lamps make of it. Nights among the samples count as they are. Real
// savings are lower: blinds, skies between the classes, settings.
func (o Outdoors) Saved(n *Need) (s Saved) {
	full := n.Full
	if full <= 0 {
		full = n.Set
	}
	if len(o.lx) == 0 || full <= 0 {
		return Saved{Light: 1, Power: 1}
	}
	for _, e := range o.lx {
		day := units.Lux(e * n.Factor / 100)
		wanted := WantedLight(n.Set, day, full)
		s.Light += n.Lamps.Light(wanted)
		s.Power += n.Lamps.Power(wanted)
		if day >= n.Set {
			s.Enough++
		}
	}
	count := float64(len(o.lx))
	return Saved{s.Light / count, s.Power / count, s.Enough / count}
}
