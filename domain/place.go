package domain

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain/units"
)

func trimDegrees(v float64) string { return units.Trim(v, 5) }

// parseDegrees reads "41.88", "41.88 N" or "87.63 W"; south and west count
// below zero.
func parseDegrees(text string) (v float64, some bool, err error) {
	t := strings.ToUpper(strings.TrimSpace(strings.ReplaceAll(text, "°", "")))
	if t == "" {
		return 0, false, nil
	}
	sign := 1.0
	if rest, cut := strings.CutSuffix(t, "N"); cut {
		t = rest
	} else if rest, cut := strings.CutSuffix(t, "E"); cut {
		t = rest
	} else if rest, cut := strings.CutSuffix(t, "S"); cut {
		t, sign = rest, -1
	} else if rest, cut := strings.CutSuffix(t, "W"); cut {
		t, sign = rest, -1
	}
	v, err = units.Number(strings.TrimSpace(t))
	if err != nil {
		return 0, false, fmt.Errorf("%q are no degrees: write them like 41.88, or 41.88 N", shortText(text))
	}
	return math.Round(sign*v*1e5) / 1e5, true, nil
}

// Placed tells that the project says where on earth it stands.
func (p *Project) Placed() bool { return p.Latitude != nil && p.Longitude != nil }
