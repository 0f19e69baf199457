package sheet

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"
)

// Validate reports everything that would print wrongly: rows with too many or too few
// cells, unknown marks and severities, numbers that are none, sheets without a name of
// their own. A document that passes prints in every format.
func (d Document) Validate() error {
	var errs []error
	if strings.TrimSpace(d.Title) == "" {
		errs = append(errs, errors.New("the document has no title"))
	}
	if len(d.Sheets) == 0 {
		errs = append(errs, errors.New("the document has no sheets"))
	}
	seen := map[string]bool{}
	for i, s := range d.Sheets {
		for _, err := range s.problems(seen) {
			errs = append(errs, fmt.Errorf("sheet %d (%s): %w", i+1, s.Number, err))
		}
	}
	return errors.Join(errs...)
}

func (s Sheet) problems(seen map[string]bool) []error {
	var errs []error
	switch {
	case !isSlug(s.ID):
		errs = append(errs, fmt.Errorf("ID %q must be lower-case letters, digits and dashes", s.ID))
	case seen[s.ID]:
		errs = append(errs, fmt.Errorf("ID %q is used twice", s.ID))
	}
	seen[s.ID] = true
	if strings.TrimSpace(s.Title) == "" {
		errs = append(errs, errors.New("the title is missing"))
	}
	if _, err := time.Parse(time.DateOnly, s.Head.Date); s.Head.Date != "" && err != nil {
		errs = append(errs, fmt.Errorf("date %q must be an ISO date such as 2026-03-01", s.Head.Date))
	}
	for i, b := range s.Blocks {
		for _, err := range blockProblems(b) {
			errs = append(errs, fmt.Errorf("block %d (%T): %w", i+1, b, err))
		}
	}
	return errs
}

// isSlug keeps IDs usable as an anchor and as a CSS page name.
func isSlug(id string) bool {
	for _, r := range id {
		if !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-') {
			return false
		}
	}
	return id != ""
}

func blockProblems(b Block) []error {
	switch b := b.(type) {
	case nil:
		return []error{errors.New("the block is missing")}
	case Heading:
		if b.Level < 1 || b.Level > 3 {
			return []error{fmt.Errorf("heading level %d must be 1, 2 or 3", b.Level)}
		}
	case Facts:
		if b.Columns < 1 || b.Columns > 4 {
			return []error{fmt.Errorf("%d columns of facts: use 1 to 4", b.Columns)}
		}
	case Table:
		return b.problems()
	case Findings:
		return b.problems()
	case Drawing:
		if b.View == nil || b.View.Empty() {
			return []error{errors.New("the drawing shows nothing: leave it out")}
		}
	case Chart:
		if b.Chart == nil {
			return []error{errors.New("the chart shows nothing: leave it out")}
		}
	case Paragraph, Statements, Buttons, Checklist, Signatures, Caution, Legend, Index, BigText, PageBreak:
	default:
		return []error{fmt.Errorf("use the block as a value, not as a pointer")}
	}
	return nil
}

func (f Findings) problems() []error {
	var errs []error
	for i, item := range f.Items {
		switch item.Severity {
		case SeverityError, SeverityWarning, SeverityInfo:
		default:
			errs = append(errs, fmt.Errorf("finding %d: unknown severity %q", i+1, item.Severity))
		}
	}
	return errs
}

func (t Table) problems() []error {
	var errs []error
	if len(t.Columns) == 0 {
		errs = append(errs, fmt.Errorf("table %q has no columns", t.Caption))
	}
	for i, c := range t.Columns {
		if c.Width < 0 || math.IsNaN(c.Width) || math.IsInf(c.Width, 0) {
			errs = append(errs, fmt.Errorf("table %q, column %d (%s): width %v must be 0 or more", t.Caption, i+1, c.Title, c.Width))
		}
	}
	for i, r := range t.Rows {
		if err := r.problem(len(t.Columns)); err != nil {
			errs = append(errs, fmt.Errorf("table %q, row %d: %w", t.Caption, i+1, err))
		}
	}
	return errs
}

func (r Row) problem(columns int) error {
	if r.Group {
		columns = 1
	}
	if len(r.Cells) != columns {
		return fmt.Errorf("%d cells where %d belong", len(r.Cells), columns)
	}
	if r.Changed < 0 {
		return fmt.Errorf("revision %d must not be negative", r.Changed)
	}
	for i, c := range r.Cells {
		if err := c.problem(); err != nil {
			return fmt.Errorf("cell %d: %w", i+1, err)
		}
	}
	return nil
}

func (c Cell) problem() error {
	if c.Mark != Plain && c.Mark.Symbol() == "?" {
		return fmt.Errorf("unknown mark %q", c.Mark)
	}
	if c.Number == nil {
		return nil
	}
	if math.IsNaN(*c.Number) || math.IsInf(*c.Number, 0) {
		return fmt.Errorf("%v is not a number that can be printed", *c.Number)
	}
	if c.Decimals < 0 || c.Decimals > 9 {
		return fmt.Errorf("%d decimals: use 0 to 9", c.Decimals)
	}
	return nil
}
