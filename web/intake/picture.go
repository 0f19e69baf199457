package intake

import (
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/store"
	"scopewright/store/intake/building"
	"scopewright/store/intake/raster"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// source is where a picture comes from.
type source int

const (
	fromItself source = iota // it is the file
	fromPage                 // of a PDF
	fromLines                // of a drawing
)

// pictureFile is a picture that waits for its place.
type pictureFile struct {
	raster.Picture
	from   source
	page   int              // of a PDF
	pieces int              // of lines
	corner geom.Point       // of lines: where the drawing itself has the lower left corner
	now    *domain.Underlay // where it lies already, to be placed anew
}

// readPicture takes a picture in.
func readPicture(data []byte) (*pictureFile, error) {
	p, err := raster.Read(data)
	if err != nil {
		return nil, err
	}
	return &pictureFile{Picture: *p}, nil
}

func isPictureKind(k building.FileKind) bool {
	return k == building.PNGFile || k == building.JPEGFile
}

// showPicture serves a picture that waits for its place.
func (s Screen) showPicture(w http.ResponseWriter, r *http.Request) {
	p, err := s.kept(r)
	if err != nil || p.picture == nil {
		edits.Refuse(w, r, s.Log, store.ErrNotFound)
		return
	}
	servePicture(w, r, p.picture.Media, p.picture.Data, "private, no-cache")
}

// storedPicture serves a picture of the project. Its address is its content.
func (s Screen) storedPicture(w http.ResponseWriter, r *http.Request) {
	media, data, err := s.Store.Picture(r.Context(), edits.ProjectID(r), chi.URLParam(r, "sha"))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	servePicture(w, r, media, data, "private, max-age=31536000, immutable")
}

func servePicture(w http.ResponseWriter, r *http.Request, media string, data []byte, keep string) {
	w.Header().Set("Content-Type", media)
	w.Header().Set("Cache-Control", keep)
	w.Header().Set("Content-Length", strconv.Itoa(len(data)))
	if r.Method != http.MethodHead {
		_, _ = w.Write(data) // a browser that left needs no answer
	}
}

// applyPicture puts the picture under its storey, as one edit that the plan
// can undo.
func (s Screen) applyPicture(w http.ResponseWriter, r *http.Request, p *parcel) {
	project, _, err := s.Store.Project(r.Context(), p.project)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	_ = r.ParseForm() // what is missing of it counts as not stated
	refuse := func(err error) {
		s.renderPicture(w, r, p, project, http.StatusUnprocessableEntity, edits.SentenceOf(err))
	}
	_, storey := project.FindStorey(domain.ID(r.PostForm.Get("storey")))
	if storey == nil {
		refuse(edits.Refusef("choose the storey under which the picture goes"))
		return
	}
	place, err := readPlacing(r, p.picture, project.Units)
	if err != nil {
		refuse(err)
		return
	}
	fit, err := place.fit()
	if err != nil {
		refuse(err)
		return
	}
	if _, err := place.underlay("", fit); err != nil {
		refuse(err)
		return
	}
	pic := p.picture
	sha, err := s.Store.PutPicture(r.Context(), p.project, pic.Media, pic.Width, pic.Height, pic.Data)
	if err != nil {
		refuse(err)
		return
	}
	request := store.Request{ProjectID: p.project, Who: ui.Signed(r), Scope: store.PlanSubject(storey.ID)}
	_, err = s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		plan, err := tx.Plan(storey.ID)
		if err != nil {
			return "", err
		}
		if plan.Underlay, err = place.underlay(sha, fit); err != nil {
			return "", err
		}
		return fmt.Sprintf("placed %s beneath %s: %s x %s%s", p.whatPicture(), storey.Name,
			units.Length(plan.Underlay.Width, project.Units), units.Length(plan.Underlay.Height, project.Units), fit.journal()), tx.PutPlan(plan)
	})
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.shelf.drop(p.token)
	http.Redirect(w, r, ui.Plan(p.project, storey.ID), http.StatusSeeOther)
}

// whatPicture names a picture and where it comes from.
func (p *parcel) whatPicture() string {
	switch p.picture.from {
	case fromPage:
		return fmt.Sprintf("page %d of %s", p.picture.page, p.name)
	case fromLines:
		return "lines of " + p.name
	}
	return "picture " + p.name
}

// keptPicture gives a picture that a plan shows, to be placed anew.
func (s Screen) keptPicture(r *http.Request, project domain.ID, u *domain.Underlay) (*pictureFile, error) {
	media, data, err := s.Store.Picture(r.Context(), project, u.Picture)
	if err != nil {
		return nil, err
	}
	if media == drawing.TracingMedia {
		t, err := drawing.ReadTracing(data)
		if err != nil {
			return nil, edits.Refusef("the lines beneath this storey cannot be read any more: send their drawing again")
		}
		f := newLines(t, data, u.At)
		f.now = u
		return f, nil
	}
	f, err := readPicture(data)
	if err != nil {
		return nil, edits.Refusef("%v", err)
	}
	f.now = u
	return f, nil
}
