package daylight

import (
	"slices"
)

// SameLight tells that daylight goes through two spaces alike: they are the same but
// for their luminaires. What Light says of one then holds of the other, but for what
// it says of luminaires. A nil space is like none.
func (s *Space) SameLight(o *Space) bool {
	return s != nil && o != nil && s.Ceiling == o.Ceiling && s.North == o.North &&
		slices.EqualFunc(s.Outline.Rings(), o.Outline.Rings(), slices.Equal) &&
		slices.Equal(s.Windows, o.Windows) && slices.Equal(s.Rooflights, o.Rooflights) && slices.Equal(s.Obstructions, o.Obstructions)
}

// Same tells that two spaces are the same, luminaires too.
func (s *Space) Same(o *Space) bool {
	return s.SameLight(o) && slices.Equal(s.Luminaires, o.Luminaires)
}
