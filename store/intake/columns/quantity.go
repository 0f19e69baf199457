package columns

import (
	"fmt"
	"regexp"
	"sort"
	"strconv"
	"strings"

	"scopewright/domain/units"
	"scopewright/store/intake/table"
)

// Quantity reads a field's cell as a number with or without a unit, in the unit
// that the domain stores. A bare number has the unit of the heading, else
// fallback. ok is false where the cell says nothing or cannot be read; the
// problem is never fatal, for the line can be taken without the value.
func (l *Layout) Quantity(row table.Row, field, fallback string) (v float64, ok bool, problem *Problem) {
	text := l.Text(row, field)
	if Blank(text) {
		return 0, false, nil
	}
	v, err := l.Read(text, field, fallback)
	if err != nil {
		return 0, false, l.Problem(row, field, false, "%s; the value was left out", err)
	}
	return v, true, nil
}

// Read reads a number out of a text as the field's column writes numbers.
func (l *Layout) Read(text, field, fallback string) (float64, error) {
	if ErrorCell(text) {
		return 0, fmt.Errorf("the spreadsheet could not work out the cell (%s): mend the formula there", strings.TrimSpace(text))
	}
	f, stated := l.byName[field], ""
	if at, ok := l.at[field]; ok {
		stated = l.Columns[at].Unit
	}
	text = spaces(text)
	if _, length := f.Measure["mm"]; length {
		if v, ok, err := feetAndInches(text, l.styles[field]); ok || err != nil {
			return v, err
		}
	}
	m := numberHead.FindStringSubmatch(text)
	if m == nil {
		return 0, fmt.Errorf("%q is not a number: write a number, or leave the cell blank", Short(text))
	}
	v, err := float(m[2], l.styles[field])
	if err != nil {
		return 0, err
	}
	if m[1] == "-" {
		v = -v
	}
	factor, err := unitFactor(f.Measure, m[3], stated, fallback)
	return v * factor, err
}

// trailers may follow a number without saying anything of its size.
var trailers = strings.NewReplacer("a.f.f.", "", "aff", "", "each", "", "max.", "", "max", "", "nominal", "", "nom.", "")

func unitFactor(m Measure, written, stated, fallback string) (float64, error) {
	own := strings.ToLower(strings.TrimSpace(written))
	plain := Plain(own)
	if _, ok := m[plain]; !ok {
		plain = Plain(trailers.Replace(own))
	}
	if plain == "" {
		if plain = stated; plain == "" {
			plain = fallback
		}
	}
	if f, ok := m[plain]; ok {
		return f, nil
	}
	return 0, fmt.Errorf("the unit %q is not known here: use %s", Short(written), knownUnits(m))
}

// knownUnits names the shortest unit of each size, the largest first.
func knownUnits(m Measure) string {
	shortest := map[float64]string{}
	for name, factor := range m {
		if old, ok := shortest[factor]; name != "" && (!ok || len(name) < len(old) || len(name) == len(old) && name < old) {
			shortest[factor] = name
		}
	}
	var out []string
	for _, name := range shortest {
		out = append(out, map[string]string{"pct": "%", "sf": "sq ft"}[name])
		if out[len(out)-1] == "" {
			out[len(out)-1] = name
		}
	}
	sort.Strings(out)
	if len(out) == 0 {
		return "a bare number"
	}
	return strings.Join(out, " or ")
}

var (
	feetInches = regexp.MustCompile(`^(?:(\d+(?:[.,]\d+)?)\s*(?:'|ft\.?|feet|foot)\s*-?\s*)?(?:(?:(\d+(?:[.,]\d+)?)(?:[ -]+(\d{1,3})/(\d{1,3}))?|(\d{1,3})/(\d{1,3}))\s*("|in\.?|inch|inches)?)?$`)
	fractions  = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")
)

var marks = strings.NewReplacer("’", "'", "‘", "'", "′", "'", "´", "'", "`", "'", "”", `"`, "“", `"`, "″", `"`, "''", `"`)

// straight turns the many marks for feet and inches into ' and ".
func straight(text string) string { return marks.Replace(text) }

// feetAndInches reads 9'-6", 9' 6 1/2", 8 ft, 108"; ok is false for a length
// written otherwise.
func feetAndInches(text string, s style) (metres float64, ok bool, err error) {
	t := straight(fractions.Replace(strings.ToLower(text)))
	t = strings.TrimSpace(trailers.Replace(strings.ReplaceAll(t, "''", `"`)))
	marked := strings.ContainsAny(t, `'"`) || strings.Contains(t, "ft") || strings.Contains(t, "in") || strings.Contains(t, "f")
	if !marked || !startsNumber(t) {
		return 0, false, nil
	}
	m := feetInches.FindStringSubmatch(t)
	if m == nil || m[1] == "" && m[7] == "" {
		if strings.ContainsAny(t, `'"`) {
			return 0, false, fmt.Errorf(`%q is not a length: write it like 9'-6" or 9 ft 6 in`, Short(text))
		}
		return 0, false, nil
	}
	for i, factor := range []float64{units.MetresPerFoot, units.MetresPerInch} {
		if m[i+1] == "" {
			continue
		}
		v, err := float(m[i+1], s)
		if err != nil {
			return 0, false, err
		}
		metres += v * factor
	}
	if part, whole := m[3]+m[5], m[4]+m[6]; part != "" {
		above, _ := strconv.ParseFloat(part, 64)
		below, _ := strconv.ParseFloat(whole, 64)
		if below == 0 || above >= below {
			return 0, false, fmt.Errorf("%q holds a fraction that cannot be: write it like 9'-6 1/2\"", Short(text))
		}
		metres += above / below * units.MetresPerInch
	}
	return metres, true, nil
}
