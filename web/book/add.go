package book

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/store"
	"scopewright/web/edits"
)

type equipmentType = equipment.Type

// mostTypes bounds a book.
const mostTypes = 1000

// add adds a type made from another: one of the book, or a built-in one, which
// comes under its own name.
func (s Screen) add(w http.ResponseWriter, r *http.Request) {
	from, name := r.PostFormValue("from"), r.PostFormValue("name")
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) { return addType(p, from, name) })
	s.desk().Done(w, r, outcome, err, "")
}

// duplicate copies the type of a row.
func (s Screen) duplicate(w http.ResponseWriter, r *http.Request) {
	_, id := edits.Row(r)
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) { return addType(p, string(id), "") })
	s.desk().Done(w, r, outcome, err, "")
}

func addType(p *domain.Project, from, name string) (string, error) {
	model, own := p.Book.Find(from), true
	if model == nil {
		model, own = equipment.Generic().Find(from), false
	}
	if model == nil {
		return "", edits.Refusef("choose a type to copy from: this one is no longer there")
	}
	if len(p.Book) >= mostTypes {
		return "", edits.Refusef("the book holds %d types; more do not fit", mostTypes)
	}
	t := *model
	t.Dims = slices.Clone(model.Dims)
	clean, err := domain.CleanLine(name, domain.MaxName)
	if err != nil {
		return "", edits.Refusef("name: %w", err)
	}
	switch {
	case clean != "" && named(p.Book, clean, ""):
		return "", edits.Refusef("the book has a type named %s already: choose another name", clean)
	case clean != "":
		t.Name = clean
	case own:
		t.Name = freeName(p.Book, model.Name)
	}
	if own {
		t.Source = ""
	}
	t.ID, t.Seq = freeID(p.Book, t.ID), nextSeq(p.Book)
	p.Book = append(p.Book, t)
	return "added equipment type " + t.Name, nil
}

func freeName(b equipment.Book, name string) string {
	for n := 2; ; n++ {
		copied := name + " (" + strconv.Itoa(n) + ")"
		if !named(b, copied, "") {
			return copied
		}
	}
}

// freeID gives an ID like the model's: "lc-4", "lc-4-v2", "lc-4-v3", ... It
// stays the type's for good, because rooms name it.
func freeID(b equipment.Book, id string) string {
	if b.Find(id) == nil {
		return id
	}
	stem, _, _ := strings.Cut(id, "-v")
	if len(stem) > 32 {
		stem = stem[:32]
	}
	for n := 2; ; n++ {
		if try := stem + "-v" + strconv.Itoa(n); b.Find(try) == nil {
			return try
		}
	}
}

func nextSeq(b equipment.Book) int {
	n := 0
	for i := range b {
		n = max(n, b[i].Seq)
	}
	return n + 1
}

// remove takes a type out of the book, unless devices are of it.
func (s Screen) remove(w http.ResponseWriter, r *http.Request) {
	_, id := edits.Row(r)
	outcome, err := edits.Unused(r, s.Store, edits.OfDevices, func(tx *store.Tx, uses edits.Uses) (string, error) {
		p, err := tx.Project()
		if err != nil {
			return "", err
		}
		t := p.Book.Find(string(id))
		if t == nil {
			return "", edits.Refusef("this type is no longer there: it may have been removed in another window")
		}
		if u := uses.Of(string(id)); !u.None() {
			return "", edits.Refusef("%s is used in %s: give their devices another type first", t.Name, u.Where())
		}
		said := "removed equipment type " + t.Name
		p.Book = slices.DeleteFunc(p.Book, func(x equipmentType) bool { return x.ID == string(id) })
		return said, tx.PutProject(p)
	})
	s.desk().Done(w, r, outcome, err, "")
}
