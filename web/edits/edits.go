// Package edits is the one way in which any screen applies an edit, and in
// which it is undone and redone.
package edits

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/ui"
)

// BaseHeader carries the revisions that an edit was based on, as
// "room:r1=12,typical:t1=3".
const BaseHeader = "X-Base-Version"

// Subject names a thing with a revision, as the store does.
func Subject(kind string, id domain.ID) string { return kind + ":" + string(id) }

// Base reads the revisions that a request's edit was based on, from its header
// or from its form field "base".
func Base(r *http.Request) map[string]int64 {
	text := r.Header.Get(BaseHeader)
	if text == "" {
		text = r.FormValue("base")
	}
	base := map[string]int64{}
	for pair := range strings.SplitSeq(text, ",") {
		name, number, _ := strings.Cut(pair, "=")
		if n, err := strconv.ParseInt(number, 10, 64); err == nil {
			base[strings.TrimSpace(name)] = n
		}
	}
	return base
}

// FormatBase writes revisions as Base reads them.
func FormatBase(pairs ...any) string {
	var out []string
	for i := 0; i+1 < len(pairs); i += 2 {
		out = append(out, fmt.Sprintf("%v=%v", pairs[i], pairs[i+1]))
	}
	return strings.Join(out, ",")
}

// Room applies edits to a room in one transaction.
func Room(ctx context.Context, s *store.Store, r *http.Request, project, room domain.ID, list []edit.Edit) (store.Outcome, error) {
	request := store.Request{ProjectID: project, Who: ui.Signed(r), Base: Base(r), Scope: Subject("room", room)}
	return s.Edit(ctx, request, func(tx *store.Tx) (string, error) {
		p, err := tx.Project()
		if err != nil {
			return "", err
		}
		resolved, err := tx.Room(room)
		if err != nil {
			return "", err
		}
		said, err := edit.All(edit.OfRoom(p, resolved), list)
		if err != nil {
			return "", err
		}
		if err := resolved.Settle(); err != nil {
			return "", err
		}
		return said, tx.PutRoom(resolved)
	})
}

// Typical applies edits to a typical in one transaction; the rooms that follow
// are judged anew in it.
func Typical(ctx context.Context, s *store.Store, r *http.Request, project, typical domain.ID, list []edit.Edit) (store.Outcome, error) {
	request := store.Request{ProjectID: project, Who: ui.Signed(r), Base: Base(r), Scope: Subject("typical", typical)}
	return s.Edit(ctx, request, func(tx *store.Tx) (string, error) {
		p, err := tx.Project()
		if err != nil {
			return "", err
		}
		t, err := tx.Typical(typical)
		if err != nil {
			return "", err
		}
		said, err := edit.All(edit.OfTypical(p, t), list)
		if err != nil {
			return "", err
		}
		return said, tx.PutTypical(t)
	})
}

// Project changes what holds for the whole project in one transaction. change
// gets a copy of the project and says what it did.
func Project(ctx context.Context, s *store.Store, r *http.Request, project domain.ID, change func(*domain.Project) (string, error)) (store.Outcome, error) {
	request := store.Request{ProjectID: project, Who: ui.Signed(r), Base: Base(r), Scope: Subject("project", project)}
	return s.Edit(ctx, request, func(tx *store.Tx) (string, error) {
		p, err := tx.Project()
		if err != nil {
			return "", err
		}
		said, err := change(p)
		if err != nil {
			return "", err
		}
		return said, tx.PutProject(p)
	})
}
