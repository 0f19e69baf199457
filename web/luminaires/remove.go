package luminaires

import (
	"net/http"
	"slices"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
)

// remove takes a type out of the schedule, unless loads use it.
func (s Screen) remove(w http.ResponseWriter, r *http.Request) {
	_, id := edits.Row(r)
	outcome, err := edits.Unused(r, s.Store, edits.OfLuminaires, func(tx *store.Tx, uses edits.Uses) (string, error) {
		p, err := tx.Project()
		if err != nil {
			return "", err
		}
		l := p.Luminaire(id)
		if l == nil {
			return "", edits.Refusef("this luminaire type is no longer there: it may have been removed in another window")
		}
		if u := uses.Of(string(id)); !u.None() {
			return "", edits.Refusef("type %s is used in %s: give their loads another type first", l.Tag, u.Where())
		}
		said := "removed luminaire type " + l.Tag
		p.Luminaires = slices.DeleteFunc(p.Luminaires, func(x domain.Luminaire) bool { return x.ID == id })
		return said, tx.PutProject(p)
	})
	s.desk().Done(w, r, outcome, err, "")
}
