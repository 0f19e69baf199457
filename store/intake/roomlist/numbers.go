package roomlist

import (
	"math"
	"strconv"
	"strings"

	"scopewright/domain/units"
	"scopewright/store/intake/columns"
	"scopewright/store/intake/table"
)

// Bounds that tell a slip of the pen from a building, those of domain.RoomFields.
const (
	maxArea    units.SquareMetres = 100_000
	maxCeiling units.Metres       = 100
	maxSeats                      = 100_000
)

func (p *parser) readNumbers(row table.Row, line *Line) {
	area, length := p.bareUnits()
	if v, ok := p.quantity(row, fArea, area, float64(maxArea), func(v float64) string { return units.Area(units.SquareMetres(v), p.units) }); ok {
		line.Area, line.Given = units.SquareMetres(v), line.Given|GivenArea
	}
	if v, ok := p.quantity(row, fCeiling, length, float64(maxCeiling), p.roundLength); ok {
		line.Ceiling, line.Given = units.Metres(v), line.Given|GivenCeiling
	}
	if v, ok, problem := p.Quantity(row, fSeats, ""); problem != nil {
		p.problem(problem)
	} else if ok && (v != math.Trunc(v) || v < 0 || v > maxSeats) {
		p.problem(p.Problem(row, fSeats, true, "%s occupants cannot be: write a whole number from 0 to %s", units.Trim(v, 3), table.Count(maxSeats)))
	} else if ok {
		seats := int(v)
		line.Seats, line.Given = &seats, line.Given|GivenSeats
	}
	p.readWindows(row, line)
}

func (p *parser) roundLength(v float64) string {
	if p.units == units.US {
		return units.Trim(v/units.MetresPerFoot, 0) + " ft"
	}
	return units.Trim(v, 0) + " m"
}

// quantity reads a positive number up to most; 0 counts as not stated, and is
// mentioned.
func (p *parser) quantity(row table.Row, field, fallback string, most float64, show func(float64) string) (float64, bool) {
	v, ok, problem := p.Quantity(row, field, fallback)
	p.problem(problem)
	title := strings.ToLower(p.title(field))
	switch {
	case !ok:
	case v < 0:
		p.problem(p.Problem(row, field, true, "the %s is negative (%s): write a positive number, or leave the cell blank", title, columns.Short(p.Text(row, field))))
		ok = false
	case v > most:
		p.problem(p.Problem(row, field, true, "the %s %s is more than %s: look at the number and at its unit, for example mm for m", title, columns.Short(p.Text(row, field)), show(most)))
		ok = false
	case v == 0:
		p.problem(p.Problem(row, field, false, "the %s is 0 and was taken as not stated", title))
		ok = false
	}
	return v, ok
}

func (p *parser) title(field string) string {
	for _, f := range fields {
		if f.Name == field {
			return f.Title
		}
	}
	return field
}

// readWindows takes yes and no as room lists write them, and a number of windows.
func (p *parser) readWindows(row table.Row, line *Line) {
	raw := strings.ToLower(strings.TrimSpace(p.Text(row, fWindows)))
	var yes bool
	switch raw {
	case "yes", "y", "true", "t", "x", "✓", "✔", "☑", "exterior", "perimeter":
		yes = true
	case "no", "n", "false", "f", "-", "–", "—", "none", "interior", "internal":
	default:
		if columns.Blank(raw) {
			return
		}
		n, err := strconv.ParseFloat(strings.Replace(raw, ",", ".", 1), 64)
		if err != nil || math.IsNaN(n) || n < 0 {
			p.problem(p.Problem(row, fWindows, false, "windows is yes or no, or a number of windows, not %q; it was left out", columns.Short(raw)))
			return
		}
		yes = n > 0
	}
	line.Windows, line.Given = &yes, line.Given|GivenWindows
}
