package daylight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	. "scopewright/domain/daylight"
	"scopewright/domain/geom"
)

// Whatever light depends on tells two spaces apart; luminaires only for Same.
func TestSpace_same(t *testing.T) {
	make := func() *Space {
		return &Space{Outline: geom.Rectangle(0, 0, 4, 6), Ceiling: 3, Windows: []Window{southWindow(0.5, 3.5, 2.7)}, Rooflights: []Rooflight{{At: geom.Pt(2, 4), Width: 1, Length: 1}},
			Obstructions: []Obstruction{screen(1, 2, 3, 2, 1.6)}, Luminaires: []Luminaire{{ID: "f1", At: geom.Pt(1, 1)}}}
	}
	a := make()
	assert.True(t, a.Same(make()))
	for what, change := range map[string]func(*Space){
		"outline":     func(s *Space) { s.Outline.Outer[0].X = 0.1 },
		"hole":        func(s *Space) { s.Outline.Holes = append(s.Outline.Holes, geom.Rectangle(1, 4, 1, 1).Outer) },
		"ceiling":     func(s *Space) { s.Ceiling = 2.9 },
		"north":       func(s *Space) { s.North = 10 },
		"window":      func(s *Space) { s.Windows[0].Outside.Altitude = 20 },
		"rooflight":   func(s *Space) { s.Rooflights[0].Turn = 45 },
		"obstruction": func(s *Space) { s.Obstructions[0].Clear = true },
		"one less":    func(s *Space) { s.Obstructions = nil },
	} {
		b := make()
		change(b)
		assert.False(t, a.SameLight(b), what)
		assert.False(t, a.Same(b), what)
	}
	b := make()
	b.Luminaires[0].At.X = 2
	assert.True(t, a.SameLight(b))
	assert.False(t, a.Same(b))
	var none *Space
	assert.False(t, none.SameLight(a))
	assert.False(t, a.SameLight(nil))
	assert.False(t, none.Same(none))
}
