package daylight

import (
	"fmt"
	"math"
	"time"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// PredictedYear is the year whose days predictions are made for; years differ by
// where their weekends lie.
const PredictedYear = 2025

// UseHours spreads a year's hours of use over its days: Monday to Friday, or every
// day where that would be more than 16 hours each, about 13:00, one sample an hour
// in its middle. It goes from one hour to 24 a day. That days lie about 13:00 is
// common practice, no published source.
func UseHours(perYear float64) Hours {
	const weekdays, days, noon = 261, 365, 13 * 60
	h := Hours{}
	each := perYear / weekdays
	if each > 16 {
		each = perYear / days
		h.Days = []time.Weekday{time.Sunday, time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday, time.Saturday}
	}
	n := int(max(1, min(24, math.Round(each))))
	first := max(0, min(24*60-60*n, noon-30*n))
	for i := range n {
		h.Times = append(h.Times, first+60*i+30)
	}
	return h
}

// YearOf gives the sun over a project's site, SiteOf, at some hours of PredictedYear.
func YearOf(p *domain.Project, h Hours) (Year, error) {
	site, err := SiteOf(p)
	if err != nil {
		return Year{}, err
	}
	return NewYear(site, PredictedYear, h), nil
}

// SiteOf gives a project's place and its clock; without a time zone the one that the
// longitude is in, without summer time. It says what the project lacks where it does
// not state its place.
func SiteOf(p *domain.Project) (Site, error) {
	if !p.Placed() {
		return Site{}, fmt.Errorf("the project states no latitude and longitude: enter them with the project's facts")
	}
	site := Site{Latitude: *p.Latitude, Longitude: *p.Longitude, Zone: nearestZone(*p.Longitude)}
	if p.Zone != "" {
		zone, err := time.LoadLocation(p.Zone)
		if err != nil {
			return Site{}, fmt.Errorf("the project's time zone %q is not known: write it like America/Chicago", p.Zone)
		}
		site.Zone = zone
	}
	return site, nil
}

// nearestZone is the whole hour that a longitude is in, 15 degrees each.
func nearestZone(longitude float64) *time.Location {
	return time.FixedZone("", int(math.Round(longitude/15))*3600)
}

// Prediction is what daylight does for one load in a year.
type Prediction struct {
	Load   *domain.Load
	Intent *domain.Intent // that trims it by daylight; nil: none, and the rest is what one with the usual numbers would do
	Sensed bool           // a daylight sensor acts on it
	Facing []Facade       // that light its luminaires
	Under  Spread         // daylight factors at its luminaires, in the work plane
	Set    units.Lux      // the target, which its lamps are taken to give at full
	Lamps  Dimming

	Overcast, Clear, Mixed Saved // by the skies of the year: every day the one, and days shared between them
}

// Follows tells that the load follows daylight: an intent says how, and a sensor
// reports it.
func (p *Prediction) Follows() bool { return p.Intent != nil && p.Sensed }

// Predict tells for each lighting load with luminaires on the plan what daylight
// reaches them and what it saves in a year: the mean daylight factor under them,
// WantedLight by the daylight there at each sample, and what Dimming makes of it.
// The target is that of the load's daylight intent, else usual. The mixed year has
// the limit OvercastDays of overcast days. Under skies without a sample (a nil year)
// nothing is saved. Luminaires' own light and its losses are not known: at full they
// are taken to give the target. Blinds, people's hands and dirt beyond the limits'
// are not in it, so that real savings are lower.
func Predict(p *domain.Project, r *domain.Resolved, l *Light, y *Year, usual units.Lux) []Prediction {
	if y == nil {
		y = &Year{}
	}
	overcast, clear := y.In(l, Always(Overcast)), y.In(l, Always(Clear))
	mixed := y.In(l, Mixed(share(p, domain.OvercastDays)))
	facades := l.space.Facades()
	var out []Prediction
	for i := range r.Design.Loads {
		load := &r.Design.Loads[i]
		under := l.Under(load.ID)
		if load.Kind != domain.Lighting || under.Points == 0 {
			continue
		}
		x := Prediction{Load: load, Intent: IntentOf(&r.Design, load), Sensed: sensed(p, &r.Design, load.ID), Under: under, Set: usual}
		if x.Intent != nil && x.Intent.Target > 0 {
			x.Set = x.Intent.Target
		}
		for _, f := range l.Governs(facades, load.ID) {
			x.Facing = append(x.Facing, facades[f])
		}
		x.Lamps = LampsOf(p, load, x.Intent)
		need := Need{Factor: 100, Set: x.Set, Lamps: x.Lamps}
		for _, sky := range []struct {
			in *Indoors
			to *Saved
		}{{overcast, &x.Overcast}, {clear, &x.Clear}, {mixed, &x.Mixed}} {
			light, _ := sky.in.Under(load.ID)
			*sky.to = light.Saved(&need)
		}
		out = append(out, x)
	}
	return out
}

// LampsOf gives how a load's lamps follow daylight by an intent, nil: by one with
// the usual numbers. They dim to its lowest level, or to the lowest that the
// luminaire states where that is higher; at it they take the power of the limit
// DimmedPower, and not less than its share of light. Loads that are only switched go
// off where daylight is enough, if they may, and else stay on.
func LampsOf(p *domain.Project, load *domain.Load, in *domain.Intent) (d Dimming) {
	if in == nil {
		usual := domain.NewIntent("", domain.ByDaylight)
		in = &usual
	}
	d.Off = in.MayOff
	d.Standby = standby(p, load)
	if load.Dimming == "" || load.Dimming == equipment.Switched {
		if in.MayOff {
			d.Steps = 1
		} else {
			d.LeastLight, d.LeastPower = 1, 1
		}
		return d
	}
	lowest := in.Lowest
	if lum := p.Luminaire(load.Luminaire); lum != nil {
		lowest = max(lowest, lum.DimsTo)
	}
	d.LeastLight = max(0, min(1, float64(lowest)/100))
	d.LeastPower = max(d.LeastLight, share(p, domain.DimmedPower))
	return d
}

// standby is the share of a load's watts that its drivers keep while the lamps are
// off.
func standby(p *domain.Project, load *domain.Load) float64 {
	watts, _, _ := load.Power(p)
	lum := p.Luminaire(load.Luminaire)
	if watts <= 0 || lum == nil {
		return 0
	}
	each := p.Limits.Value(domain.StandbyDriver) * float64(load.Count*lum.DriverCount())
	return min(1, each/float64(watts))
}

// IntentOf gives the intent that trims a load by daylight: the first, as the sequence
// takes it; nil where there is none.
func IntentOf(d *domain.Design, load *domain.Load) *domain.Intent {
	for i := range d.Intents {
		if in := &d.Intents[i]; in.Kind == domain.ByDaylight && in.ActsOn(load) {
			return in
		}
	}
	return nil
}

// sensed tells that a daylight sensor acts on a load.
func sensed(p *domain.Project, d *domain.Design, load domain.ID) bool {
	for i := range d.Links {
		k := &d.Links[i]
		if k.Load != load || k.Do.Verb != domain.Acts {
			continue
		}
		if dev := d.Device(k.Device); dev != nil {
			if t := p.Book.Find(dev.Type); t != nil && t.Kind.Traits().Daylight {
				return true
			}
		}
	}
	return false
}
