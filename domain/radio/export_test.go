package radio

// LossByEach tests each obstacle, for comparison.
func (f *Field) LossByEach(a, b Place) float64 {
	sum := 0.0
	for i := range f.strips {
		if f.strips[i].crosses(a, b) {
			sum += f.strips[i].loss
		}
	}
	return sum
}
