package daylight

import (
	"math"

	"scopewright/domain/units"
)

// Dimming is how a zone's lamps follow a wanted light level: shares of full light
// and of full power.
type Dimming struct {
	LeastLight float64 // fLmin: lowest light that they are dimmed to
	LeastPower float64 // fPmin: their power there
	Off        bool    // below it they go out, instead of staying at it
	Steps      int     // switched in so many equal steps; 0: continuous
	Standby    float64 // power with the lamps off but fed
}

// WantedLight gives which share of a zone's full light is still wanted:
// fL = (Eset - Eday)/Efull, 0 to 1. Efull is what its lamps give at full. Source:
// EnergyPlus Engineering Reference, which takes Efull = Eset.
func WantedLight(set, day, full units.Lux) float64 {
	if full <= 0 {
		return 0
	}
	return max(0, min(1, float64((set-day)/full)))
}

// Power gives the share of full power that a wanted share of light takes.
// Continuous: fPmin for fL < fLmin, else (fL + (1 - fL) fPmin - fLmin)/(1 - fLmin);
// with Off nothing below fLmin. In N steps: 0 if fL = 0, (int(N fL) + 1)/N between,
// 1 at 1. Where the lamps are off, Standby remains. Source: EnergyPlus Engineering
// Reference; standby is common practice.
func (d *Dimming) Power(light float64) float64 {
	light = max(0, min(1, light))
	switch {
	case d.Steps > 0:
		return d.stepped(light)
	case light < d.LeastLight && d.Off:
		return d.Standby
	case light < d.LeastLight:
		return d.LeastPower
	case d.LeastLight >= 1:
		return 1
	}
	return (light + (1-light)*d.LeastPower - d.LeastLight) / (1 - d.LeastLight)
}

func (d *Dimming) stepped(light float64) float64 {
	switch {
	case light <= 0:
		return d.Standby
	case light >= 1:
		return 1
	}
	return (math.Floor(float64(d.Steps)*light) + 1) / float64(d.Steps)
}

// Light gives the share of light that the lamps are left at when a share is wanted:
// continuous ones not under LeastLight, those that go Off nothing below it, stepped
// ones the next step up.
func (d *Dimming) Light(wanted float64) float64 {
	wanted = max(0, min(1, wanted))
	switch {
	case d.Steps > 0 && wanted > 0 && wanted < 1:
		return (math.Floor(float64(d.Steps)*wanted) + 1) / float64(d.Steps)
	case d.Steps > 0:
		return wanted
	case wanted < d.LeastLight && d.Off:
		return 0
	}
	return max(d.LeastLight, wanted)
}

// HighestWanted gives what the darkest of several points of a zone wants, so that
// nobody sits too dark.
func HighestWanted(set, full units.Lux, day ...units.Lux) (most float64) {
	for _, e := range day {
		most = max(most, WantedLight(set, e, full))
	}
	return most
}
