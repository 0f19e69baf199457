package equipment

import "scopewright/domain/units"

// Wire is the size of a copper conductor of a control pair, as the trade names it.
type Wire string

// The sizes that control pairs come in.
const (
	AWG22 Wire = "22 AWG"
	AWG20 Wire = "20 AWG"
	AWG18 Wire = "18 AWG"
	AWG16 Wire = "16 AWG"
	AWG14 Wire = "14 AWG"
	AWG12 Wire = "12 AWG"
	AWG10 Wire = "10 AWG"
	MM05  Wire = "0.5 mm2"
	MM075 Wire = "0.75 mm2"
	MM1   Wire = "1.0 mm2"
	MM15  Wire = "1.5 mm2"
	MM25  Wire = "2.5 mm2"
)

// Wires lists the sizes, thinnest first, American then metric.
func Wires() []Wire {
	return []Wire{AWG22, AWG20, AWG18, AWG16, AWG14, AWG12, AWG10, MM05, MM075, MM1, MM15, MM25}
}

// UsualWire is the size that is assumed of a control pair where none is stated
// (common practice, no published source).
func UsualWire(sys units.System) Wire {
	if sys == units.US {
		return AWG18
	}
	return MM075
}
