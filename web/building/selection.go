package building

import (
	"encoding/hex"
	"fmt"
	"hash/fnv"
	"net/http"
	"slices"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
)

// bulk is one edit of many rooms before it is made: which rooms, what is to be
// done with them, and what the project holds.
type bulk struct {
	Do       string // which of the operations
	Form     map[string][]string
	Project  *domain.Project
	Typicals []store.TypicalLine
	Lines    []store.RoomLine // selected, in the order in which the table shows them
	All      bool             // all that match the page's filters
	Taken    taken
	Kinds    map[domain.ID]kind // where that is asked for
	Rooms    int                // of the whole project
}

// value gives a field of the form, "" where there is none.
func (b *bulk) value(name string) string {
	if v := b.Form[name]; len(v) > 0 {
		return v[len(v)-1]
	}
	return ""
}

// typical gives a typical of the project, nil where there is none.
func (b *bulk) typical(id string) *domain.Typical {
	for _, t := range b.Typicals {
		if string(t.Typical.ID) == id {
			return t.Typical
		}
	}
	return nil
}

func (b *bulk) ids() []domain.ID {
	out := make([]domain.ID, len(b.Lines))
	for i := range b.Lines {
		out[i] = b.Lines[i].ID
	}
	return out
}

// base holds the revisions that the rooms have now, so that none is changed
// that changed between looking and doing.
func (b *bulk) base() map[string]int64 {
	out := make(map[string]int64, len(b.Lines))
	for i := range b.Lines {
		out[edits.Subject("room", b.Lines[i].ID)] = b.Lines[i].Revision
	}
	return out
}

// stamp tells one selection in one state from another.
func (b *bulk) stamp() string {
	h := fnv.New128a()
	for i := range b.Lines {
		l := &b.Lines[i]
		fmt.Fprintf(h, "%s %d %s\n", l.ID, l.Revision, l.TypicalID)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// selected reads the selection of a request.
func (s Screen) selected(r *http.Request) (*bulk, error) {
	if err := r.ParseForm(); err != nil {
		return nil, edits.Refusef("the form could not be read: reload the page and try again")
	}
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		return nil, err
	}
	b := &bulk{Do: r.PostForm.Get("do"), Form: r.PostForm, Project: p, All: r.PostForm.Get("all") != ""}
	if b.Typicals, err = s.Store.Typicals(r.Context(), p.ID); err != nil {
		return nil, err
	}
	var every []store.RoomLine
	if b.Taken, every, err = s.readTaken(r.Context(), p); err != nil {
		return nil, err
	}
	b.Rooms = len(every)
	if b.All {
		b.Lines, _, err = s.Store.RoomLines(r.Context(), p.ID, readQuery(edits.Query(r)).filter())
	} else {
		b.Lines = pick(every, r.PostForm["room"])
	}
	if err == nil && len(b.Lines) == 0 {
		err = edits.Refusef("select rooms first: tick them at the left of the table")
	}
	if err == nil && b.Do == "kind" {
		b.Kinds, err = s.readKinds(r.Context(), b.Lines)
	}
	return b, err
}

func pick(lines []store.RoomLine, ids []string) []store.RoomLine {
	return slices.DeleteFunc(lines, func(l store.RoomLine) bool { return !slices.Contains(ids, string(l.ID)) })
}
