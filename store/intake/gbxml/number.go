package gbxml

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

var (
	errNotANumber = errors.New("is not a number")
	errTooFar     = errors.New("is farther out than 10,000 km")
)

// number reads a decimal number. ParseFloat alone would take "NaN", "Inf",
// "0x1p-2" and "1_000".
func number(text string) (float64, error) {
	if text == "" || len(text) > 64 || strings.Trim(text, "0123456789+-.eE") != "" {
		return 0, errNotANumber
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil && !errors.Is(err, strconv.ErrRange) {
		return 0, errNotANumber
	}
	return v, nil
}

// coordinate reads a length of a unit of so many meters, in meters.
func coordinate(text string, metres float64) (float64, error) {
	v, err := number(text)
	if err != nil {
		return 0, err
	}
	if v *= metres; !(math.Abs(v) <= geom.MaxCoordinate) {
		return 0, errTooFar
	}
	return v, nil
}

// shown gives a value out of the file fit for a sentence.
func shown(text string) string { return building.Shown(text) }
