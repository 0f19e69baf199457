package energycode

// Sample says how many occupant sensors of a building are to be tested, by pairing
// of sensor kind and room shape.
type Sample struct {
	Tests []int // by pairing, in the order given
	Total int
	All   bool // few enough that each one is tested
	Basis []Basis
}

// SensorsToTest gives the sample for some counts of sensors, one a pairing: all of
// them up to the pack's number, else n = ceil(count x share/100) of each pairing, at
// least 1. known is false where the pack does not say. Source: the pack's parameters
// for functional tests.
func (p *Pack) SensorsToTest(pairings []int) (s Sample, known bool) {
	all, share := p.Parameter(FunctionalTest, "all_up_to"), p.Parameter(FunctionalTest, "sample")
	if all == nil {
		return s, false
	}
	s.Basis = append(s.Basis, all.Basis)
	sum := 0
	for _, n := range pairings {
		sum += n
	}
	s.All = all.Sign.Keeps(float64(sum), all.Value)
	if !s.All && share == nil {
		return s, false
	}
	for _, n := range pairings {
		test := n
		if !s.All {
			test = min(n, max(1, roundUp(float64(n)*share.Value/100)))
		}
		s.Tests, s.Total = append(s.Tests, test), s.Total+test
	}
	if !s.All {
		s.Basis = append(s.Basis, share.Basis)
	}
	return s, true
}

// FurtherTests gives how many more of a pairing must be tested once some of those
// tested have failed: all the rest from the pack's share of failures on, else none.
func (p *Pack) FurtherTests(count, tested, failed int) (n int, known bool) {
	q := p.Parameter(FunctionalTest, "failures")
	if q == nil || tested <= 0 {
		return 0, false
	}
	if q.Sign.Keeps(100*float64(failed)/float64(tested), q.Value) {
		return count - tested, true
	}
	return 0, true
}
