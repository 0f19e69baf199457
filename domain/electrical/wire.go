package electrical

import (
	"fmt"

	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// Alpha is the temperature coefficient of copper's resistance at 20 C, 1/K
// (IEC 60228, from memory).
const Alpha = 0.00393

const metresPerThousandFeet = 304.8

// Wire is a copper conductor of a control pair, by the name of its size.
type Wire equipment.Wire

// The sizes that control pairs come in.
const (
	AWG22 = Wire(equipment.AWG22)
	AWG20 = Wire(equipment.AWG20)
	AWG18 = Wire(equipment.AWG18)
	AWG16 = Wire(equipment.AWG16)
	AWG14 = Wire(equipment.AWG14)
	AWG12 = Wire(equipment.AWG12)
	AWG10 = Wire(equipment.AWG10)
	MM05  = Wire(equipment.MM05)
	MM075 = Wire(equipment.MM075)
	MM1   = Wire(equipment.MM1)
	MM15  = Wire(equipment.MM15)
	MM25  = Wire(equipment.MM25)
)

type wireData struct {
	ohm     float64 // per meter
	celsius float64 // at which ohm holds
	source  string
}

const (
	table8   = "NFPA 70 chapter 9 table 8, stranded, uncoated copper, 75 C"
	annealed = "annealed copper, 20 C, a wire table"
	iec60228 = "IEC 60228 class 1, 20 C, from memory"
)

var wires = map[Wire]wireData{
	AWG22: {16.45 / metresPerThousandFeet, 20, annealed}, AWG20: {10.34 / metresPerThousandFeet, 20, annealed},
	AWG18: {7.95 / metresPerThousandFeet, 75, table8}, AWG16: {4.99 / metresPerThousandFeet, 75, table8}, AWG14: {3.14 / metresPerThousandFeet, 75, table8},
	AWG12: {1.98 / metresPerThousandFeet, 75, table8}, AWG10: {1.24 / metresPerThousandFeet, 75, table8},
	MM05: {36.0 / 1000, 20, iec60228}, MM075: {24.5 / 1000, 20, iec60228}, MM1: {18.1 / 1000, 20, iec60228}, MM15: {12.1 / 1000, 20, iec60228}, MM25: {7.41 / 1000, 20, iec60228},
}

// Wires lists the sizes, thinnest first, American then metric.
func Wires() []Wire {
	sizes := equipment.Wires()
	out := make([]Wire, len(sizes))
	for i, w := range sizes {
		out[i] = Wire(w)
	}
	return out
}

// Known tells that the size is in the table.
func (w Wire) Known() bool { _, ok := wires[w]; return ok }

// Source names the table that the wire's resistance comes from and the
// temperature that it holds at.
func (w Wire) Source() string { return wires[w].source }

// Resistance gives the resistance of one conductor in ohm per meter at the
// temperature of its table. An unknown size is an error.
func (w Wire) Resistance() (float64, error) {
	d, ok := wires[w]
	if !ok {
		return 0, fmt.Errorf("wire %q is not in the table: use one of %v", string(w), Wires())
	}
	return d.ohm, nil
}

// ResistanceAt gives the resistance in ohm per meter at a temperature in C:
// R(t) = R20 (1 + Alpha (t - 20)). It holds from -20 to 100 C.
func (w Wire) ResistanceAt(celsius float64) (float64, error) {
	d, ok := wires[w]
	switch {
	case !ok:
		_, err := w.Resistance()
		return 0, err
	case celsius < -20 || celsius > 100:
		return 0, fmt.Errorf("%g C is outside of -20 to 100 C, where the resistance of copper is taken as linear", celsius)
	}
	return d.ohm * (1 + Alpha*(celsius-20)) / (1 + Alpha*(d.celsius-20)), nil
}

// loop is the resistance of a pair, both conductors, over a length.
func loop(ohmPerMetre float64, length units.Metres) float64 {
	return 2 * ohmPerMetre * float64(length)
}
