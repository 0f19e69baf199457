package intake

import (
	"errors"
	"io"
	"net/http"
	"path"
	"strings"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/store/intake/building"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// mostUpload is the largest table or project file that is taken, in bytes; the
// form around it needs a little more.
const (
	mostUpload = 20 << 20
	formAround = 256 << 10
)

// sendView is the page on which a file is sent.
type sendView struct {
	Path    string
	What    string
	Pasted  string
	Wrong   []string // why the file was not taken
	Units   string
	Beneath []beneath // storeys with a picture
}

// show is the page on which a file is sent.
func (s Screen) show(w http.ResponseWriter, r *http.Request) {
	s.showSend(w, r, http.StatusOK, sendView{What: r.URL.Query().Get("what")})
}

func (s Screen) showSend(w http.ResponseWriter, r *http.Request, status int, v sendView) {
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	v.Path, v.Units, v.Beneath = ui.Import(p.ID), unitWords[string(p.Units)], s.beneathOf(r, p)
	edits.Render(w, r, s.Log, status, sendPage(frame(r, p, "Import", ""), v))
}

var unitWords = map[string]string{"US": "feet and square feet", "SI": "meters and square meters"}

func frame(r *http.Request, p *domain.Project, title, last string) ui.Page {
	page := ui.NewPage(r, title)
	page.Project = p
	page.Crumbs = []ui.Crumb{{Name: p.Name, Path: ui.Project(p.ID)}, {Name: "Import", Path: ui.Import(p.ID)}}
	if last == "" {
		page.Crumbs[1].Path = ""
		return page
	}
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: last})
	return page
}

// take takes a file or a pasted block in, reads it and leads to its preview.
func (s Screen) take(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, mostModel+formAround)
	p, _, err := s.Store.Project(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	got, status, err := receive(r)
	if err != nil {
		s.showSend(w, r, status, sendView{What: r.FormValue("what"), Wrong: []string{err.Error()}})
		return
	}
	got.project = p.ID
	switch got.kind {
	case isModel:
		s.takeModel(w, r, got)
		return
	case isPages:
		s.takePages(w, r, got)
		return
	}
	if got.kind == isPicture {
		http.Redirect(w, r, ui.ImportPreview(p.ID, s.shelf.put(got)), http.StatusSeeOther)
		return
	}
	if err := got.read(p.Units); err != nil {
		v := sendView{What: string(got.kind), Wrong: sentences(err)}
		if got.name == pastedName {
			v.Pasted = string(got.data)
		}
		s.showSend(w, r, http.StatusUnprocessableEntity, v)
		return
	}
	http.Redirect(w, r, ui.ImportPreview(p.ID, s.shelf.put(got)), http.StatusSeeOther)
}

const pastedName = "pasted block"

const errNotWhole = edits.Sentence("The file did not arrive whole: send it again.")

// receive reads the form. Its errors are sentences.
func receive(r *http.Request) (*parcel, int, error) {
	file, head, err := r.FormFile("file")
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return nil, http.StatusRequestEntityTooLarge, edits.Sentence("The file is too large: at most 100 MB are taken. Export one storey at a time.")
	case err != nil && !errors.Is(err, http.ErrMissingFile):
		return nil, http.StatusBadRequest, errNotWhole
	}
	p := &parcel{kind: knownKind(r.FormValue("what"))}
	if err == nil {
		defer file.Close()
		p.name = plainName(head.Filename)
		status, err := p.take(file, head.Size)
		return p, status, err
	}
	if text := r.FormValue("pasted"); strings.TrimSpace(text) != "" {
		p.name, p.data = pastedName, []byte(text)
		return p, 0, nil
	}
	return nil, http.StatusUnprocessableEntity, edits.Sentence("Choose a file, or paste a block with its headings, first.")
}

// take reads a file whose first bytes tell what it is. Only models and drawings
// may be large.
func (p *parcel) take(file io.Reader, size int64) (status int, err error) {
	head := make([]byte, building.HeadSize)
	n, err := io.ReadFull(file, head)
	if n == 0 {
		return http.StatusUnprocessableEntity, edits.Sentence("The file is empty: choose another one.")
	}
	is := building.KindOf(head[:n])
	switch {
	case isModelKind(is):
		p.kind = isModel
	case isPictureKind(is):
		p.kind = isPicture
	case is == building.PDFFile:
		p.kind = isPages
	case notAModel(is) != nil:
		return http.StatusUnprocessableEntity, notAModel(is)
	case size > mostUpload:
		return http.StatusRequestEntityTooLarge, edits.Sentence("The file is too large: at most 20 MB are taken of a table. Leave out what is not the table, or split it.")
	}
	p.data = head[:n]
	if err == nil {
		var rest []byte
		rest, err = io.ReadAll(file)
		p.data = append(p.data, rest...)
	}
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return http.StatusBadRequest, errNotWhole
	}
	if p.kind == isPicture {
		if p.picture, err = readPicture(p.data); err != nil {
			return http.StatusUnprocessableEntity, edits.Sentence(edits.SentenceOf(err))
		}
		p.data = p.picture.Data // as it is kept
	}
	return 0, nil
}

func knownKind(text string) kind {
	if k := kind(text); k == isRooms || k == isLuminaires {
		return k
	}
	return ""
}

// plainName keeps a file's name for messages: its last part, and not too long.
func plainName(name string) string {
	name = path.Base(strings.ReplaceAll(name, `\`, "/"))
	clean, err := domain.CleanLine(name, domain.MaxName)
	if err != nil || clean == "" || clean == "." {
		return "the file"
	}
	return clean
}

func token(r *http.Request) string { return chi.URLParam(r, "token") }

// kept gives the parcel that a request names.
func (s Screen) kept(r *http.Request) (*parcel, error) {
	p, err := s.shelf.get(edits.ProjectID(r), token(r))
	if err != nil {
		return nil, &store.Failure{Kind: store.ErrNotFound, Sentence: err.Error()}
	}
	return p, nil
}

// discard forgets a file.
func (s Screen) discard(w http.ResponseWriter, r *http.Request) {
	if p, err := s.kept(r); err == nil {
		s.shelf.drop(p.token)
	}
	http.Redirect(w, r, ui.Import(edits.ProjectID(r)), http.StatusSeeOther)
}

// readAgain reads a file anew: from another worksheet, or with a storey for
// the rooms that name none.
func (s Screen) readAgain(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, formAround)
	old, err := s.kept(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	project, _, err := s.Store.Project(r.Context(), old.project)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	if old.kind == isModel {
		s.answer(w, r, old, project)
		return
	}
	fresh := *old
	if r.PostForm == nil {
		_ = r.ParseForm() // what is missing of it counts as not chosen
	}
	if r.PostForm.Has("storey") {
		fresh.storey = domain.ID(r.PostForm.Get("storey"))
		if _, storey := project.FindStorey(fresh.storey); storey == nil {
			fresh.storey = ""
		}
	}
	if sheet := r.PostForm.Get("sheet"); r.PostForm.Has("sheet") && sheet != old.sheet {
		fresh.sheet, fresh.rooms, fresh.luminaires = sheet, nil, nil
		if err := fresh.read(project.Units); err != nil {
			edits.Refuse(w, r, s.Log, edits.Refusef("%s", sentences(err)[0]))
			return
		}
	}
	s.shelf.put(&fresh)
	http.Redirect(w, r, ui.ImportPreview(old.project, old.token), http.StatusSeeOther)
}
