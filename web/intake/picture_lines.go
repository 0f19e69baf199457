package intake

import (
	"context"
	"errors"
	"net/http"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/store/intake/building"
	"scopewright/store/intake/dxf"
	"scopewright/store/intake/raster"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// toTrace is what a drawing is sent for that is to lie beneath a storey; the
// page that asks for its layers lies at beneathPart of its preview.
const (
	toTrace     = "trace"
	beneathPart = "/beneath"
)

// layersView is the page on which the layers of a drawing are chosen that lie
// beneath a storey.
type layersView struct {
	Path, Name, Source, Question, Wrong string
	Unit, Says                          string
	Units                               []domain.Choice
	Layers                              []lineLayer
}

type lineLayer struct {
	layerView
	On bool
}

// showLayers asks which lines of a drawing lie beneath the storey.
func (s Screen) showLayers(w http.ResponseWriter, r *http.Request) {
	s.withDrawing(w, r, func(p *parcel, project *domain.Project) {
		s.renderLayers(w, r, p, project, http.StatusOK, nil)
	})
}

// withDrawing finds the drawing that a request names; one that is being read
// says how far it is.
func (s Screen) withDrawing(w http.ResponseWriter, r *http.Request, do func(*parcel, *domain.Project)) {
	r.Body = http.MaxBytesReader(w, r.Body, formAround)
	p, err := s.kept(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	if p.reading != nil {
		http.Redirect(w, r, ui.ImportPreview(p.project, p.token), http.StatusSeeOther)
		return
	}
	if p.model == nil || p.model.contents == nil || p.data == nil {
		edits.Refuse(w, r, s.Log, edits.Refusef("only the lines of a DXF drawing can lie beneath a storey: send it again"))
		return
	}
	project, _, err := s.Store.Project(r.Context(), p.project)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	do(p, project)
}

func (s Screen) renderLayers(w http.ResponseWriter, r *http.Request, p *parcel, project *domain.Project, status int, wrong error) {
	f, form := p.model, r.PostForm
	v := layersView{Path: ui.ImportPreview(p.project, p.token) + beneathPart, Name: p.name, Source: "DXF " + f.contents.Release}
	m := newModelView(f, project)
	v.Unit, v.Units, v.Says, v.Question = f.answers.unit, m.Units, m.Says, f.unsure()
	if wrong == nil {
		wrong = p.wrong
	}
	if wrong != nil {
		v.Wrong = sentences(wrong)[0]
	}
	if form.Has("unit") {
		v.Unit = form.Get("unit")
	}
	for i, l := range m.Layers {
		on := f.contents.Layers[i].Length > 0 && l.Hidden == ""
		if form.Has("layers") {
			on = form.Get(l.Field) == "yes"
		}
		v.Layers = append(v.Layers, lineLayer{l, on})
	}
	edits.Render(w, r, s.Log, status, layersPage(frame(r, project, "Lines of "+p.name, p.name), v))
}

// takeLines makes a picture of the layers that were chosen.
func (s Screen) takeLines(w http.ResponseWriter, r *http.Request) {
	s.withDrawing(w, r, func(p *parcel, project *domain.Project) {
		_ = r.ParseForm() // what is missing of it counts as not chosen
		layers, opt, err := p.model.linesChosen(r)
		if err != nil {
			s.renderLayers(w, r, p, project, http.StatusUnprocessableEntity, err)
			return
		}
		fresh := *p
		fresh.kind, fresh.picture, fresh.wrong = isModel, nil, nil
		s.start(&fresh, modelWords(len(p.data)), func(ctx context.Context, into *parcel, progress building.Progress) error {
			lines, err := linesOf(ctx, into.data, layers, opt, progress)
			if err != nil {
				return err
			}
			into.kind, into.picture = isPicture, lines
			return nil
		})
		s.wait(r, fresh.reading)
		now, err := s.shelf.get(p.project, p.token)
		if err == nil && now.wrong != nil {
			s.renderLayers(w, r, now, project, http.StatusUnprocessableEntity, now.wrong)
			return
		}
		http.Redirect(w, r, ui.ImportPreview(p.project, p.token), http.StatusSeeOther)
	})
}

func (f *modelFile) linesChosen(r *http.Request) (layers []string, opt dxf.Options, err error) {
	opt.Unit = r.PostForm.Get("unit")
	switch {
	case opt.Unit == "" && !f.contents.Unit.Sure:
		return nil, opt, edits.Refusef("choose the unit of length first: the drawing leaves it open")
	case opt.Unit != "" && !f.knowsUnit(opt.Unit):
		return nil, opt, edits.Refusef("the unit %.20q is not known: choose one of the list", opt.Unit)
	}
	for i, l := range f.contents.Layers {
		if r.PostForm.Get("layer-"+strconv.Itoa(i)) == "yes" {
			layers = append(layers, l.Name)
		}
	}
	if layers == nil {
		return nil, opt, edits.Refusef("choose at least one layer")
	}
	return layers, opt, nil
}

// linesOf makes the picture.
func linesOf(ctx context.Context, data []byte, layers []string, opt dxf.Options, progress building.Progress) (*pictureFile, error) {
	u, err := dxf.ReadUnderlay(ctx, data, layers, opt, progress)
	if err != nil {
		return nil, err
	}
	strokes := make([]drawing.Stroke, len(u.Lines))
	for i, l := range u.Lines {
		strokes[i] = drawing.Stroke{Points: l.Points, Closed: l.Closed}
	}
	t, corner, err := drawing.NewTracing(strokes)
	switch {
	case errors.Is(err, drawing.ErrTracingEmpty):
		return nil, edits.Refusef("the chosen layers draw no line: choose others")
	case errors.Is(err, drawing.ErrTracingLarge):
		return nil, edits.Refusef("the chosen layers draw more than %d points, or are more than %d km large: choose fewer layers, such as those of walls, doors and windows, or look at the unit", drawing.MaxTracingPoints, drawing.MaxTracingSide/1_000_000)
	case err != nil:
		return nil, err
	}
	return newLines(t, t.Encode(), corner), nil
}

func newLines(t *drawing.Tracing, data []byte, corner geom.Point) *pictureFile {
	const pixel = units.Metres(0.001)
	return &pictureFile{from: fromLines, pieces: t.Pieces(), corner: corner,
		Picture: raster.Picture{Media: drawing.TracingMedia, Width: t.Width, Height: t.Height, Data: data, Across: pixel, Down: pixel}}
}
