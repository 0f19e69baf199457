package intake

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // registers the format
	_ "image/png"
	"math"
	"net/http"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/store/intake/building"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Bounds of a picture: a scan of 36 x 24 in at 200 dots to the inch has 35
// million pixels.
const (
	mostPixels  = 40_000_000
	mostPicture = 64 << 20 // bytes
)

// pictureFile is a picture that waits for its place.
type pictureFile struct {
	media         string
	width, height int
}

// readPicture looks at a picture's head.
func readPicture(data []byte) (*pictureFile, error) {
	if len(data) > mostPicture {
		return nil, edits.Refusef("the picture has %d MB; at most %d MB are taken: save it with fewer pixels or in black and white", len(data)>>20, mostPicture>>20)
	}
	head, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, edits.Refusef("the picture cannot be read: it may be cut short or damaged; save it anew as PNG or JPEG")
	}
	if head.Width <= 0 || head.Height <= 0 || head.Width > mostPixels/head.Height {
		return nil, edits.Refusef("the picture has %d x %d pixels; at most %d million are taken: save it smaller", head.Width, head.Height, mostPixels/1_000_000)
	}
	return &pictureFile{media: "image/" + format, width: head.Width, height: head.Height}, nil
}

func isPictureKind(k building.FileKind) bool {
	return k == building.PNGFile || k == building.JPEGFile
}

// pictureView is the page on which a picture is placed.
type pictureView struct {
	Path, Name, Image      string
	Width, Height          int
	Mark                   float64 // size of the marks of the two points, pixels of the picture
	Storeys                []domain.Choice
	Storey                 string
	AX, AY, BX, BY         string
	Distance, Direction    string
	X, Y, Opacity          string
	Wrong                  string
	Example, LengthExample string
}

// renderPicture shows the page, with what was typed and why it was refused.
func (s Screen) renderPicture(w http.ResponseWriter, r *http.Request, p *parcel, project *domain.Project, status int, wrong string) {
	pic := p.picture
	v := pictureView{Path: ui.ImportPreview(p.project, p.token), Name: p.name, Width: pic.width, Height: pic.height, Wrong: wrong, LengthExample: "12' 6\", 3.81m"}
	v.Image = v.Path + "/picture"
	v.Mark = float64(max(pic.width, pic.height)) / 60
	for _, b := range project.Buildings {
		for _, st := range b.Storeys {
			name := st.Name
			if len(project.Buildings) > 1 {
				name = b.Name + ", " + name
			}
			v.Storeys = append(v.Storeys, domain.Choice{Value: string(st.ID), Label: name})
		}
	}
	typed := func(field, otherwise string) string {
		if r.PostForm.Has(field) {
			return r.PostForm.Get(field)
		}
		return otherwise
	}
	v.Storey = typed("storey", string(p.storey))
	v.AX, v.AY, v.BX, v.BY = typed("ax", ""), typed("ay", ""), typed("bx", ""), typed("by", "")
	v.Distance, v.Direction = typed("distance", ""), typed("direction", "")
	v.X, v.Y, v.Opacity = typed("x", "0"), typed("y", "0"), typed("opacity", "50")
	edits.Render(w, r, s.Log, status, picturePage(frame(r, project, "Place "+p.name, p.name), v))
}

// showPicture serves a picture that waits for its place.
func (s Screen) showPicture(w http.ResponseWriter, r *http.Request) {
	p, err := s.kept(r)
	if err != nil || p.picture == nil {
		edits.Refuse(w, r, s.Log, store.ErrNotFound)
		return
	}
	servePicture(w, r, p.picture.media, p.data, "private, max-age=1800")
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
	place, err := readPlacing(r, project.Units)
	if err != nil {
		refuse(err)
		return
	}
	if _, err := place.underlay("", p.picture.width, p.picture.height); err != nil {
		refuse(err)
		return
	}
	sha, err := s.Store.PutPicture(r.Context(), p.project, p.picture.media, p.picture.width, p.picture.height, p.data)
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
		if plan.Underlay, err = place.underlay(sha, p.picture.width, p.picture.height); err != nil {
			return "", err
		}
		return fmt.Sprintf("placed picture %s beneath %s: %s x %s, lengths good to %s %%", p.name, storey.Name,
			units.Length(plan.Underlay.Width, project.Units), units.Length(plan.Underlay.Height, project.Units), units.Trim(100*place.doubt(), 2)), tx.PutPlan(plan)
	})
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.shelf.drop(p.token)
	http.Redirect(w, r, ui.Plan(p.project, storey.ID), http.StatusSeeOther)
}

