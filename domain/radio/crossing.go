package radio

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Losses of what lies between storeys and above ceilings, dB a crossing:
// judgement, rounded between what P.2040 computes and what was measured.
const (
	ConcreteFloorLoss = 20.0 // 200 mm
	CeilingTileLoss   = 0.5
)

// Crossing is what a signal of the 2.4 GHz band loses on its way through a
// wall.
type Crossing struct {
	// Design is the loss to design with, dB: judgement, rounded between what
	// P.2040 computes and what was measured; real walls hold moisture and steel.
	Design float64
	// layers builds the wall with a cavity of that depth; nil: P.2040 has no
	// model of it.
	layers   func(cavity units.Metres) []Layer
	from, to units.Metres // depths of cavity met; 0: none
}

// CrossingOf gives the loss of a material of the list of walls' materials, by
// its name; ok is false for one that is not on the list.
func CrossingOf(material string) (c Crossing, ok bool) {
	c, ok = crossings[material]
	return c, ok
}

var crossings = map[string]Crossing{
	domain.StudWall:       {Design: 3, layers: leaves(Plasterboard, 0.0125), from: 0.05, to: 0.15},
	domain.DoubleStudWall: {Design: 4, layers: leaves(Plasterboard, 0.025), from: 0.05, to: 0.15},
	domain.Brick110:       {Design: 5, layers: slab(Brick, 0.11)},
	domain.Brick215:       {Design: 8, layers: slab(Brick, 0.215)},
	domain.Block200:       {Design: 14}, // hollow
	domain.Concrete100:    {Design: 12, layers: slab(Concrete, 0.1)},
	domain.Concrete150:    {Design: 16, layers: slab(Concrete, 0.15)},
	domain.Concrete200:    {Design: 22, layers: slab(Concrete, 0.2)},
	domain.ClearGlazing:   {Design: 2, layers: leaves(Glass, 0.006), from: 0.006, to: 0.02},
	domain.CoatedGlazing:  {Design: 25, layers: coated, from: 0.016, to: 0.016},
	domain.TimberPanel:    {Design: 2, layers: slab(Wood, 0.044)},
	domain.MetalSheet:     {Design: 40}, // the most that is reckoned: signals find a way around
}

func slab(of Substance, thick units.Metres) func(units.Metres) []Layer {
	return func(units.Metres) []Layer { return []Layer{{Of: of, Thick: thick}} }
}

func leaves(of Substance, leaf units.Metres) func(units.Metres) []Layer {
	return func(cavity units.Metres) []Layer {
		return []Layer{{Of: of, Thick: leaf}, {Of: Air, Thick: cavity}, {Of: of, Thick: leaf}}
	}
}

// coated is double glazing with a film of 9.1 ohms per square in its cavity.
func coated(cavity units.Metres) []Layer {
	return []Layer{{Of: Glass, Thick: 0.006}, {Of: Air, Thick: cavity}, {Film: 9.1}, {Of: Glass, Thick: 0.006}}
}

// Computed is the loss at 2450 MHz and normal incidence by ITU-R P.2040, dB;
// ok is false where it has no model. Walls with a cavity give the mean power
// over the depths of cavity that are met, since one depth shows a resonance.
func (c Crossing) Computed() (db float64, ok bool) {
	if c.layers == nil {
		return 0, false
	}
	const step = 0.001 // m; fine beside a wave of 122 mm
	power, n := 0.0, int(math.Round(float64(c.to-c.from)/step))
	for i := range n + 1 {
		power += math.Pow(10, -LayersLoss(c.layers(c.from+units.Metres(i)*step), MeshMHz)/10)
	}
	return -10 * math.Log10(power/float64(n+1)), true
}
