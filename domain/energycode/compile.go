package energycode

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"scopewright/domain"
)

// BadRow is a change of a worksheet that cannot hold, with the reason. The base's row
// holds in its place.
type BadRow struct {
	Change *domain.CodeChange
	Err    error
}

// blank is what worksheets without a base start from.
var blank = sync.OnceValue(func() *Pack { return BlankWorksheet("blank", "Blank") })

// BaseOf gives the pack from which a worksheet starts: the built-in one that it names,
// else the blank one. It is shared and must not be changed.
func BaseOf(w *domain.CodeWorksheet) *Pack {
	if p := Find(string(w.Base)); p != nil {
		return p
	}
	return blank()
}

// Compile gives the pack that a worksheet comes to: its base with the rows that it has
// otherwise. Rows that no check could read, which only a file from elsewhere can hold,
// are told and left out.
func Compile(w *domain.CodeWorksheet) (*Pack, []BadRow) {
	base := BaseOf(w)
	p := &Pack{ID: fileID(w.ID), Code: or(w.Code, base.Code), Edition: or(w.Edition, base.Edition), Amendments: w.Amendments, Title: w.Title, Note: or(w.Note, base.Note),
		ZoneRules: or(string(w.ZoneRules), base.ZoneRules), Confirmed: w.Confirmed, own: true,
		Spaces: slices.Clone(base.Spaces), Parameters: slices.Clone(base.Parameters), Requirements: slices.Clone(base.Requirements), Densities: slices.Clone(base.Densities)}
	p.reindex()
	var bad []BadRow
	out := map[domain.ID]bool{}
	for i := range w.Changes {
		c := &w.Changes[i]
		if takesOut(c) {
			out[c.Key()] = true
		} else if err := p.change(c); err != nil {
			bad = append(bad, BadRow{c, err})
		}
	}
	p.without(out)
	p.reindex()
	return p, bad
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// fileID gives a worksheet's ID as a worksheet file may have it.
func fileID(id domain.ID) string {
	text := strings.TrimLeft(strings.ReplaceAll(string(id), ":", "-"), "-.")
	if text = text[:min(len(text), 80)]; text == "" {
		return "worksheet"
	}
	return text
}

// without takes rows out of the pack, by the IDs that their changes have.
func (p *Pack) without(out map[domain.ID]bool) {
	if len(out) == 0 {
		return
	}
	p.Parameters = slices.DeleteFunc(p.Parameters, func(q Parameter) bool { return out[q.Change().ID] })
	p.Requirements = slices.DeleteFunc(p.Requirements, func(r Requirement) bool { return out[r.Change().ID] })
	p.Densities = slices.DeleteFunc(p.Densities, func(d Density) bool { return out[d.Change().ID] })
}

// change lays one change over the pack, whose index is that of before all changes: a
// worksheet has one change of a row.
func (p *Pack) change(c *domain.CodeChange) error {
	if err := p.checkRow(c); err != nil {
		return err
	}
	switch c.Kind {
	case domain.FigureRow:
		q := figureOf(c)
		p.Parameters = put(p.Parameters, p.index.parameters, parameterKey{q.Control, q.Name}, q)
	case domain.DutyRow:
		r := dutyOf(c)
		p.Requirements = put(p.Requirements, p.index.requirements, requirementKey{r.Space, r.Control}, r)
	case domain.DensityRow:
		d := densityOf(c)
		p.Densities = put(p.Densities, p.index.densities, d.Space, d)
	}
	return nil
}

func put[K comparable, R any](rows []R, at map[K]int, key K, row R) []R {
	if i, known := at[key]; known {
		rows[i] = row
		return rows
	}
	return append(rows, row)
}

// takesOut tells that a change leaves the code without the row.
func takesOut(c *domain.CodeChange) bool {
	switch c.Kind {
	case domain.FigureRow:
		return c.Sign == "" && c.Words == "" && c.Value == 0
	case domain.DutyRow:
		return c.Duty == ""
	}
	return c.Kind == domain.DensityRow && c.Value == 0
}

func basisOf(c *domain.CodeChange) Basis { return Basis{c.Clause, Mark(c.Mark), c.Source, c.Note} }

func figureOf(c *domain.CodeChange) Parameter {
	return Parameter{Control: Control(c.Control), Name: c.Name, Sign: Sign(c.Sign), Value: c.Value, Unit: c.Unit, Words: c.Words, Basis: basisOf(c)}
}

func dutyOf(c *domain.CodeChange) Requirement {
	return Requirement{Space: c.Space, Control: Control(c.Control), Duty: Duty(c.Duty), Reduction: c.Share, Each: c.Each, Also: Control(c.Also), Basis: basisOf(c)}
}

func densityOf(c *domain.CodeChange) Density {
	return Density{Space: c.Space, WattsFt2: c.Value, Basis: basisOf(c)}
}

// Change gives the figure as a worksheet's row.
func (q *Parameter) Change() domain.CodeChange {
	return keyed(domain.CodeChange{Kind: domain.FigureRow, Control: domain.CodeControl(q.Control), Name: q.Name, Sign: domain.CodeSign(q.Sign), Value: q.Value, Unit: q.Unit, Words: q.Words}, &q.Basis)
}

// Change gives the requirement as a worksheet's row.
func (r *Requirement) Change() domain.CodeChange {
	return keyed(domain.CodeChange{Kind: domain.DutyRow, Space: r.Space, Control: domain.CodeControl(r.Control), Duty: domain.CodeDuty(r.Duty), Share: r.Reduction, Each: r.Each, Also: string(r.Also)}, &r.Basis)
}

// Change gives the density as a worksheet's row.
func (d *Density) Change() domain.CodeChange {
	return keyed(domain.CodeChange{Kind: domain.DensityRow, Space: d.Space, Value: d.WattsFt2}, &d.Basis)
}

func keyed(c domain.CodeChange, b *Basis) domain.CodeChange {
	c.Clause, c.Mark, c.Source, c.Note = b.Clause, domain.CodeMark(b.Mark), b.Source, b.Note
	c.ID = c.Key()
	return c
}

// RowOf gives the row of a pack that a change would be of, as one; known is false
// where the pack has none, and the row is then empty but for what it is of and, of a
// figure, its unit.
func (p *Pack) RowOf(of domain.CodeChange) (row domain.CodeChange, known bool) {
	switch of.Kind {
	case domain.FigureRow:
		if q := p.Parameter(Control(of.Control), of.Name); q != nil {
			return q.Change(), true
		}
	case domain.DutyRow:
		if i, ok := p.index.requirements[requirementKey{of.Space, Control(of.Control)}]; ok {
			return p.Requirements[i].Change(), true
		}
	case domain.DensityRow:
		if d := p.Density(of.Space); d != nil {
			return d.Change(), true
		}
	}
	row = domain.CodeChange{Kind: of.Kind, Control: of.Control, Name: of.Name, Space: of.Space, Mark: domain.CodeMark(Memory)}
	if of.Kind == domain.FigureRow {
		row.Unit = knownFigures()[parameterKey{Control(of.Control), of.Name}].unit
	}
	row.ID = row.Key()
	return row, false
}

// SetRow writes a row into a worksheet. One that reads as the base's is no change, and
// one that takes out what the base has not is none either. The error says what is wrong
// with the row, or that the worksheet is full.
func SetRow(w *domain.CodeWorksheet, c domain.CodeChange) error {
	base := BaseOf(w)
	c.ID = c.Key()
	row, known := base.RowOf(c)
	if known && row == c || !known && takesOut(&c) {
		w.Revert(c.ID)
		return nil
	}
	if takesOut(&c) {
		if c.Mark == "" {
			c.Mark = domain.CodeMark(Memory)
		}
	} else if err := base.checkRow(&c); err != nil {
		return err
	}
	if w.Change(c.ID) == nil && len(w.Changes) >= domain.MaxCodeChanges {
		return fmt.Errorf("the worksheet has %d changed rows; more do not fit", domain.MaxCodeChanges)
	}
	w.Put(c)
	return nil
}

func (p *Pack) checkRow(c *domain.CodeChange) error {
	switch c.Kind {
	case domain.FigureRow:
		q := figureOf(c)
		return q.check()
	case domain.DutyRow:
		r := dutyOf(c)
		return r.check(p)
	case domain.DensityRow:
		d := densityOf(c)
		return d.check(p)
	}
	return fmt.Errorf("kind %q is not known: use figure, duty or density", short(string(c.Kind)))
}

// FigureNames lists the figures of a control that checks read as numbers, which a
// worksheet may state.
func FigureNames(c Control) []string {
	var out []string
	for key := range knownFigures() {
		if key.control == c {
			out = append(out, key.name)
		}
	}
	slices.Sort(out)
	return out
}

// UsualSign gives the sign with which a figure is usually stated, empty for one that no
// check reads as a number.
func UsualSign(c Control, name string) Sign {
	if f, known := knownFigures()[parameterKey{c, name}]; known {
		return f.signs[0]
	}
	return ""
}
