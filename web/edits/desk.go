package edits

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"log/slog"
	"net/http"
	"net/url"
	"time"

	"github.com/a-h/templ"
	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/ui"
)

// Desk serves a page on which a project as a whole is edited: it answers every
// edit with the page's content anew, and undoes and redoes on it. A screen
// fills it with where the page lies and how it is read.
type Desk struct {
	Store *store.Store
	Log   *slog.Logger
	Now   func() time.Time
	Path  func(project domain.ID) string
	Load  func(r *http.Request) (View, error)
	// On names the subject whose edits are undone here; nil: the project.
	On func(r *http.Request) string
}

// View is what such a page shows at one moment.
type View struct {
	Page ui.Page
	Base string          // revisions that edits on it are based on
	Main templ.Component // its content, replaced by every answer
	// Value tells of a cell how it is called and what it holds now.
	Value func(path string) (title, now string)

	// Since, where set, answers a page that is open with what is new to it instead
	// of Main: have is the name that the page gave its state by the header X-Have.
	// It gives nothing where nothing is new. Version then stands for the element
	// #version.
	Since   func(have string) []templ.Component
	Version templ.Component
	news    []templ.Component
}

// have is the header by which a page tells what it shows.
const have = "X-Have"

// ProjectID gives the project that a request names.
func ProjectID(r *http.Request) domain.ID { return domain.ID(chi.URLParam(r, "project")) }

// Query gives the query of the page that is open in the browser: that of the
// request itself, or of the page that sent it.
func Query(r *http.Request) url.Values {
	if u, err := url.Parse(r.Header.Get("HX-Current-URL")); err == nil && ui.IsFragment(r) {
		return u.Query()
	}
	return r.URL.Query()
}

// Page starts a page of a project with its saved state.
func (d Desk) Page(r *http.Request, p *domain.Project, title, tab string) (ui.Page, error) {
	page := ui.NewPage(r, title)
	page.Project, page.Tab = p, tab
	page.Crumbs = []ui.Crumb{{Name: p.Name, Path: ui.Project(p.ID)}}
	page.Edits, page.EditsPath = true, d.Path(p.ID)
	var err error
	page.Undo, page.Redo, err = d.Store.UndoState(r.Context(), d.subject(r))
	return page, err
}

// sent is content that was printed, and so escaped, before.
func sent(content []byte) templ.Component {
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
}

// Show answers with the whole page.
func (d Desk) Show(w http.ResponseWriter, r *http.Request) {
	v, err := d.Load(r)
	if err != nil {
		Refuse(w, r, d.Log, err)
		return
	}
	main, err := v.main(r)
	if err != nil {
		Refuse(w, r, d.Log, err)
		return
	}
	if v.Version == nil {
		v.Version = version(v.Base, d.freshPath(r, main))
	}
	Render(w, r, d.Log, http.StatusOK, deskPage(v.Page, d.setPath(r), ui.Live(ProjectID(r)), v.Version, sent(main)))
}

// Fresh answers an open page that heard of a change, unless it shows the
// newest content already.
func (d Desk) Fresh(w http.ResponseWriter, r *http.Request) {
	v, main, err := d.read(r)
	if err != nil {
		Refuse(w, r, d.Log, err)
		return
	}
	if v.Since == nil && r.URL.Query().Get("have") == stamp(main) || v.Since != nil && len(v.news) == 0 {
		w.WriteHeader(http.StatusNoContent)
		return
	}
	Render(w, r, d.Log, http.StatusOK, d.parts(r, v, main)...)
}

// Apply changes the project that a request names.
func (d Desk) Apply(r *http.Request, change func(*domain.Project) (string, error)) (store.Outcome, error) {
	return Project(r.Context(), d.Store, r, ProjectID(r), change)
}

// Done answers an edit: with the content anew, or with why it was refused. The
// toast may be empty.
func (d Desk) Done(w http.ResponseWriter, r *http.Request, outcome store.Outcome, err error, toast string) {
	if err != nil {
		d.refuse(w, r, err)
		return
	}
	if !ui.IsFragment(r) {
		http.Redirect(w, r, d.Path(ProjectID(r)), http.StatusSeeOther)
		return
	}
	v, main, err := d.read(r)
	if err != nil {
		Refuse(w, r, d.Log, err)
		return
	}
	v.Page.Status = ui.Status{State: "saved", Text: "Saved " + d.Now().Format("15:04:05")}
	if !outcome.Changed {
		v.Page.Status.Text = "Nothing changed"
	}
	parts := append(d.parts(r, v, main), ui.Notice("", ""))
	if toast != "" {
		parts = append(parts, ui.Toast(toast))
	}
	Render(w, r, d.Log, http.StatusOK, parts...)
}

