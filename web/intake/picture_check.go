package intake

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strings"

	"scopewright/domain/units"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// placingSaid is what the form makes of the picture, before anything is stored.
type placingSaid struct {
	Missing string // what has to be said before it is known
	Lines   []string
	Warning string
}

// saidOf works out what a form says.
func saidOf(form url.Values, f *pictureFile, sys units.System) placingSaid {
	p, err := placingOf(form, f, sys)
	if err != nil {
		return placingSaid{Missing: edits.SentenceOf(err)}
	}
	fit, err := p.fit()
	if err == nil {
		_, err = p.underlay("", fit)
	}
	if err != nil {
		return placingSaid{Missing: edits.SentenceOf(err)}
	}
	return fit.say(p, f, sys)
}

func (f fitted) say(p placing, pic *pictureFile, sys units.System) (out placingSaid) {
	size := units.Length(units.Metres(f.X*float64(p.width)), sys) + " x " + units.Length(units.Metres(f.Y*float64(p.height)), sys)
	switch {
	case pic.from == fromLines && f.Scale == 1:
		out.Lines = append(out.Lines, "The drawing is "+size+" on the building, by its own unit.")
	case f.Scale > 0:
		out.Lines = append(out.Lines, fmt.Sprintf("At 1:%s the picture is %s on the building.", units.Trim(f.Scale, 2), size))
	default:
		out.Lines = append(out.Lines, fmt.Sprintf("The picture is %s on the building; a pixel is %s mm.", size, pixelWords(f)))
	}
	if f.Doubt > 0 {
		out.Lines = append(out.Lines, fmt.Sprintf("One pixel wrong at each point makes lengths up to %s %% wrong: %s in %s.",
			percent(f.Doubt), smallLength(10*f.Doubt, sys), tenMeters(sys)))
	}
	switch {
	case f.stretched() && p.Straight:
		out.Warning = fmt.Sprintf("The picture is stretched: %s, more than the %s %% that the points allow. Each way gets its own scale, which makes it straight.", f.longer(), percent(f.Allowed))
	case f.stretched():
		out.Warning = fmt.Sprintf("The picture is stretched: %s, more than the %s %% that the points allow. It is left so, at the scale of both ways together.", f.longer(), percent(f.Allowed))
	case f.Second:
		out.Lines = append(out.Lines, fmt.Sprintf("Both pairs agree: %s, and the points allow %s %%. The scale is that of both together.", f.longer(), percent(f.Allowed)))
	}
	if f.ByScale > 0 {
		off := float64(f.Said)/f.ByScale - 1
		text := fmt.Sprintf("By the scale A is %s from B; you typed %s, %s %% from it.", units.Length(units.Metres(f.ByScale), sys), units.Length(f.Said, sys), percent(math.Abs(off)))
		if math.Abs(off) > 0.01 {
			out.Warning = text + " Paper is often printed smaller than it was drawn: trust the two points."
		} else {
			out.Lines = append(out.Lines, text)
		}
	}
	return out
}

func pixelWords(f fitted) string {
	if f.X == f.Y {
		return units.Trim(1000*f.X, 2)
	}
	return units.Trim(1000*f.X, 2) + " x " + units.Trim(1000*f.Y, 2)
}

func (f fitted) longer() string {
	off, way := f.Stretch, "across lengths are %s %% longer than down"
	if off < 0 {
		off, way = 1/(1+off)-1, "down lengths are %s %% longer than across"
	}
	return fmt.Sprintf(way, percent(off))
}

// journal says for the history how good the place is.
func (f fitted) journal() string {
	switch {
	case f.Scale == 1:
		return ", as drawn"
	case f.Scale > 0:
		return ", by its scale of 1:" + units.Trim(f.Scale, 2)
	case f.stretched() && f.X != f.Y:
		return fmt.Sprintf(", straightened by %s %%, lengths good to %s %%", percent(math.Abs(f.Stretch)), percent(f.Doubt))
	case f.stretched():
		return fmt.Sprintf(", stretched by %s %%", percent(math.Abs(f.Stretch)))
	}
	return ", lengths good to " + percent(f.Doubt) + " %"
}

func percent(part float64) string { return units.Trim(100*part, 2) }

// tenMeters is a length in which people can picture an error.
func tenMeters(sys units.System) string {
	if sys == units.US {
		return "33 ft"
	}
	return "10 m"
}

func smallLength(meters float64, sys units.System) string {
	if sys == units.US {
		return units.Trim(meters/units.MetresPerInch, 2) + " in"
	}
	return units.Trim(1000*meters, 0) + " mm"
}

// checkPlacing says what the form as it is would do, while it is being filled in.
func (s Screen) checkPlacing(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, formAround)
	p, err := s.kept(r)
	if err != nil || p.picture == nil {
		edits.Refuse(w, r, s.Log, first(err, errForgotten))
		return
	}
	project, _, err := s.Store.Project(r.Context(), p.project)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	_ = r.ParseForm() // what is missing of it counts as not stated
	if r.Header.Get("HX-Request") == "" {
		s.renderPicture(w, r, p, project, http.StatusOK, "")
		return
	}
	edits.Render(w, r, s.Log, http.StatusOK, saidPart(ui.ImportPreview(p.project, p.token), saidOf(r.PostForm, p.picture, project.Units)))
}

func first(err, otherwise error) error {
	if err != nil {
		return err
	}
	return otherwise
}

// words say what the picture is.
func (f *pictureFile) words(sys units.System) string {
	if f.from == fromLines {
		return strings.Join([]string{fmt.Sprintf("%d lines", f.pieces), extent(units.Metres(f.Width)/1000, sys) + " x " + extent(units.Metres(f.Height)/1000, sys)}, ", ")
	}
	text := fmt.Sprintf("%d x %d pixels", f.Width, f.Height)
	if f.from == fromPage {
		text = fmt.Sprintf("page %d, ", f.page) + text
	}
	return text
}

// standardPapers are those of ISO 216 and of ANSI/ASME Y14.1 with the
// architectural sizes, in millimeters (from memory).
var standardPapers = []struct {
	name          string
	width, height float64
}{
	{"A0", 841, 1189}, {"A1", 594, 841}, {"A2", 420, 594}, {"A3", 297, 420}, {"A4", 210, 297},
	{"Letter", 215.9, 279.4}, {"Tabloid", 279.4, 431.8}, {"ANSI C", 431.8, 558.8}, {"ANSI D", 558.8, 863.6}, {"ANSI E", 863.6, 1117.6},
	{"Arch A", 228.6, 304.8}, {"Arch B", 304.8, 457.2}, {"Arch C", 457.2, 609.6}, {"Arch D", 609.6, 914.4}, {"Arch E", 914.4, 1219.2}, {"Arch E1", 762, 1066.8},
}

// paperWords say how large a sheet is: 841 x 594 mm (A1).
func paperWords(width, height units.Metres) string {
	w, h := 1000*float64(width), 1000*float64(height)
	text := fmt.Sprintf("%.0f x %.0f mm", w, h)
	const near = 2 // mm
	for _, p := range standardPapers {
		if math.Abs(min(w, h)-p.width) < near && math.Abs(max(w, h)-p.height) < near {
			return text + " (" + p.name + ")"
		}
	}
	return text
}
