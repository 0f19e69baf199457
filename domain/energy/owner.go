package energy

import "math"

// HoursWithSensor gives the hours that lamps burn under an occupancy sensor:
// the occupied hours and, for each absence in hours, the delay or the absence, whichever
// is shorter. An absence shorter than the delay saves nothing.
func HoursWithSensor(occupied, delay float64, absences []float64) float64 {
	for _, a := range absences {
		occupied += math.Min(delay, a)
	}
	return occupied
}

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

// Money is what the user says energy costs and emits. Nothing is assumed:
// tariffs and factors differ by place and year.
type Money struct {
	PerKWh float64 // in the user's currency
	KgCO2  float64 // per kWh
	Extra  float64 // price of the controls over that of the baseline's
}

// Payback gives the years until a yearly saving in kWh has paid for the controls
// and whether it ever does.
func (m Money) Payback(kWh float64) (years float64, pays bool) {
	each := kWh * m.PerKWh
	if each <= 0 {
		return 0, false
	}
	return m.Extra / each, true
}
