package domain

import (
	"fmt"
	"strings"

	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// maxPair is the longest 0-10 V pair that is no slip of the pen.
const maxPair units.Metres = 1000

// CircuitFields are the facts of a branch circuit.
var CircuitFields = []Field[Circuit]{
	circuitNameField(),
	orElse("as the limits say", quantityField("breaker_a", "Breaker", "A", 1000, 1, func(c *Circuit) *units.Amps { return &c.Breaker })),
	orElse("as its loads say", quantityField("volts", "Volts", "V", 1000, 1, func(c *Circuit) *units.Volts { return &c.Volts })),
	orElse("as the limits say", choiceField("trip", "Trip", fixed[Circuit](Trips()...), func(c *Circuit) *Trip { return &c.Trip })),
	boolField("emergency", "Emergency source", func(c *Circuit) *bool { return &c.Emergency }),
	notesField("notes", "Notes", func(c *Circuit) *string { return &c.Notes }),
}

// circuitNameField takes names that a load can have too.
func circuitNameField() Field[Circuit] {
	return Field[Circuit]{Name: "name", Title: "Circuit", Hint: "panel, hyphen, number, as loads name it",
		Show: func(_ Env, c *Circuit) string { return c.Name },
		Set: func(_ Env, c *Circuit, text string) error {
			clean, err := CleanLine(text, 40)
			if err == nil && clean == "" {
				err = fmt.Errorf("a circuit needs a name, like LP1-3")
			}
			if err == nil {
				c.Name = clean
			}
			return err
		}}
}

func pairWireField() Field[Load] {
	f := choiceField("pair_wire", "Control wire", fixed[Load](equipment.Wires()...), func(l *Load) *equipment.Wire { return &l.PairWire })
	f.Empty = "the usual size"
	set := f.Set
	f.Set = func(e Env, l *Load, text string) error { // "18" is what people write
		if t := strings.TrimSpace(text); t == "18" || t == "16" || t == "14" || t == "12" || t == "10" || t == "20" || t == "22" {
			text = t + " AWG"
		}
		return set(e, l, strings.ReplaceAll(text, "mm²", "mm2"))
	}
	return f
}

func pairLengthField() Field[Load] {
	f := lengthField("pair_m", "Control pair", maxPair, func(l *Load) *units.Metres { return &l.PairLength })
	f.Hint, f.Empty = "length of the 0-10 V pair from the controller to its last driver", "as drawn"
	return f
}

// Pair gives the wire of a load's control pair, and whether it is assumed.
func (l *Load) Pair(sys units.System) (w equipment.Wire, assumed bool) {
	if l.PairWire != "" {
		return l.PairWire, false
	}
	return equipment.UsualWire(sys), true
}

func inrushPeakField() Field[Luminaire] {
	f := quantityField("inrush_a", "Inrush peak", "A", 10000, 1, func(l *Luminaire) *units.Amps { return &l.InrushPeak })
	f.Hint = "of one driver"
	return f
}
