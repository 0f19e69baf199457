package gbxml

import (
	"strings"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// The schema's words for lengths, in meters to one. Exact by the definition of
// the international yard, 1959.
var lengths = map[string]float64{
	"Kilometers": 1000, "Meters": 1, "Centimeters": 0.01, "Millimeters": 0.001,
	"Miles": 1609.344, "Yards": 0.9144, "Feet": units.MetresPerFoot, "Inches": units.MetresPerInch,
}

// lengthUnit reads a unit's name; case and a final s do not matter.
func lengthUnit(name string) (building.Unit, bool) {
	for word, metres := range lengths {
		singular := strings.TrimSuffix(word, "s")
		if strings.EqualFold(name, word) || strings.EqualFold(name, singular) || word == "Feet" && strings.EqualFold(name, "Foot") {
			return building.Unit{Name: strings.ToLower(word), Metres: metres, Sure: true}, true
		}
	}
	return building.Unit{}, false
}

// areaUnit reads "SquareFeet" and the like, in square meters to one.
func areaUnit(name string) (float64, bool) {
	if len(name) <= len("Square") || !strings.EqualFold(name[:len("Square")], "Square") {
		return 0, false
	}
	u, ok := lengthUnit(name[len("Square"):])
	return u.Metres * u.Metres, ok
}

// powerDensity gives W/m2 for one of the unit of LightPowerPerArea.
func powerDensity(unit string) (float64, bool) {
	switch strings.ToLower(unit) {
	case "", "wattpersquaremeter":
		return 1, true
	case "wattpersquarefoot":
		return 1 / units.SquareMetresPerSquareFoot, true
	}
	return 0, false
}
