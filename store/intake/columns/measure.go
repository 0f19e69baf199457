package columns

import "scopewright/domain/units"

// Measure is the units that a field's numbers may be written in: the unit as
// Plain prints it, with its factor to the unit that the domain stores.
type Measure map[string]float64

// The measures.
var (
	Area = Measure{
		"m2": 1, "sqm": 1, "sq m": 1, "m 2": 1, "square meters": 1, "square metres": 1, "square meter": 1, "square metre": 1, "sq meters": 1, "sq metres": 1,
		"ft2": sqft, "sf": sqft, "sqft": sqft, "sq ft": sqft, "ft 2": sqft, "s f": sqft, "square feet": sqft, "square foot": sqft, "sq feet": sqft, "nsf": sqft, "gsf": sqft, "ft sq": sqft,
	}
	Length = Measure{
		"m": 1, "meter": 1, "meters": 1, "metre": 1, "metres": 1, "mm": 0.001, "cm": 0.01,
		"ft": units.MetresPerFoot, "feet": units.MetresPerFoot, "foot": units.MetresPerFoot, "lf": units.MetresPerFoot,
		"in": units.MetresPerInch, "inch": units.MetresPerInch, "inches": units.MetresPerInch,
		// Headings that announce 9'-6": a bare number in such a column is feet.
		"ft in": units.MetresPerFoot, "feet inches": units.MetresPerFoot, "feet and inches": units.MetresPerFoot, "ft and in": units.MetresPerFoot,
	}
	Power     = Measure{"w": 1, "watt": 1, "watts": 1, "kw": 1000}
	Apparent  = Measure{"va": 1, "kva": 1000, "volt amps": 1, "volt amperes": 1}
	Voltage   = Measure{"v": 1, "volt": 1, "volts": 1, "vac": 1, "v ac": 1, "vdc": 1, "v dc": 1, "kv": 1000}
	Current   = Measure{"a": 1, "amp": 1, "amps": 1, "ampere": 1, "amperes": 1, "a pk": 1, "apk": 1, "a peak": 1, "ma": 0.001}
	Milliamps = Measure{"ma": 1, "milliamp": 1, "milliamps": 1, "a": 1000, "µa": 0.001, "μa": 0.001, "ua": 0.001}
	Microsec  = Measure{"us": 1, "µs": 1, "μs": 1, "usec": 1, "microseconds": 1, "microsecond": 1, "ms": 1000, "s": 1e6}
	Percent   = Measure{"pct": 1, "percent": 1, "": 1}
	Plainly   = Measure{"": 1}
	People    = Measure{"": 1, "people": 1, "persons": 1, "person": 1, "seats": 1, "seat": 1, "occupants": 1, "occ": 1, "pers": 1, "pax": 1, "students": 1, "no": 1, "qty": 1, "ea": 1}
)

const sqft = units.SquareMetresPerSquareFoot
