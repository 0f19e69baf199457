package units

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	plainNumber = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)$`)
	grouped     = regexp.MustCompile(`^[+-]?\d{1,3}(,\d{3})+\.\d+$|^[+-]?\d{1,3}(,\d{3}){2,}$`)
	ambiguous   = regexp.MustCompile(`^[+-]?\d{1,3},\d{3}$`)
	decimal     = regexp.MustCompile(`^[+-]?\d*,\d+$`)
	withUnit    = regexp.MustCompile(`^([+-]?[\d.,]+)\s*(.*)$`)
	feetInches  = regexp.MustCompile(`^(?:([\d.,]+)\s*(?:'|ft|feet|foot)\s*-?\s*)?(?:([\d.,]+)\s*(?:"|''|in|inch|inches)?)?$`)
	hoursMins   = regexp.MustCompile(`^(?:([\d.,]+)\s*(?:h|hr|hrs|hour|hours)\s*)?(?:([\d.,]+)\s*(?:m|min|mins|minute|minutes)\s*)?(?:([\d.,]+)\s*(?:s|sec|secs|second|seconds))?$`)
)

// Number reads a decimal number as people write it: "1234.5", "1,234.5" or, with
// a decimal comma, "1234,5". Only "1,234" can mean two things and is refused.
func Number(text string) (float64, error) {
	t := strings.ReplaceAll(strings.TrimSpace(text), " ", "")
	switch {
	case t == "":
		return 0, fmt.Errorf("a number is missing")
	case ambiguous.MatchString(t):
		return 0, fmt.Errorf("%q can mean %s or %s: write one of these", text, strings.Replace(t, ",", "", 1), strings.Replace(t, ",", ".", 1))
	case grouped.MatchString(t):
		t = strings.ReplaceAll(t, ",", "")
	case decimal.MatchString(t):
		t = strings.Replace(t, ",", ".", 1)
	}
	if !plainNumber.MatchString(t) {
		return 0, fmt.Errorf("%q is not a number", shorten(text))
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is too large a number", shorten(text))
	}
	return v, nil
}

func shorten(text string) string {
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return text
}

// In reads a number with an optional unit out of factors (lower case unit to
// factor); a bare number is taken in the unit named fallback.
func In(text, fallback string, factors map[string]float64) (float64, error) {
	m := withUnit.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return 0, fmt.Errorf("%q is not a number", shorten(text))
	}
	unit := strings.ToLower(strings.TrimSpace(m[2]))
	if unit == "" {
		unit = fallback
	}
	factor, ok := factors[unit]
	if !ok {
		return 0, fmt.Errorf("unit %q is not known here: use %s", shorten(m[2]), fallback)
	}
	v, err := Number(m[1])
	return v * factor, err
}

// ParseLength reads "9 ft 6 in", 9'6", "2.9 m", "2900 mm"; a bare number is
// feet in a US project and meters in an SI one.
func ParseLength(text string, sys System) (Metres, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	if strings.ContainsAny(t, `'"`) || strings.Contains(t, "ft") || strings.Contains(t, "in") || strings.Contains(t, "foot") {
		m := feetInches.FindStringSubmatch(t)
		if m == nil || m[1] == "" && m[2] == "" {
			return 0, fmt.Errorf(`%q is not a length: write it like 9 ft 6 in or 2.9 m`, shorten(text))
		}
		var total float64
		for i, factor := range []float64{MetresPerFoot, MetresPerInch} {
			if m[i+1] == "" {
				continue
			}
			v, err := Number(m[i+1])
			if err != nil {
				return 0, err
			}
			total += v * factor
		}
		return Metres(total), nil
	}
	fallback := "m"
	if sys == US {
		fallback = "ft"
	}
	v, err := In(t, fallback, map[string]float64{"m": 1, "mm": 0.001, "cm": 0.01, "ft": MetresPerFoot, "meter": 1, "meters": 1, "metre": 1, "metres": 1})
	return Metres(v), err
}

var areaFactors = map[string]float64{
	"m2": 1, "m²": 1, "sqm": 1, "sq m": 1,
	"ft2": SquareMetresPerSquareFoot, "ft²": SquareMetresPerSquareFoot, "sf": SquareMetresPerSquareFoot,
	"sqft": SquareMetresPerSquareFoot, "sq ft": SquareMetresPerSquareFoot, "sq. ft.": SquareMetresPerSquareFoot,
}

// ParseArea reads "864 sq ft", "864 ft2" or "80.3 m2"; a bare number is in the system's unit.
func ParseArea(text string, sys System) (SquareMetres, error) {
	fallback := "m2"
	if sys == US {
		fallback = "sq ft"
	}
	v, err := In(text, fallback, areaFactors)
	return SquareMetres(v), err
}

// ParseDuration reads "20 min", "1 h 30 min", "90 s"; a bare number is in the
// unit that bare names, "min" or "s".
func ParseDuration(text, bare string) (Seconds, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	if v, err := Number(t); err == nil {
		if bare == "min" {
			v *= 60
		}
		return Seconds(v), nil
	}
	m := hoursMins.FindStringSubmatch(t)
	if m == nil || m[1]+m[2]+m[3] == "" {
		return 0, fmt.Errorf("%q is not a time: write it like 20 min, 90 s or 1 h 30 min", shorten(text))
	}
	var total float64
	for i, factor := range []float64{3600, 60, 1} {
		if m[i+1] == "" {
			continue
		}
		v, err := Number(m[i+1])
		if err != nil {
			return 0, err
		}
		total += v * factor
	}
	return Seconds(total), nil
}

// ParseLevel reads a percentage from 0 to 100, with or without its sign.
func ParseLevel(text string) (Level, error) {
	v, err := Number(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	if err != nil {
		return 0, err
	}
	if v < 0 || v > 100 {
		return 0, fmt.Errorf("%s %% is outside 0 to 100 %%", Trim(v, 2))
	}
	return Level(v), nil
}
