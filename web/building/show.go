package building

import (
	"net/http"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// show answers with the page or, to filters that were changed in it, with what
// it then shows.
func (s Screen) show(w http.ResponseWriter, r *http.Request) {
	if ui.IsFragment(r) {
		r.Header.Set("HX-Current-URL", r.URL.String()) // the page is about to have this address
		s.desk().Fresh(w, r)
		return
	}
	s.desk().Show(w, r)
}

// state is everything that the page is made of, at one moment.
type state struct {
	Project  *domain.Project
	Revision int64
	Query    query
	Lines    []store.RoomLine
	Found    int // rooms that pass the filters
	Totals   []store.StoreyTotals
	Typicals []store.TypicalLine
	Kinds    map[domain.ID]kind // of the rooms of the page
}

func (s Screen) load(r *http.Request) (edits.View, error) {
	st, err := s.read(r)
	if err != nil {
		return edits.View{}, err
	}
	var found []findingView
	if !st.large() {
		if found, err = s.findings(r.Context(), st.Project); err != nil {
			return edits.View{}, err
		}
	}
	page, err := s.desk().Page(r, st.Project, st.Project.Name, "Rooms")
	page.Crumbs = []ui.Crumb{{Name: st.Project.Name}}
	return edits.View{Page: page, Base: base(st), Main: content(newView(st, found)), Value: st.value}, err
}

func (s Screen) read(r *http.Request) (*state, error) {
	ctx, id := r.Context(), edits.ProjectID(r)
	st := &state{Query: readQuery(edits.Query(r))}
	var err error
	if st.Project, st.Revision, err = s.Store.Project(ctx, id); err != nil {
		return nil, err
	}
	if st.Lines, st.Found, err = s.Store.RoomLines(ctx, id, st.Query.pageFilter()); err != nil {
		return nil, err
	}
	if last := max(1, (st.Found+perPage-1)/perPage); st.Query.Page > last {
		st.Query.Page = last
		if st.Lines, st.Found, err = s.Store.RoomLines(ctx, id, st.Query.pageFilter()); err != nil {
			return nil, err
		}
	}
	if st.Kinds, err = s.readKinds(ctx, st.Lines); err != nil {
		return nil, err
	}
	if st.Totals, err = s.Store.Totals(ctx, id); err != nil {
		return nil, err
	}
	st.Typicals, err = s.Store.Typicals(ctx, id)
	return st, err
}

// manyRooms is from where on the findings about the whole project are fetched
// after the page: they need a line of every room.
const manyRooms = 1000

func (st *state) large() bool { return add(st.Totals).Rooms > manyRooms }

// base holds the revisions of the rooms and typicals that the page shows. Each
// edit picks out those that it changes.
func base(st *state) string {
	pairs := make([]any, 0, 2*(len(st.Lines)+len(st.Typicals)))
	for i := range st.Lines {
		pairs = append(pairs, edits.Subject("room", st.Lines[i].ID), st.Lines[i].Revision)
	}
	for i := range st.Typicals {
		pairs = append(pairs, edits.Subject("typical", st.Typicals[i].Typical.ID), st.Typicals[i].Revision)
	}
	return edits.FormatBase(pairs...)
}

// only gives the revisions of the named subjects out of those that a request
// was based on.
func only(all map[string]int64, subjects ...string) map[string]int64 {
	out := map[string]int64{}
	for _, subject := range subjects {
		if n, known := all[subject]; known {
			out[subject] = n
		}
	}
	return out
}
