package intake

import (
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// pictureView is the page on which a picture is placed.
type pictureView struct {
	Path, Name, What, Image string
	Width, Height           int
	Mark                    float64 // size of the marks of the points, pixels of the picture
	Storeys                 []domain.Choice
	Form                    map[string]string // what the fields hold
	Paper                   string            // how large the paper is; "" where that is not known
	Lines                   bool              // lines of a drawing, which have their own size
	Second                  bool              // the second pair is in use
	Other                   string            // where another page or other layers are chosen
	OtherWords              string
	Pages                   int
	Said                    placingSaid
	Wrong                   string
	LengthExample           string
}

// How the size of a picture is said.
const (
	byPoints = "points"
	byScale  = "scale"
)

// fields of the form; all but those of defaults are empty at first.
var pictureFields = []string{"storey", "size", "scale", "turn", "distance", "direction", "x", "y", "opacity", "ax", "ay", "bx", "by", "cx", "cy", "dx", "dy", "second", "straight"}

// renderPicture shows the page, with what was typed and why it was refused.
func (s Screen) renderPicture(w http.ResponseWriter, r *http.Request, p *parcel, project *domain.Project, status int, wrong string) {
	v := newPictureView(r, p, project, wrong)
	edits.Render(w, r, s.Log, status, picturePage(frame(r, project, "Place "+p.name, p.name), v))
}

func newPictureView(r *http.Request, p *parcel, project *domain.Project, wrong string) pictureView {
	pic := p.picture
	v := pictureView{Path: ui.ImportPreview(p.project, p.token), Name: p.name, Width: pic.Width, Height: pic.Height, Wrong: wrong,
		LengthExample: "12' 6\", 3.81 m", Lines: pic.from == fromLines, Storeys: ui.StoreyChoices(project)}
	v.Image = v.Path + "/picture"
	v.What = pic.words(project.Units)
	v.Mark = float64(max(pic.Width, pic.Height)) / 60
	if pic.Across > 0 && !v.Lines {
		v.Paper = paperWords(pic.Paper())
	}
	switch {
	case p.pages != nil && p.pages.Pages > 1:
		v.Other, v.OtherWords = v.Path+"/page", "Another page"
	case p.model != nil:
		v.Other, v.OtherWords = v.Path+beneathPart, "Other layers"
	}
	v.Form = pic.before(p.storey, project.Units)
	if r.PostForm != nil && r.PostForm.Has("ax") {
		for _, f := range pictureFields {
			v.Form[f] = r.PostForm.Get(f)
		}
	}
	v.Second = v.Form["second"]+v.Form["cx"]+v.Form["dx"] != ""
	v.Said = saidOf(formOf(v.Form), pic, project.Units)
	return v
}

func formOf(fields map[string]string) url.Values {
	out := url.Values{}
	for name, value := range fields {
		out.Set(name, value)
	}
	return out
}

// before is what the form holds before anything is typed: where the picture lies
// already, or else what is known of its size.
func (f *pictureFile) before(storey domain.ID, sys units.System) map[string]string {
	out := map[string]string{"storey": string(storey), "size": byPoints, "x": "0", "y": "0", "opacity": "50", "turn": "0", "straight": "yes"}
	if f.Across > 0 && f.from != fromItself {
		out["size"] = byScale
	}
	if f.from == fromLines {
		out["scale"], out["opacity"] = "1:1", "70"
		if near := f.corner; math.Abs(near.X) < farthest && math.Abs(near.Y) < farthest {
			out["x"], out["y"] = offsetText(near.X, sys), offsetText(near.Y, sys)
		}
	}
	if f.now == nil {
		return out
	}
	u := f.now
	out["x"], out["y"] = offsetText(u.At.X, sys), offsetText(u.At.Y, sys)
	opacity := u.Opacity
	if opacity == 0 {
		opacity = 0.5
	}
	out["opacity"], out["turn"] = units.Trim(100*opacity, 0), units.Trim(u.Turn, 3)
	across, down := float64(u.Width)/float64(f.Width), float64(u.Height)/float64(f.Height)
	if ratio := across / float64(f.Across); f.Across > 0 && math.Abs(across/down-float64(f.Across/f.Down)) < 1e-4 && math.Abs(ratio-math.Round(ratio)) < 1e-3*ratio && ratio >= 0.999 {
		out["size"], out["scale"] = byScale, "1:"+units.Trim(math.Round(ratio), 0)
		return out
	}
	// The lower edge and, where they differ, the left edge as pairs of points.
	out["size"], out["distance"], out["direction"] = byPoints, lengthText(float64(u.Width), sys), out["turn"]
	bottom, right := strconv.Itoa(f.Height), strconv.Itoa(f.Width)
	out["ax"], out["ay"], out["bx"], out["by"] = "0", bottom, right, bottom
	if math.Abs(across/down-1) > 1e-4 {
		out["cx"], out["cy"], out["dx"], out["dy"], out["second"] = "0", bottom, "0", "0", lengthText(float64(u.Height), sys)
	}
	return out
}

// lengthText writes a length to the tenth of a millimeter, as the form reads it.
func lengthText(m float64, sys units.System) string {
	if sys == units.US {
		return units.Trim(m/units.MetresPerFoot, 5) + " ft"
	}
	return units.Trim(m, 4) + " m"
}

func offsetText(m float64, sys units.System) string {
	if m == 0 {
		return "0"
	}
	return lengthText(m, sys)
}

// readPlacing reads the form; its errors name the field.
func readPlacing(r *http.Request, f *pictureFile, sys units.System) (placing, error) {
	return placingOf(r.PostForm, f, sys)
}

func placingOf(form url.Values, f *pictureFile, sys units.System) (p placing, err error) {
	p = placing{width: f.Width, height: f.Height, Across: f.Across, Down: f.Down, Straight: form.Get("straight") == "yes"}
	if form.Get("size") == byScale {
		err = p.readScale(form, f, sys)
	} else {
		err = p.readPoints(form, sys)
	}
	if err != nil {
		return p, err
	}
	var x, y units.Metres
	if x, err = units.ParseOffset(form.Get("x"), sys); err != nil {
		return p, edits.Refusef("where the first point lies across: %v", err)
	}
	if y, err = units.ParseOffset(form.Get("y"), sys); err != nil {
		return p, edits.Refusef("where the first point lies up: %v", err)
	}
	p.At = geom.Pt(float64(x), float64(y))
	if p.Opacity, err = units.Number(strings.TrimSuffix(strings.TrimSpace(form.Get("opacity")), "%")); err != nil || !(p.Opacity >= 5 && p.Opacity <= 100) {
		return p, edits.Refusef("the opacity goes from 5 to 100 %%")
	}
	p.Opacity /= 100
	return p, nil
}

// readScale reads a scale; the points beside it are for the place only, and to
// compare.
func (p *placing) readScale(form url.Values, f *pictureFile, sys units.System) (err error) {
	if f.Across <= 0 {
		return edits.Refusef("the picture does not say how large its paper is: place it by two points")
	}
	if strings.TrimSpace(form.Get("scale")) == "" {
		return edits.Refusef(`type the scale that is printed on the sheet, like 1:100 or 1/8" = 1'-0"`)
	}
	if p.Scale, err = parseScale(form.Get("scale")); err != nil {
		return err
	}
	if p.Turn, err = angle(form, "turn", "the turn"); err != nil {
		return err
	}
	if strings.TrimSpace(form.Get("ax")) == "" {
		return nil
	}
	if p.A, err = point(form, "ax", "ay", "A"); err != nil {
		return err
	}
	if !within(p.A, p.width, p.height) {
		return edits.Refusef("A has to lie on the picture, 0 to %d across and 0 to %d down", p.width, p.height)
	}
	p.Marked = true
	if b, err := point(form, "bx", "by", "B"); err == nil {
		if d, err := units.ParseLength(form.Get("distance"), sys); err == nil {
			p.B, p.Distance = b, d
		}
	}
	return nil
}

func (p *placing) readPoints(form url.Values, sys units.System) (err error) {
	if p.A, err = point(form, "ax", "ay", "A"); err != nil {
		return err
	}
	if p.B, err = point(form, "bx", "by", "B"); err != nil {
		return err
	}
	p.Marked = true
	if p.Distance, err = units.ParseLength(form.Get("distance"), sys); err != nil {
		return edits.Refusef("the distance from A to B: %v", err)
	}
	if strings.TrimSpace(form.Get("direction")) != "" {
		if p.Direction, err = angle(form, "direction", "the direction"); err != nil {
			return err
		}
		p.Turned = true
	}
	if strings.TrimSpace(form.Get("cx")+form.Get("cy")+form.Get("dx")+form.Get("dy")+form.Get("second")) == "" {
		return nil
	}
	if p.C, err = point(form, "cx", "cy", "C"); err != nil {
		return err
	}
	if p.D, err = point(form, "dx", "dy", "D"); err != nil {
		return err
	}
	if p.Second, err = units.ParseLength(form.Get("second"), sys); err != nil || !(p.Second > 0) {
		return edits.Refusef("say how far C and D are from each other on the building, or leave the second pair empty")
	}
	return nil
}

func point(form url.Values, x, y, name string) (at geom.Point, err error) {
	for _, f := range []struct {
		field, way string
		into       *float64
	}{{x, "across", &at.X}, {y, "down", &at.Y}} {
		text := strings.TrimSpace(form.Get(f.field))
		v, err := units.Number(text)
		if err != nil || text == "" || math.IsInf(v, 0) || math.IsNaN(v) {
			return at, edits.Refusef("the place %s of point %s is missing: click it on the picture, or type its pixels", f.way, name)
		}
		*f.into = v
	}
	return at, nil
}

func angle(form url.Values, field, what string) (float64, error) {
	text := strings.TrimSpace(form.Get(field))
	if text == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(math.Abs(v) <= 360) {
		return 0, edits.Refusef("%s %.20q is no angle: degrees counterclockwise, such as 90", what, text)
	}
	return v, nil
}
