// Package html prints sheets as the body of a web page: semantic tables and lists with
// classes only, no script and no inline style, so that a strict content policy holds.
// static/css/sheet.css and static/css/paper-*.css give it its looks.
package html

import (
	"fmt"
	"math"
	"strings"

	"scopewright/export/sheet"
)

// Options of a print page.
type Options struct {
	// BigType sets everything larger, for sheets read at arm's length.
	BigType bool
	// Paper is what drawings are made to fit, one of those that PDF prints on; Letter
	// when empty or unknown.
	Paper string
	// PictureURL gives the address of a stored picture beneath a plan; nil writes the
	// picture into the page.
	PictureURL func(picture string) string
}

func alignClass(c sheet.Column) string {
	switch c.Alignment() {
	case sheet.Right:
		return "right"
	case sheet.Center:
		return "center"
	case sheet.Left:
	}
	return "left"
}

func markClass(c sheet.Cell) string {
	switch c.Mark {
	case sheet.Changed, sheet.Exception, sheet.Waived, sheet.Error, sheet.Warning, sheet.Unmet, sheet.Untold:
		return "sheet-marked sheet-" + string(c.Mark)
	case sheet.Plain:
	}
	return ""
}

func severityClass(s sheet.Severity) string {
	switch s {
	case sheet.SeverityError:
		return "sheet-error"
	case sheet.SeverityWarning:
		return "sheet-warning"
	case sheet.SeverityInfo:
	}
	return "sheet-info"
}

// widthClasses turns the columns' weights into whole percents, w1 to w100; the content
// policy allows no inline width. Without weights the browser decides.
func widthClasses(columns []sheet.Column) []string {
	sum := 0.0
	for _, c := range columns {
		sum += c.Width
	}
	classes := make([]string, len(columns))
	for i, c := range columns {
		if c.Width > 0 && sum > 0 {
			classes[i] = fmt.Sprintf("w%d", int(math.Max(1, math.Round(100*c.Width/sum))))
		}
	}
	return classes
}

// isMatrix is true for tables of mostly centered columns, which get hairlines between them.
func isMatrix(t sheet.Table) bool {
	centered := 0
	for _, c := range t.Columns {
		if c.Align == sheet.Center {
			centered++
		}
	}
	return 2*centered >= len(t.Columns)
}

// isWide is true for a matrix whose column titles stand upright to fit the paper.
func isWide(t sheet.Table) bool { return isMatrix(t) && len(t.Columns) > 10 }

func regionName(caption string) string {
	if caption == "" {
		return "Table"
	}
	return caption
}

// footLine is what tells one print from another, on every sheet's foot.
func footLine(s sheet.Sheet) string {
	h := s.Head
	var parts []string
	for _, t := range []string{"Sheet " + s.Number, h.ProjectNumber, "Revision " + h.RevisionText(), h.Date, h.Purpose, h.Units} {
		if t != "" {
			parts = append(parts, t)
		}
	}
	return strings.Join(parts, " · ")
}
