package code

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/web/edits"
)

// anySpace stands in addresses of rows for any kind of space.
const anySpace = "any"

// rowPath gives the address of a row: "duty/full_off.corridor".
func rowPath(c *domain.CodeChange) string {
	of := c.Space
	if of == domain.AnyCodeSpace {
		of = anySpace
	}
	switch c.Kind {
	case domain.FigureRow:
		return "figure/" + string(c.Control) + "." + c.Name
	case domain.DutyRow:
		return "duty/" + string(c.Control) + "." + of
	}
	return "density/" + of
}

// readRow reads what a row is of from its address.
func readRow(path string) (of domain.CodeChange, ok bool) {
	kind, rest, _ := strings.Cut(path, "/")
	control, last, dotted := strings.Cut(rest, ".")
	of = domain.CodeChange{Kind: domain.CodeRow(kind)}
	switch of.Kind {
	case domain.FigureRow:
		of.Control, of.Name = domain.CodeControl(control), last
	case domain.DutyRow:
		of.Control, of.Space = domain.CodeControl(control), last
	case domain.DensityRow:
		of.Space, dotted = rest, true
	}
	if of.Space == anySpace {
		of.Space = domain.AnyCodeSpace
	}
	return of, dotted && possible(&of)
}

// possible tells that a row is one that a code can have.
func possible(of *domain.CodeChange) bool {
	known := energycode.BaseOf(&domain.CodeWorksheet{}).Space(of.Space) != nil
	switch of.Kind {
	case domain.FigureRow:
		return energycode.Control(of.Control).Known() && of.Name != ""
	case domain.DutyRow:
		return energycode.Control(of.Control).Known() && (known || of.Space == domain.AnyCodeSpace)
	}
	return of.Kind == domain.DensityRow && known
}

// rowNow gives a row as the worksheet has it: its own, else its base's.
func rowNow(w *domain.CodeWorksheet, of domain.CodeChange) (row domain.CodeChange, changed bool) {
	if own := w.Change(of.Key()); own != nil {
		return *own, true
	}
	row, _ = energycode.BaseOf(w).RowOf(of)
	return row, false
}

func fieldsOf(kind domain.CodeRow) []domain.Field[domain.CodeChange] {
	switch kind {
	case domain.FigureRow:
		return domain.FigureFields
	case domain.DutyRow:
		return domain.DutyFields
	}
	return domain.DensityFields
}

// setSheet changes a worksheet of the project, as one step.
func (s Screen) setSheet(w http.ResponseWriter, r *http.Request, change func(*domain.Project, *domain.CodeWorksheet) (string, error)) {
	desk := s.sheetDesk(r)
	outcome, err := desk.Apply(r, func(p *domain.Project) (string, error) {
		sheet := p.Worksheet(sheetID(r))
		if sheet == nil {
			return "", noSheet(r)
		}
		before := slices.Clone(sheet.Changes)
		said, err := change(p, sheet)
		if err == nil && sheet.Confirmed != "" && !slices.Equal(before, sheet.Changes) {
			sheet.Confirmed = "" // what was read was another figure
			said += "; the worksheet is no longer confirmed"
		}
		return said, err
	})
	desk.Done(w, r, outcome, err, "")
}

// setRow stores cells of the worksheet, one or a pasted block, as one step.
func (s Screen) setRow(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.setSheet(w, r, func(p *domain.Project, sheet *domain.CodeWorksheet) (string, error) {
		return edits.SetEach(cells, func(c edits.Cell) (string, error) { return setCell(p, sheet, c) })
	})
}

func setCell(p *domain.Project, w *domain.CodeWorksheet, c edits.Cell) (string, error) {
	env := domain.Env{Project: p}
	if name, head := strings.CutPrefix(c.Path, "head/"); head && name != "confirmed" {
		said, err := edits.SetField(env, domain.WorksheetFields, w, c, name, "worksheet "+w.Title)
		if err == nil {
			if err = freeTitle(p, w); err != nil {
				err = c.Refusef("%w", err)
			}
		}
		return said, err
	}
	at := strings.LastIndex(c.Path, "/")
	of, ok := readRow(c.Path[:max(at, 0)])
	if !ok {
		return "", c.Refusef("there is no field %q", c.Path)
	}
	row, own := rowNow(w, of)
	before := row
	said, err := edits.SetField(env, fieldsOf(of.Kind), &row, c, c.Path[at+1:], "worksheet "+w.Title+", "+of.Of())
	if err != nil {
		return "", err
	}
	if !own {
		asOwn(&row, &before)
	}
	if err := energycode.SetRow(w, row); err != nil {
		return "", c.Refusef("%s", oneLine(err))
	}
	return said, nil
}

