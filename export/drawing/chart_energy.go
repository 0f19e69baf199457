package drawing

import (
	"fmt"
	"math"

	"scopewright/domain/energy"
	"scopewright/domain/units"
)

// The parts of charts of energy.
var (
	energySeries = []Series{{"lamps", Filled}, {"standby", Hatched}, {"saved over switching by hand", Hollow}}
	daySeries    = []Series{{"lamps", Filled}, {"saved by daylight", Hatched}}
)

// EnergyBars draws what some parts of a building use in a year: lamps, standby, and
// what switching by hand would add.
func EnergyBars(title string, names []string, sums []energy.Sum) *Bars {
	b := &Bars{Title: title, Unit: "kWh/yr", Series: energySeries}
	for i, s := range sums {
		text := energy.Text(s.Total()) + " kWh"
		if s.ByHand > 0 && s.SavedKWh() >= 0 {
			text += fmt.Sprintf(", %.0f %% saved", 100*s.Saved())
		}
		b.Rows = append(b.Rows, Bar{Name: names[i], Values: []float64{s.Lamps, s.Standby, s.SavedKWh()}, Text: text})
	}
	return b
}

// SavingBars sets what rooms save, by LENI and in the weeks where all were played, beside
// the averages that studies published.
func SavingBars(all energy.Sum) *Bars {
	percent := func(v float64) string { return units.Trim(math.Round(100*v), 0) + " %" }
	b := &Bars{Title: "Saved against switching by hand, beside published averages", Unit: "%", Series: []Series{{"these rooms", Filled}, {"published averages", Hatched}, {"occupancy and daylighting together, at most", Hollow}}}
	b.Rows = append(b.Rows, Bar{Name: "These rooms, by LENI", Values: []float64{100 * all.Saved(), 0, 0}, Text: percent(all.Saved())})
	if all.AllPlayed() {
		b.Rows = append(b.Rows, Bar{Name: "These rooms, weeks played", Values: []float64{100 * all.PlayedSaved(), 0, 0}, Text: percent(all.PlayedSaved())})
	}
	for _, p := range energy.PublishedAverages() {
		b.Rows = append(b.Rows, Bar{Name: p.Strategy, Values: []float64{0, 100 * p.Share, 0}, Text: percent(p.Share)})
	}
	b.Rows = append(b.Rows, Bar{Name: "at most together", Values: []float64{0, 0, 100 * energy.UpperTogether()}, Text: percent(energy.UpperTogether())})
	return b
}

// EnergyDay draws the average day of use of a room that was played by hour.
func EnergyDay(title string, p *energy.Played) *Day {
	d := &Day{Title: title, Unit: "kW", Series: daySeries, ShareName: "share of the hour in which people are in (right)"}
	for h, hour := range p.Hours {
		d.Columns[h] = []float64{hour.Lamps, max(0, hour.Bright-hour.Lamps)}
		d.Share[h] = hour.In
	}
	return d
}
