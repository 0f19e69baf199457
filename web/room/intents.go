package room

import (
	"fmt"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/web/ui"
)

// statementGroup is the intents of one kind.
type statementGroup struct {
	Kind domain.IntentKind
	List []statement
}

// statement is one intent as a sentence with its fields in it, above the
// sentence that prints.
type statement struct {
	ID       string // "intents/i2"
	Name     string // "Presence, 1 of 2"
	Sentence string
	Says     []piece
	Folds    []fold
	Actions  []ui.RowAction
}

// fold is what of a statement is seldom set; it is open where something is.
type fold struct {
	ID, Title string
	Open      bool
	Pieces    []piece
}

// piece is words, or a field with the comma or full stop behind it.
type piece struct {
	Words string
	Slot  *slot
}

// slot is one field of an intent within its sentence.
type slot struct {
	ui.Cell
	ID, Name, Hint, Blank string
	Choices               []domain.Choice
	Several               []domain.Ticked
}

// shown gives what the slot reads as.
func (s *slot) shown() string {
	if s.Text == "" {
		return s.Blank
	}
	for _, c := range s.Choices {
		if c.Value == s.Text {
			return c.Label
		}
	}
	return s.Text
}

// chosen tells that a choice is the slot's value.
func (s *slot) chosen(c domain.Choice) bool {
	return c.Value == s.Text || c.Label == s.Text || s.Text == "" && c.Label == s.Blank
}

func (b *bench) statements() []statementGroup {
	var out []statementGroup
	for _, kind := range domain.IntentKinds() {
		g := statementGroup{Kind: kind}
		total := 0
		for i := range b.design.Intents {
			if b.design.Intents[i].Kind == kind {
				total++
			}
		}
		for i := range b.design.Intents {
			if in := &b.design.Intents[i]; in.Kind == kind {
				g.List = append(g.List, b.statement(in, len(g.List)+1, total))
			}
		}
		if total > 0 {
			out = append(out, g)
		}
	}
	return out
}

// statementOf gives the statement of one intent.
func (b *bench) statementOf(id domain.ID) (statement, bool) {
	in := b.design.Intent(id)
	if in == nil {
		return statement{}, false
	}
	at, total := 0, 0
	for i := range b.design.Intents {
		if b.design.Intents[i].Kind != in.Kind {
			continue
		}
		if total++; b.design.Intents[i].ID == id {
			at = total
		}
	}
	return b.statement(in, at, total), true
}

func (b *bench) statement(in *domain.Intent, n, total int) statement {
	s := statement{ID: "intents/" + string(in.ID), Name: in.Kind.Title(), Sentence: in.Sentence(b.env())}
	if total > 1 {
		s.Name += ", " + fmt.Sprintf("%d of %d", n, total)
	}
	w := phrasing{b: b, in: in, path: s.ID, name: s.Name}
	phrase := domain.PhraseOf(in.Kind)
	s.Says, _ = w.pieces(phrase.Says)
	for _, f := range []struct {
		title   string
		clauses []domain.Clause
	}{{"More", phrase.More}, {"Condition", phrase.Condition}} {
		pieces, set := w.pieces(f.clauses)
		s.Folds = append(s.Folds, fold{ID: ui.DOMID(strings.ToLower(f.title) + "-" + s.ID), Title: f.title, Open: set, Pieces: pieces})
	}
	if !b.locked {
		s.Actions = b.rowActions("intent")
	}
	return s
}

// phrasing fills the clauses of one intent.
type phrasing struct {
	b          *bench
	in         *domain.Intent
	path, name string
}

// pieces gives the clauses that hold, and whether a field in them is set.
func (w phrasing) pieces(clauses []domain.Clause) (out []piece, set bool) {
	for _, c := range clauses {
		if !c.Holds(w.in) {
			continue
		}
		for _, p := range c.Pieces {
			if p.Field == "" {
				out = appendWords(out, p.Words)
				continue
			}
			s, filled := w.slot(p)
			out, set = append(out, piece{Slot: s}), set || filled
		}
	}
	return out, set
}

// appendWords adds words; a sign that they begin with goes to the field before.
func appendWords(list []piece, words string) []piece {
	if sign := words[:1]; strings.ContainsAny(sign, ".,;:") && len(list) > 0 && list[len(list)-1].Slot != nil {
		list[len(list)-1].Words = sign
		words = strings.TrimSpace(words[1:])
	}
	if words == "" {
		return list
	}
	return append(list, piece{Words: words})
}

// slot fills one field, and tells whether anything is set in it.
func (w phrasing) slot(p domain.Piece) (s *slot, filled bool) {
	f, err := domain.IntentFieldNamed(p.Field)
	if err != nil { // a test says that each slot has its field
		return &slot{}, false
	}
	env, blank := w.b.env(), domain.Intent{Kind: w.in.Kind}
	path := w.path + "/" + p.Field
	s = &slot{Cell: ui.Cell{Path: path, Text: f.Show(env, w.in)}, ID: "s-" + ui.DOMID(path), Name: w.name + ": " + strings.ToLower(f.Title), Hint: f.Hint, Blank: p.Blank}
	if filled = s.Text != f.Show(env, &blank); !filled && p.Blank != "" {
		s.Text = ""
	}
	switch {
	case p.Yes != "":
		s.Choices = []domain.Choice{{Value: "yes", Label: p.Yes}, {Value: "no", Label: p.No}}
	case f.Choices != nil:
		s.Choices = complete(f.Choices(env, w.in), s)
	}
	if f.Several != nil {
		s.Several = f.Several(env, w.in)
	}
	cells := []ui.Cell{s.Cell}
	w.b.markExceptions(cells)
	s.Cell = cells[0]
	return s, filled
}

// complete adds the empty choice, and the slot's value where it is no longer
// among the choices: the page must show what is stored.
func complete(choices []domain.Choice, s *slot) []domain.Choice {
	if len(choices) == 0 {
		return nil
	}
	none, known := true, s.Text == ""
	for _, c := range choices {
		none, known = none && c.Value != "" && c.Label != s.Blank, known || s.chosen(c)
	}
	out := make([]domain.Choice, 0, len(choices)+2)
	if none {
		out = append(out, domain.Choice{Label: s.Blank})
	}
	out = append(out, choices...)
	if !known {
		out = append(out, domain.Choice{Value: s.Text, Label: s.Text})
	}
	return out
}

// slotAt gives the slot of a path, nil where there is none.
func (b *bench) slotAt(path string) *slot {
	part, rest, _ := strings.Cut(path, "/")
	id, _, _ := strings.Cut(rest, "/")
	if part != "intents" {
		return nil
	}
	s, ok := b.statementOf(domain.ID(id))
	if !ok {
		return nil
	}
	lists := [][]piece{s.Says}
	for _, f := range s.Folds {
		lists = append(lists, f.Pieces)
	}
	for _, list := range lists {
		for _, p := range list {
			if p.Slot != nil && p.Slot.Path == path {
				return p.Slot
			}
		}
	}
	return nil
}

// size is the width of a text slot in letters.
func size(s *slot) string { return strconv.Itoa(min(max(len([]rune(s.shown())), 4), 40) + 1) }
