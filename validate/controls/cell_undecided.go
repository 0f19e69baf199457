package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// CellUndecided looks for empty cells in rows of the matrix that say something
// for other loads.
var CellUndecided = rule.Rule{
	ID: "controls-cell-undecided", Title: "Matrix cell not decided", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "An empty cell may mean nothing on purpose or not thought of; the installer cannot tell, and the sheet prints a question mark.",
	Source:  commonPractice,
	Example: "A button with a cell for each of five loads passes; where the fifth is empty, 1 cell is undecided. Rows with nothing in them are other rules'.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			if d := &f.Devices[i]; d.Traits.Links && !d.Traits.OwnOnly {
				if n := openCells(f, d); n > 0 {
					out = append(out, undecided(f, d, n))
				}
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Link("st", 3, domain.Press, "l4", "") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Link("st", 3, domain.Press, "l4", "-") },
}

// row is what the matrix holds for one button or input and gesture.
type row struct {
	cells int
	does  bool
}

const mostInputs = 64 // of a device: the book allows no more

// rowsOf counts the cells of a device by gesture (held or not) and button.
func rowsOf(f *rule.Facts, d *rule.Device) (rows [2][mostInputs + 1]row) {
	for i := range f.Links {
		k := &f.Links[i]
		if k.From != d || k.To == nil || k.Do.Verb == "" || k.Button > mostInputs || !k.Fits {
			continue
		}
		r := &rows[held(k.On)][k.Button]
		r.cells++
		r.does = r.does || k.Does()
	}
	return rows
}

func held(on domain.Gesture) int {
	if on == domain.Hold {
		return 1
	}
	return 0
}

func openCells(f *rule.Facts, d *rule.Device) int {
	n := 0
	rows := rowsOf(f, d)
	for g := range rows {
		for b := range rows[g] {
			if r := rows[g][b]; r.does {
				n += len(f.Loads) - r.cells
			}
		}
	}
	return n
}

func undecided(f *rule.Facts, d *rule.Device, n int) rule.Finding {
	rows := rowsOf(f, d)
	out := rule.AtMost(float64(n), 0, "cells")
	out.Key, out.Subjects = string(d.ID), []rule.Subject{d.Subject()}
	var pairs, named []string
	for b := range rows[0] {
		for g := range rows {
			if !rows[g][b].does {
				continue
			}
			in := domain.Input{Device: d.ID, Button: b, On: gesture(d, g)}
			for i := range f.Loads {
				l := &f.Loads[i]
				if f.Design.Link(in, l.ID) != nil {
					continue
				}
				pairs = append(pairs, "links/"+string(domain.LinkID(in.Device, in.Button, in.On, l.ID)), "-")
				if len(named) < 4 {
					named = append(named, where(d, in)+" on "+rule.Named(l.Tag))
				}
			}
		}
	}
	list := domain.JoinWords(named)
	if n > len(named) {
		list = fmt.Sprintf("%s and %d more", domain.JoinWords(named[:len(named)-1]), n-len(named)+1)
	}
	out.Message = fmt.Sprintf("%s of %s not decided (%s): write what happens, or - for nothing.", rule.Many(n, "cell"), rule.Named(d.Tag), list)
	out.Fix = rule.SetFields("Write - in the empty cells", pairs...)
	return out
}

func gesture(d *rule.Device, g int) domain.Gesture {
	switch {
	case !d.Traits.Buttons:
		return ""
	case g == 1:
		return domain.Hold
	}
	return domain.Press
}
