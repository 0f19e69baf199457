package intake

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"scopewright/domain/units"
	"scopewright/web/edits"
)

// The scales that a person may type: from a detail at full size to a region.
const (
	largestScale  = 1
	smallestScale = 100_000
)

// parseScale reads the scale of a drawing as sheets print it: 1:100, 1/100,
// 1/8" = 1'-0", 1 in = 20 ft. It gives how many times larger the building is.
func parseScale(text string) (float64, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	t = strings.NewReplacer("\u2019", "'", "\u2032", "'", "\u201d", `"`, "\u2033", `"`, "''", `"`).Replace(t)
	ratio, ok := 0.0, false
	if left, right, equal := strings.Cut(t, "="); equal {
		paper, one := scaleLength(left)
		ground, other := scaleLength(right)
		if ok = one && other && paper > 0; ok {
			ratio = float64(ground / paper)
		}
	} else if left, right, colon := cutEither(t, ":", "/"); colon {
		paper, err := units.Number(left)
		ground, err2 := units.Number(right)
		if ok = err == nil && err2 == nil && paper > 0; ok {
			ratio = ground / paper
		}
	}
	if !ok {
		return 0, edits.Refusef(`%.30q is no scale: write it like 1:100 or 1/8" = 1'-0"`, text)
	}
	if math.IsNaN(ratio) || ratio < largestScale || ratio > smallestScale {
		return 0, edits.Refusef("a scale of 1:%s is none of a plan: from 1:%d to 1:%d are taken", units.Trim(ratio, 3), largestScale, smallestScale)
	}
	return ratio, nil
}

func cutEither(t, one, other string) (string, string, bool) {
	if left, right, ok := strings.Cut(t, one); ok {
		return left, right, true
	}
	return strings.Cut(t, other)
}

var fraction = regexp.MustCompile(`(?:(\d+)[ -]+)?(\d{1,3})/(\d{1,3})`)

// scaleLength reads one side of a scale; parts of an inch are written as fractions.
func scaleLength(text string) (units.Metres, bool) {
	t := fraction.ReplaceAllStringFunc(strings.TrimSpace(text), func(f string) string {
		m := fraction.FindStringSubmatch(f)
		whole, _ := strconv.ParseFloat("0"+m[1], 64)
		part, _ := strconv.ParseFloat(m[2], 64)
		of, _ := strconv.ParseFloat(m[3], 64)
		if of == 0 {
			return "?"
		}
		return strconv.FormatFloat(whole+part/of, 'f', -1, 64)
	})
	v, err := units.ParseLength(t, units.US)
	return v, err == nil && v > 0
}
