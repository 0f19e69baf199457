package sheet

import "strconv"

// TextCell is a cell that holds text.
func TextCell(text string) Cell { return Cell{Text: text} }

// NumberCell is a cell that holds a number, printed with the given decimals.
func NumberCell(value float64, decimals int) Cell {
	return Cell{Number: &value, Decimals: decimals}
}

// Marked is the same cell with a mark.
func (c Cell) Marked(m Mark) Cell {
	c.Mark = m
	return c
}

// String is what paper prints in the cell, without its mark. Numbers have a point
// and no thousands separators, so that no reader takes one for the other.
func (c Cell) String() string {
	if c.Text != "" || c.Number == nil {
		return c.Text
	}
	text := strconv.FormatFloat(*c.Number, 'f', c.Decimals, 64)
	if isNegativeZero(text) {
		return text[1:]
	}
	return text
}

// isNegativeZero is true for "-0", "-0.00": a rounded remainder must not print a sign.
func isNegativeZero(text string) bool {
	if len(text) < 2 || text[0] != '-' {
		return false
	}
	for _, r := range text[1:] {
		if r != '0' && r != '.' {
			return false
		}
	}
	return true
}

// Symbol is the sign that prints with a marked cell, so that no mark lives by color alone.
func (m Mark) Symbol() string {
	switch m {
	case Changed:
		return "Δ"
	case Exception:
		return "*"
	case Waived:
		return "†"
	case Error:
		return "!!"
	case Warning:
		return "!"
	case Unmet:
		return "x"
	case Untold:
		return "(?)"
	case Plain:
		return ""
	}
	return "?"
}

// Meaning is the mark's word for a legend.
func (m Mark) Meaning() string {
	switch m {
	case Changed:
		return "changed since the last issue"
	case Exception:
		return "differs from the typical"
	case Waived:
		return "waived finding"
	case Error:
		return "error"
	case Warning:
		return "warning"
	case Unmet:
		return "does not meet this check"
	case Untold:
		return "cannot tell"
	case Plain:
		return ""
	}
	return "unknown mark " + string(m)
}