// asOwn takes from a row that a person changed the word of the base's source for it: what
// it says now was not seen there. A figure without a sign takes the usual one.
func asOwn(row, before *domain.CodeChange) {
	if row.Kind == domain.FigureRow && row.Sign == "" && row.Value != 0 {
		row.Sign = domain.CodeSign(energycode.UsualSign(energycode.Control(row.Control), row.Name))
	}
	a, b := *row, *before
	a.Clause, a.Mark, a.Source, a.Note, b.Clause, b.Mark, b.Source, b.Note = "", "", "", "", "", "", "", ""
	if a != b && row.Mark == before.Mark && row.Source == before.Source {
		row.Mark, row.Source, row.Note = "memory", "", ""
	}
}

func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }

// writeRow writes a whole row from a form.
func (s Screen) writeRow(w http.ResponseWriter, r *http.Request) {
	of, ok := readRow(r.PostFormValue("row"))
	s.setSheet(w, r, func(p *domain.Project, sheet *domain.CodeWorksheet) (string, error) {
		if !ok {
			return "", edits.Refusef("choose the row to write")
		}
		base, _ := energycode.BaseOf(sheet).RowOf(of)
		row := domain.CodeChange{Kind: of.Kind, Control: of.Control, Name: of.Name, Space: of.Space, Unit: base.Unit}
		env := domain.Env{Project: p}
		for _, f := range fieldsOf(of.Kind) {
			if err := f.Set(env, &row, r.PostFormValue(f.Name)); err != nil {
				return "", edits.Refusef("%s: %w", f.Title, err)
			}
		}
		if err := energycode.SetRow(sheet, row); err != nil {
			return "", edits.Refusef("%s", oneLine(err))
		}
		return "worksheet " + sheet.Title + ", " + row.Of() + ": " + row.Says(), nil
	})
}

// revertRow takes a change back, so that the base's row holds again.
func (s Screen) revertRow(w http.ResponseWriter, r *http.Request) {
	of, ok := readRow(r.PostFormValue("row"))
	s.setSheet(w, r, func(_ *domain.Project, sheet *domain.CodeWorksheet) (string, error) {
		if !ok || sheet.Change(of.Key()) == nil {
			return "", edits.Refusef("this row is not changed: there is nothing to take back")
		}
		sheet.Revert(of.Key())
		return "worksheet " + sheet.Title + ", " + of.Of() + ": the base's again", nil
	})
}

// takeOutRow leaves the code without a row.
func (s Screen) takeOutRow(w http.ResponseWriter, r *http.Request) {
	of, ok := readRow(r.PostFormValue("row"))
	s.setSheet(w, r, func(_ *domain.Project, sheet *domain.CodeWorksheet) (string, error) {
		if !ok {
			return "", edits.Refusef("choose the row to take out")
		}
		row, _ := rowNow(sheet, of)
		gone := domain.CodeChange{Kind: of.Kind, Control: of.Control, Name: of.Name, Space: of.Space, Unit: row.Unit, Mark: "memory"}
		if err := energycode.SetRow(sheet, gone); err != nil {
			return "", edits.Refusef("%s", oneLine(err))
		}
		return "worksheet " + sheet.Title + ", " + of.Of() + ": taken out", nil
	})
}

// readBy refuses a day that is none or has not come.
func readBy(date string, now time.Time) error {
	day, err := time.ParseInLocation(time.DateOnly, date, now.Location())
	switch {
	case err != nil:
		return edits.Refusef("%q is no day: write it like %s", date, now.Format(time.DateOnly))
	case day.After(now):
		return edits.Refusef("%s has not come yet: give the day on which the adopted text was read, today or before", date)
	}
	return nil
}

// confirmSheet notes who has read the adopted text beside the worksheet, and when; an
// empty name takes the word back.
func (s Screen) confirmSheet(w http.ResponseWriter, r *http.Request) {
	s.setSheet(w, r, func(p *domain.Project, sheet *domain.CodeWorksheet) (string, error) {
		who, date := strings.TrimSpace(r.PostFormValue("who")), strings.TrimSpace(r.PostFormValue("date"))
		if r.PostFormValue("withdraw") != "" {
			who, date = "", ""
		} else if who == "" || date == "" {
			return "", edits.Refusef("say who has read the adopted text beside the worksheet, and when")
		} else if err := readBy(date, s.Now()); err != nil {
			return "", err
		}
		text := who
		if date != "" {
			text += ", " + date
		}
		f, _ := domain.FieldNamed(domain.WorksheetFields, "confirmed")
		if err := f.Set(domain.Env{Project: p}, sheet, text); err != nil {
			return "", edits.Refusef("%w", err)
		}
		if text == "" {
			return "worksheet " + sheet.Title + ": no longer confirmed", nil
		}
		return "worksheet " + sheet.Title + ": confirmed by " + text, nil
	})
}
