package sheet

import "strconv"

// Words that the renderers print around a block's own text. They stand here so that
// the printed page and the page on screen cannot differ.
const (
	NoFindings     = "No findings."
	NoRows         = "Nothing to list."
	NoStatements   = "No statements."
	NoChecks       = "No checklist items."
	WaiverPrefix   = "Waived:"
	SourcePrefix   = "Source:"
	ChangedColumn  = "Rev"
	PendingVerdict = "open"
)

// Column titles of the blocks that print as a table.
var (
	FindingColumns   = []string{"Severity", "Rule", "Finding"}
	ChecklistColumns = []string{"No.", "Subject", "Item", "Verdict", "Comment", "Answer"}
	IndexColumns     = []string{"Sheet", "Title", "Page"}
	SignatureLines   = []string{"Name", "Date"}
)

// Word is the severity as printed. Each has a word and a sign, so that none lives by color alone.
func (s Severity) Word() string {
	switch s {
	case SeverityError:
		return "Error"
	case SeverityWarning:
		return "Warning"
	case SeverityInfo:
		return "Note"
	}
	return "Unknown severity " + string(s)
}

// Sign is the severity's symbol, printed before its word.
func (s Severity) Sign() string {
	switch s {
	case SeverityError:
		return Error.Symbol()
	case SeverityWarning:
		return Warning.Symbol()
	case SeverityInfo:
		return "i"
	}
	return "?"
}

// Origin lists the fields that say what the sheet is about, empty ones left out.
func (h TitleBlock) Origin() []Fact {
	return filled(
		Fact{"Project", h.Project},
		Fact{"Project number", h.ProjectNumber},
		Fact{"Client", h.Client},
		Fact{"Address", h.Address},
		Fact{"Building", h.Building},
		Fact{"Storey", h.Storey},
		Fact{"Room", h.Room},
	)
}

// State lists the fields that say how far the sheet is, empty ones left out. The
// revision is always among them: a sheet without one prints that it is not issued.
func (h TitleBlock) State() []Fact {
	return filled(
		Fact{"Revision", h.RevisionText()},
		Fact{"Date", h.Date},
		Fact{"Purpose", h.Purpose},
		Fact{"Units", h.Units},
		Fact{"Designer", h.Designer},
		Fact{"Checker", h.Checker},
		Fact{"Reviewer", h.Reviewer},
		Fact{"Content", h.Hash},
	)
}

// RevisionText is the revision, or a dash before the first issue.
func (h TitleBlock) RevisionText() string {
	if h.Revision == "" {
		return "–"
	}
	return h.Revision
}

func filled(facts ...Fact) []Fact {
	kept := facts[:0]
	for _, f := range facts {
		if f.Value != "" {
			kept = append(kept, f)
		}
	}
	return kept
}

// StatementID is the printed name of the i-th statement (counted from 0).
func (s Statements) StatementID(i int) string {
	if s.Items[i].ID != "" {
		return s.Items[i].ID
	}
	return strconv.Itoa(i + 1)
}

// EmptyText is the sentence of a table without rows.
func (t Table) EmptyText() string {
	if t.Empty == "" {
		return NoRows
	}
	return t.Empty
}

// HasChanges is true when at least one row carries a revision triangle.
func (t Table) HasChanges() bool {
	for _, r := range t.Rows {
		if r.Changed > 0 {
			return true
		}
	}
	return false
}

// Marks lists the marks that occur in the table, in the order of the constants,
// so that a key can stand under it.
func (t Table) Marks() []Mark {
	seen := map[Mark]bool{}
	for _, r := range t.Rows {
		for _, c := range r.Cells {
			if c.Mark != Plain {
				seen[c.Mark] = true
			}
		}
	}
	var marks []Mark
	for _, m := range Marks() {
		if seen[m] {
			marks = append(marks, m)
		}
	}
	return marks
}

// Alignment is where a column's cells stand: numbers to the right unless the column says otherwise.
func (c Column) Alignment() Align {
	if c.Kind == Number && c.Align == Left {
		return Right
	}
	return c.Align
}
