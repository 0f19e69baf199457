package daylight

// Light gives the illuminance at each sample of the year, lx.
func (o Outdoors) Light() []float64 { return o.lx }
