package energy

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/units"
)

// HoursWithSensor gives the hours that lamps burn under an occupancy sensor:
// the occupied hours and, for each absence in hours, the delay or the absence, whichever
// is shorter. An absence shorter than the delay saves nothing.
func HoursWithSensor(occupied, delay float64, absences []float64) float64 {
	for _, a := range absences {
		occupied += math.Min(delay, a)
	}
	return occupied
}

// StandbyKWh gives what a power that is kept while the lamps are off uses in a
// year of which they burn for some hours: W (8760 - h)/1000.
func StandbyKWh(w units.Watts, lit float64) float64 { return float64(w) * (HoursPerYear - lit) / 1000 }

// Together gives the share that several strategies save at most: factors
// multiply, they never add. Each saves its share of what the others leave,
// 0 to 1.
func Together(shares ...float64) float64 {
	left := 1.0
	for _, s := range shares {
		left *= 1 - s
	}
	return 1 - left
}

// Habit is how often light that people switch by hand is left on.
type Habit struct {
	Evenings float64 // share of the evenings after a day of use, 0 to 1: until the next morning
	Weekend  float64 // share of the weekend days, 0 to 1: all day
}

// HabitOf gives that of a project's limits.
func HabitOf(p *domain.Project) Habit {
	return Habit{p.Limits.Value(domain.LeftOn) / 100, p.Limits.Value(domain.LeftOnDays) / 100}
}

// LeftOn gives what light that is left on uses in a year, kWh: over a profile's days
// of use, W (24 - open hours) days evenings/1000, and on the 104 days of weekends, for
// rooms that have them, W 24 x 104 weekend/1000.
func (h Habit) LeftOn(w units.Watts, p Profile) float64 {
	days, _, open := p.opening()
	if days == 7 {
		return float64(w) * h.Evenings * (24 - open) * everyDay / 1000
	}
	return float64(w) * (h.Evenings*(24-open)*workdays + h.Weekend*24*(everyDay-workdays)) / 1000
}

// Published is an average share that studies found saved.
type Published struct {
	Strategy string
	Share    float64
}

// PublishedSource names where the averages come from.
const PublishedSource = "Williams, Atkinson, Garbesi, Page and Rubinstein, Leukos, January 2012: 240 estimates in 88 papers; simulations overstate daylight savings by at least 10 %"

// PublishedAverages are averages over very mixed baselines: a sanity band, never
// a room's result.
func PublishedAverages() []Published {
	return []Published{
		{"occupancy (sensors, schedules)", 0.24}, {"daylighting", 0.28}, {"personal tuning", 0.31},
		{"institutional tuning", 0.36}, {"several together", 0.38},
	}
}

// UpperTogether is what occupancy and daylighting would save together at most, by
// their published averages: 45.28 %. Studies of several strategies found less.
func UpperTogether() float64 { return Together(0.24, 0.28) }

// Money is what the owner says energy costs and emits. Nothing is assumed:
// tariffs and factors differ by place and year.
type Money struct {
	Currency                 string
	Tariff, Carbon, Controls domain.Rate
}

// MoneyOf gives a project's.
func MoneyOf(p *domain.Project) Money {
	return Money{p.Currency, p.Rate(domain.RateTariff), p.Rate(domain.RateCarbon), p.Rate(domain.RateControls)}
}

// Cost gives what kWh cost, in the project's currency; stated is false without a
// tariff.
func (m Money) Cost(kWh float64) (amount float64, stated bool) {
	return kWh * m.Tariff.Value, m.Tariff.Value > 0
}

// Emitted gives the kg of carbon dioxide of kWh; stated is false without a factor.
func (m Money) Emitted(kWh float64) (kg float64, stated bool) {
	return kWh * m.Carbon.Value, m.Carbon.Value > 0
}

// Payback gives the years until a yearly saving in kWh has paid for the controls,
// without interest, and whether it ever does; false too where tariff or cost are not
// stated.
func (m Money) Payback(kWh float64) (years float64, pays bool) {
	each, _ := m.Cost(kWh)
	if each <= 0 || m.Controls.Value <= 0 {
		return 0, false
	}
	return m.Controls.Value / each, true
}
