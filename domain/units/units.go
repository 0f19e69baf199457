// Package units holds the physical quantities that a scope is written in.
// Values are SI inside; people read and write them in their project's system.
package units

import (
	"math"
	"strconv"
	"strings"
)

// System is the system of units on a project's screens and paper.
type System string

// The two systems that a project may choose.
const (
	US System = "US"
	SI System = "SI"
)

// Quantities, SI. Level is a percentage of full output, 0 to 100.
type (
	Metres       float64
	SquareMetres float64
	Watts        float64
	Volts        float64
	Amps         float64
	Milliamps    float64
	Lux          float64
	Seconds      float64
	Level        float64
)

// Exact by definition: the international foot of 1959 is 0.3048 m.
const (
	MetresPerFoot             = 0.3048
	MetresPerInch             = 0.0254
	SquareMetresPerSquareFoot = MetresPerFoot * MetresPerFoot
)

// Tolerance for comparing computed quantities with a limit: 48 drivers of
// 38 W on 120 V draw 16 A exactly, and floating point must not fail them.
const Tolerance = 1e-9

// AtMost tells whether v keeps limit, within Tolerance of the limit's size.
func AtMost(v, limit float64) bool { return v <= limit+Tolerance*math.Max(1, math.Abs(limit)) }

// Trim prints v with at most the given decimals and no trailing zeros.
func Trim(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.ContainsRune(s, '.') {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Length prints a length: "9 ft 6 in" or "2.9 m".
func Length(m Metres, sys System) string {
	if sys != US {
		return Trim(float64(m), 3) + " m"
	}
	inches := math.Round(float64(m)/MetresPerInch*100) / 100
	feet := math.Floor(inches / 12)
	rest := inches - 12*feet
	switch {
	case feet == 0:
		return Trim(rest, 2) + " in"
	case rest == 0:
		return Trim(feet, 0) + " ft"
	}
	return Trim(feet, 0) + " ft " + Trim(rest, 2) + " in"
}

// Nearly prints a length to the whole inch or centimeter: what was reckoned is
// not known any better.
func Nearly(m Metres, sys System) string {
	step := 0.01
	if sys == US {
		step = MetresPerInch
	}
	return Length(Metres(math.Round(float64(m)/step)*step), sys)
}

// Area prints an area: whole square feet, or square meters to a tenth.
func Area(a SquareMetres, sys System) string {
	if sys != US {
		return AreaTo(a, 1, sys)
	}
	return AreaTo(a, 0, sys)
}

// AreaTo prints an area to at most the given decimals: "463.2 sq ft" or "43.03 m2".
func AreaTo(a SquareMetres, decimals int, sys System) string {
	v, unit := AreaIn(a, sys)
	return Trim(RoundArea(v, decimals), decimals) + " " + unit
}

// RoundArea rounds an area to some decimals, halves up, so that 52.5 sq ft are 53
// wherever they are printed, and whatever the last digits of a drawing's sums are.
func RoundArea(v float64, decimals int) float64 {
	const noise = 1e6
	p := math.Pow10(decimals)
	return math.Round(math.Round(v*noise)/noise*p) / p
}

// AreaIn gives an area in the unit in which a system prints it.
func AreaIn(a SquareMetres, sys System) (v float64, unit string) {
	if sys == US {
		return float64(a) / SquareMetresPerSquareFoot, "sq ft"
	}
	return float64(a), "m2"
}

// Duration prints seconds in the largest unit that keeps them readable.
func Duration(s Seconds) string {
	v := float64(s)
	switch {
	case v == 0:
		return "0 s"
	case v < 120 && math.Mod(v, 60) != 0 || v < 60:
		return Trim(v, 1) + " s"
	case math.Mod(v, 3600) == 0:
		return Trim(v/3600, 0) + " h"
	case math.Mod(v, 60) == 0:
		return Trim(v/60, 0) + " min"
	}
	return Trim(math.Floor(v/60), 0) + " min " + Trim(math.Mod(v, 60), 1) + " s"
}

// Percent prints a level.
func Percent(l Level) string { return Trim(float64(l), 1) + " %" }
