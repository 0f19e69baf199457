package sheet

import "strconv"

// Strings lists every piece of text that the document prints, in order, empty ones left
// out. Page numbers are not among them, since each format counts its own pages.
func (d Document) Strings() []string {
	var l lines
	for _, s := range d.Sheets {
		l.add(s.Number, s.Title)
		l.head(s.Head)
		for _, b := range s.Blocks {
			l.block(b)
		}
	}
	return l
}

type lines []string

func (l *lines) add(texts ...string) {
	for _, t := range texts {
		if t != "" {
			*l = append(*l, t)
		}
	}
}

func (l *lines) head(h TitleBlock) {
	for _, f := range append(h.Origin(), h.State()...) {
		l.add(f.Name, f.Value)
	}
	if h.Invented {
		l.add(InventedNotice)
	}
	l.add(h.Caution)
}

func (l *lines) block(b Block) {
	switch b := b.(type) {
	case Heading:
		l.add(b.Text)
	case Paragraph:
		l.add(b.Text)
	case BigText:
		l.add(b.Text)
	case Caution:
		l.add(b.Title, b.Text)
	case Facts:
		for _, f := range b.Items {
			l.add(f.Name, f.Value)
		}
	case Legend:
		for _, i := range b.Items {
			l.add(i.Symbol, i.Meaning)
		}
	case Table:
		l.table(b)
	case Statements:
		l.statements(b)
	case Findings:
		l.findings(b)
	case Buttons:
		l.buttons(b)
	case Checklist:
		l.checklist(b)
	case Signatures:
		l.signatures(b)
	case Index:
		l.add(IndexColumns...)
		for _, i := range b.Items {
			l.add(i.Number, i.Title)
		}
	case Drawing:
		l.add(b.Caption)
		l.add(b.View.Words()...)
		l.add(b.Note)
	case Chart:
		l.add(b.Caption)
		l.add(b.Chart.Words()...)
		l.add(b.Note)
	case PageBreak:
	}
}

func (l *lines) table(t Table) {
	l.add(t.Caption)
	if len(t.Rows) == 0 {
		l.add(t.EmptyText(), t.Note)
		return
	}
	if t.HasChanges() {
		l.add(ChangedColumn)
	}
	for _, c := range t.Columns {
		l.add(c.Title, c.Unit)
	}
	for _, r := range t.Rows {
		if r.Changed > 0 {
			l.add(strconv.Itoa(r.Changed))
		}
		for _, c := range r.Cells {
			l.add(c.Mark.Symbol(), c.String())
		}
	}
	for _, m := range t.Marks() {
		l.add(m.Symbol(), m.Meaning())
	}
	l.add(t.Note)
}

func (l *lines) statements(s Statements) {
	if len(s.Items) == 0 {
		l.add(NoStatements)
	}
	for i, item := range s.Items {
		l.add(s.StatementID(i), item.Text, item.Source)
	}
}

func (l *lines) findings(f Findings) {
	if len(f.Items) == 0 {
		l.add(NoFindings)
		return
	}
	l.add(FindingColumns...)
	for _, item := range f.Items {
		l.add(item.Severity.Sign(), item.Severity.Word(), item.Rule, item.Text)
		if item.Waiver != "" {
			l.add(WaiverPrefix, item.Waiver)
		}
	}
}

func (l *lines) buttons(b Buttons) {
	l.add(b.Station, b.Where)
	for _, i := range b.Items {
		l.add(strconv.Itoa(i.Number), i.Label, i.Action)
	}
}

func (l *lines) checklist(c Checklist) {
	if len(c.Items) == 0 {
		l.add(NoChecks)
		return
	}
	l.add(ChecklistColumns...)
	for _, i := range c.Items {
		l.add(i.Number, i.Subject, i.Text, i.PrintedVerdict(), i.Comment, i.Answer)
	}
}

func (l *lines) signatures(s Signatures) {
	for _, i := range s.Items {
		l.add(i.Role)
		l.add(SignatureLines...)
		l.add(i.Name, i.Date, i.State)
	}
}

// PrintedVerdict is the verdict, or the word for an item that nobody has answered.
func (c CheckLine) PrintedVerdict() string {
	if c.Verdict == "" {
		return PendingVerdict
	}
	return c.Verdict
}