// refuse answers an edit that was not stored. A refused cell is named in a
// header, so that the grid can put the words beside it; an edit on an old
// version shows both values.
func (d Desk) refuse(w http.ResponseWriter, r *http.Request, err error) {
	var field *edit.FieldError
	var stale *store.StaleError
	switch {
	case !ui.IsFragment(r):
		Refuse(w, r, d.Log, err)
	case errors.As(err, &field):
		w.Header().Set("HX-Trigger", ui.HeaderJSON(map[string]any{"cell-refused": map[string]string{"path": field.Path, "text": field.Text, "message": field.Error()}}))
		Render(w, r, d.Log, http.StatusUnprocessableEntity, ui.Notice("error", field.Error()))
	case errors.As(err, &stale) && stale.Now > 0:
		d.showConflict(w, r, stale)
	default:
		Refuse(w, r, d.Log, err)
	}
}

// showConflict brings the newer state and puts the person's values beside it.
func (d Desk) showConflict(w http.ResponseWriter, r *http.Request, stale error) {
	v, main, err := d.read(r)
	if err != nil {
		Refuse(w, r, d.Log, err)
		return
	}
	v.Page.Status = ui.Status{State: "conflict", Text: "Not saved"}
	Render(w, r, d.Log, http.StatusConflict, append(d.parts(r, v, main), conflict(stale.Error(), v.against(r)))...)
}

// twoValues is one cell with what a person typed and what it holds now.
type twoValues struct{ Title, Yours, Now string }

func (v View) against(r *http.Request) []twoValues {
	if v.Value == nil {
		return nil
	}
	cells, err := ReadCells(r)
	if err != nil {
		return nil // the request was no edit of cells
	}
	var out []twoValues
	for _, c := range cells {
		if title, now := v.Value(c.Path); now != c.Text {
			out = append(out, twoValues{title, orNone(c.Text), orNone(now)})
		}
	}
	return out
}

// Undo takes back the newest edit that was made on the project as a whole.
func (d Desk) Undo(w http.ResponseWriter, r *http.Request) { d.step(w, r, d.Store.Undo, "Undid: ") }

// Redo carries out again what was undone last.
func (d Desk) Redo(w http.ResponseWriter, r *http.Request) { d.step(w, r, d.Store.Redo, "Redid: ") }

func (d Desk) step(w http.ResponseWriter, r *http.Request, step func(context.Context, store.Request) (store.Outcome, error), verb string) {
	outcome, err := step(r.Context(), store.Request{ProjectID: ProjectID(r), Who: ui.Signed(r), Scope: d.subject(r)})
	d.Done(w, r, outcome, err, verb+outcome.Said)
}

func (d Desk) subject(r *http.Request) string {
	if d.On != nil {
		return d.On(r)
	}
	return Subject("project", ProjectID(r))
}

func (d Desk) parts(r *http.Request, v View, main []byte) []templ.Component {
	if v.Since != nil {
		return append(v.news, ui.EditStatePart(v.Page))
	}
	return []templ.Component{deskPart(sent(main)), versionPart(v.Base, d.freshPath(r, main)), ui.EditStatePart(v.Page)}
}

func (d Desk) setPath(r *http.Request) string { return d.Path(ProjectID(r)) + "/set" }

// freshPath is where an open page asks for newer content; it tells what the
// page shows, so that its own edits do not come back to it.
func (d Desk) freshPath(r *http.Request, main []byte) string {
	return d.Path(ProjectID(r)) + "/fresh?have=" + stamp(main)
}

// read gives what the page shows, with its content as HTML or what is new to an
// open page.
func (d Desk) read(r *http.Request) (View, []byte, error) {
	v, err := d.Load(r)
	if err != nil {
		return v, nil, err
	}
	if v.Since != nil {
		v.news = v.Since(r.Header.Get(have))
		return v, nil, nil
	}
	main, err := v.main(r)
	return v, main, err
}

// main prints the content before the answer begins, so that one that fails is
// still answered as an error.
func (v View) main(r *http.Request) ([]byte, error) {
	var main bytes.Buffer
	err := v.Main.Render(r.Context(), &main)
	return main.Bytes(), err
}

// DeskPart replaces the content of a desk by what was printed before.
func DeskPart(content string) templ.Component { return deskPart(sent([]byte(content))) }

func stamp(content []byte) string {
	h := fnv.New64a()
	_, _ = h.Write(content)
	return fmt.Sprintf("%016x", h.Sum64())
}
