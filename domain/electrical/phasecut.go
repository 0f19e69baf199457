package electrical

// LoadNature is how a load looks to a phase-cut dimmer.
type LoadNature string

// The natures.
const (
	Resistive    LoadNature = "resistive"
	Inductive    LoadNature = "magnetic transformer"
	Capacitive   LoadNature = "electronic transformer"
	LEDDriver    LoadNature = "LED driver or lamp"
	SignalDimmed LoadNature = "0-10 V or digital driver"
)

// Fitness is whether a phase-cut dimmer may serve a load.
type Fitness string

// The answers. AsRated needs the dimmer's or the driver's own word for it.
const (
	Fits    Fitness = "yes"
	AsRated Fitness = "only as its sheet says"
	Unfit   Fitness = "no"
)

// PhaseCut tells whether leading-edge (forward) or trailing-edge (reverse)
// dimming fits a load, and why (from memory; NEMA SSL 7A gives a test for LED
// with the forward kind).
func PhaseCut(n LoadNature, leading bool) (Fitness, string) {
	switch n {
	case Resistive:
		return Fits, ""
	case Inductive:
		if leading {
			return AsRated, "the dimmer must be rated for inductive loads and be derated"
		}
		return Unfit, "cutting the current of a magnetic transformer makes voltage spikes"
	case Capacitive:
		if leading {
			return AsRated, "the steep edge drives current spikes into a capacitive input"
		}
		return Fits, ""
	case LEDDriver:
		return AsRated, "drivers differ: ask for the maker's list"
	}
	return Unfit, "a driver that is dimmed by a signal needs unswitched mains"
}
