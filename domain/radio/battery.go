package radio

// Battery is what a battery device lives on.
type Battery struct {
	Capacity      float64 // mAh
	Usable        float64 // share of it
	SelfDischarge float64 // share of capacity a year, linear
	Sleep         float64 // uA
}

// Burst is what a device does again and again, and what it takes.
type Burst struct {
	Milliamps, Milliseconds, PerDay float64
}

const (
	secondsPerDay = 86400
	hoursPerYear  = 8766
)

// Life gives the mean current in uA and the years that a battery lasts:
// C 1000 u / (total 8766) with the sleep current, the bursts' I t n/86400 and the
// self-discharge C s 1000/8766. Cap the years at the cell's shelf life.
func (b Battery) Life(bursts ...Burst) (microamps, years float64) {
	microamps = b.Sleep + b.Capacity*b.SelfDischarge*1000/hoursPerYear
	for _, e := range bursts {
		microamps += e.Current()
	}
	return microamps, b.Capacity * 1000 * b.Usable / (microamps * hoursPerYear)
}

// Current gives the mean current of a burst, uA: I t n / 86400, mA and ms.
func (e Burst) Current() float64 {
	return e.Milliamps * e.Milliseconds * e.PerDay / secondsPerDay
}
