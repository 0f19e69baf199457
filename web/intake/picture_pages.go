package intake

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/store/intake/building"
	"scopewright/store/intake/pdfpage"
	"scopewright/store/intake/raster"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// pagesView is the page on which a page of a PDF is chosen.
type pagesView struct {
	Path, Name, Count string
	Typed             string
	Pages             []pageChoice
	More              int // pages that are not listed
	Last              int
	Wrong             string
}

type pageChoice struct {
	Number      int
	Size, Image string
}

// thumbnailSide is how large a page is shown to be chosen, in pixels.
const thumbnailSide = 320

// takePages counts the pages of a PDF. If there is only one, it is drawn at once.
func (s Screen) takePages(w http.ResponseWriter, r *http.Request, p *parcel) {
	s.start(p, pageWords, func(ctx context.Context, into *parcel, progress building.Progress) error {
		picture, contents, err := pdfpage.Only(ctx, into.data, pdfpage.Stage(progress))
		if err != nil {
			return err
		}
		into.pages = contents
		if picture != nil {
			into.setPage(1, picture)
		}
		return nil
	})
	s.wait(r, p.reading)
	now, err := s.shelf.get(p.project, p.token)
	if err == nil && now.wrong != nil {
		s.shelf.drop(p.token)
		s.showSend(w, r, http.StatusUnprocessableEntity, sendView{Wrong: sentences(now.wrong)})
		return
	}
	http.Redirect(w, r, ui.ImportPreview(p.project, p.token), http.StatusSeeOther)
}

func (p *parcel) setPage(number int, picture *raster.Picture) {
	p.kind, p.picture = isPicture, &pictureFile{Picture: *picture, from: fromPage, page: number}
}

// pageWords say how far a page is.
func pageWords(done, total int64) string {
	switch part := 100 * done / max(total, 1); {
	case part >= 80:
		return "drawn; now it is packed"
	case part >= 40:
		return "drawing the page"
	case part >= 30:
		return "opening the PDF"
	}
	return "getting ready to read PDFs: the very first time, this takes some seconds"
}

// renderPages asks which page, or says why there is none.
func (s Screen) renderPages(w http.ResponseWriter, r *http.Request, p *parcel, project *domain.Project, status int) {
	if p.pages == nil {
		s.shelf.drop(p.token)
		s.showSend(w, r, http.StatusUnprocessableEntity, sendView{Wrong: sentences(p.wrong)})
		return
	}
	path := ui.ImportPreview(p.project, p.token)
	v := pagesView{Path: path, Name: p.name, Count: edits.Count(p.pages.Pages, "page"), Typed: r.PostFormValue("page"), Last: p.pages.Pages, More: p.pages.Pages - len(p.pages.Sizes)}
	if p.wrong != nil {
		v.Wrong = sentences(p.wrong)[0]
	}
	for i, size := range p.pages.Sizes {
		c := pageChoice{Number: i + 1, Image: path + "/page/" + strconv.Itoa(i+1), Size: "cannot be read"}
		if size.Width > 0 {
			c.Size = paperWords(size.Width, size.Height)
		}
		v.Pages = append(v.Pages, c)
	}
	edits.Render(w, r, s.Log, status, pagesPage(frame(r, project, "Choose a page of "+p.name, p.name), v))
}

// choosePage draws the page that was chosen, or, where none was named, asks again.
func (s Screen) choosePage(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, formAround)
	old, err := s.kept(r)
	if err != nil || old.pages == nil {
		edits.Refuse(w, r, s.Log, first(err, errForgotten))
		return
	}
	fresh := *old
	fresh.kind, fresh.picture, fresh.wrong = isPages, nil, nil
	text := strings.TrimSpace(r.FormValue("page"))
	if text == "" {
		s.shelf.put(&fresh)
		http.Redirect(w, r, ui.ImportPreview(old.project, old.token), http.StatusSeeOther)
		return
	}
	number, err := strconv.Atoi(text)
	if err != nil || number < 1 || number > old.pages.Pages {
		fresh.wrong = edits.Refusef("%.20q is no page of this PDF: it has pages 1 to %d", text, old.pages.Pages)
		s.shelf.put(&fresh)
		s.renderPreview(w, r, &fresh, http.StatusUnprocessableEntity, "")
		return
	}
	s.start(&fresh, pageWords, func(ctx context.Context, into *parcel, progress building.Progress) error {
		picture, err := pdfpage.Render(ctx, into.data, number, pdfpage.Stage(progress))
		if err == nil {
			into.setPage(number, picture)
		}
		return err
	})
	s.wait(r, fresh.reading)
	http.Redirect(w, r, ui.ImportPreview(old.project, old.token), http.StatusSeeOther)
}

// showPage serves a page small, to be chosen.
func (s Screen) showPage(w http.ResponseWriter, r *http.Request) {
	p, err := s.kept(r)
	if err != nil || p.pages == nil {
		edits.Refuse(w, r, s.Log, first(err, errForgotten))
		return
	}
	number, err := strconv.Atoi(chi.URLParam(r, "page"))
	if err != nil {
		edits.Refuse(w, r, s.Log, errForgotten)
		return
	}
	picture, err := s.thumbnail(r.Context(), p, number)
	if err != nil {
		if r.Context().Err() == nil {
			edits.Refuse(w, r, s.Log, edits.Refusef("%s", edits.SentenceOf(err)))
		}
		return
	}
	servePicture(w, r, picture.Media, picture.Data, "private, max-age=1800")
}

// thumbnail keeps a fault of the reader from ending the program.
func (s Screen) thumbnail(ctx context.Context, p *parcel, number int) (picture *raster.Picture, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			s.Log.Error("drawing a PDF page failed", "file", p.name, "fault", fault)
			err = edits.Refusef("the page cannot be drawn")
		}
	}()
	picture, err = pdfpage.Thumbnail(ctx, p.data, number, thumbnailSide)
	if err != nil {
		return nil, fmt.Errorf("page %d: %w", number, err)
	}
	return picture, nil
}
