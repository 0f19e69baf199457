package units

import (
	"fmt"
	"strings"
)

// ParseShare reads a part of a whole, 0 to 1, as people write it: "0.68" or
// "68 %". A bare number above 1 is refused: 68 can be a slip for 0.68.
func ParseShare(text string) (float64, error) {
	number, percent := strings.CutSuffix(strings.TrimSpace(text), "%")
	v, err := Number(number)
	if err != nil {
		return 0, fmt.Errorf("%q is no share: write it like 0.68 or 68 %%", shorten(text))
	}
	if percent {
		v /= 100
	}
	if v < 0 || v > 1 {
		return 0, fmt.Errorf("%q is no share from 0 to 1: write it like 0.68 or 68 %%", shorten(text))
	}
	return v, nil
}

// Share prints a part of a whole: "68 %".
func Share(v float64) string { return Trim(100*v, 1) + " %" }