// readPlacing reads the form; its errors name the field.
func readPlacing(r *http.Request, sys units.System) (p placing, err error) {
	form := r.PostForm
	for _, f := range []struct {
		name, what string
		into       *float64
	}{
		{"ax", "the first point's place across", &p.A.X}, {"ay", "the first point's place down", &p.A.Y},
		{"bx", "the second point's place across", &p.B.X}, {"by", "the second point's place down", &p.B.Y},
		{"opacity", "the opacity", &p.Opacity},
	} {
		text := strings.TrimSpace(form.Get(f.name))
		v, err := units.Number(text)
		if err != nil || text == "" || math.IsInf(v, 0) || math.IsNaN(v) {
			return p, edits.Refusef("%s is missing: click both points on the picture, or type their pixels", f.what)
		}
		*f.into = v
	}
	if p.Distance, err = units.ParseLength(form.Get("distance"), sys); err != nil {
		return p, edits.Refusef("the distance between the points: %v", err)
	}
	var x, y units.Metres
	if x, err = units.ParseOffset(form.Get("x"), sys); err != nil {
		return p, edits.Refusef("where the first point lies across: %v", err)
	}
	if y, err = units.ParseOffset(form.Get("y"), sys); err != nil {
		return p, edits.Refusef("where the first point lies up: %v", err)
	}
	p.At = geom.Pt(float64(x), float64(y))
	if text := strings.TrimSpace(form.Get("direction")); text != "" {
		if p.Direction, err = strconv.ParseFloat(text, 64); err != nil || math.Abs(p.Direction) > 360 {
			return p, edits.Refusef("the direction %.20q is no angle: 0 is to the right, 90 is up", text)
		}
		p.Turned = true
	}
	if p.Opacity < 5 || p.Opacity > 100 {
		return p, edits.Refusef("the opacity goes from 5 to 100 %%")
	}
	p.Opacity /= 100
	return p, nil
}

// beneath is a storey with a picture, on the page on which files are sent.
type beneath struct{ Storey, Path, Again, Remove, Size string }

// beneathOf lists the storeys that have a picture beneath them.
func (s Screen) beneathOf(r *http.Request, p *domain.Project) (out []beneath) {
	for _, b := range p.Buildings {
		for _, st := range b.Storeys {
			plan, _, err := s.Store.Plan(r.Context(), p.ID, st.ID)
			if err != nil || plan.Underlay == nil {
				continue
			}
			at := ui.Import(p.ID) + "/pictures/" + string(st.ID)
			out = append(out, beneath{Storey: st.Name, Path: ui.Plan(p.ID, st.ID), Again: at + "/again", Remove: at + "/remove",
				Size: units.Length(plan.Underlay.Width, p.Units) + " x " + units.Length(plan.Underlay.Height, p.Units)})
		}
	}
	return out
}

func storeyID(r *http.Request) domain.ID { return domain.ID(chi.URLParam(r, "storey")) }

// placeAgain takes the picture of a storey out to be placed anew.
func (s Screen) placeAgain(w http.ResponseWriter, r *http.Request) {
	project, storey := edits.ProjectID(r), storeyID(r)
	plan, _, err := s.Store.Plan(r.Context(), project, storey)
	if err == nil && plan.Underlay == nil {
		err = store.ErrNotFound
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	_, data, err := s.Store.Picture(r.Context(), project, plan.Underlay.Picture)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	picture, err := readPicture(data)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	p := &parcel{project: project, kind: isPicture, name: "picture", data: data, picture: picture, storey: storey}
	http.Redirect(w, r, ui.ImportPreview(project, s.shelf.put(p)), http.StatusSeeOther)
}

// removePicture takes the picture from beneath a storey; undo brings it back.
func (s Screen) removePicture(w http.ResponseWriter, r *http.Request) {
	project, storey := edits.ProjectID(r), storeyID(r)
	request := store.Request{ProjectID: project, Who: ui.Signed(r), Scope: store.PlanSubject(storey)}
	_, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		plan, err := tx.Plan(storey)
		if err != nil {
			return "", err
		}
		plan.Underlay = nil
		return "took the picture away", tx.PutPlan(plan)
	})
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	http.Redirect(w, r, ui.Import(project), http.StatusSeeOther)
}
