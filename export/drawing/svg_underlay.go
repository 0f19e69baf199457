package drawing

import (
	"encoding/base64"

	"scopewright/domain/geom"
)

// underlay writes the picture beneath: by its address or, in a file that stands
// by itself, with its content.
func (s *svg) underlay() {
	u := s.p.Underlay
	if u == nil || s.opt.PictureURL == nil && u.Data == nil {
		return
	}
	s.str(`<g data-layer="underlay">`)
	clipped := !s.opt.Screen
	if clipped { // an inner drawing shows nothing beyond its edge
		s.str("<svg")
		s.attr("x", u.Clip.Min.X)
		s.attr("y", u.Clip.Min.Y)
		s.attr("width", u.Clip.Width())
		s.attr("height", u.Clip.Height())
		s.str(` viewBox="`)
		s.numbers(u.Clip.Min.X, u.Clip.Min.Y, u.Clip.Width(), u.Clip.Height())
		s.str(`" overflow="hidden">`)
	}
	if tracing, err := ReadTracing(u.Data); s.opt.PictureURL == nil && u.Media == TracingMedia && err == nil {
		s.tracing(u, tracing)
	} else {
		s.image(u)
	}
	if clipped {
		s.str("</svg>")
	}
	s.str("</g>")
}

func (s *svg) image(u *Image) {
	s.str("<image")
	if s.opt.PictureURL != nil {
		s.text("href", s.opt.PictureURL(u.Picture))
	} else {
		s.str(` href="data:`, escaped(u.Media), ";base64,", base64.StdEncoding.EncodeToString(u.Data), `"`)
	}
	s.attr("x", u.At.X)
	s.attr("y", u.At.Y-u.Height)
	s.attr("width", u.Width)
	s.attr("height", u.Height)
	s.attr("opacity", u.Opacity)
	s.str(` preserveAspectRatio="none"`)
	if u.Turn != 0 {
		s.turn(u.Turn, u.At)
	}
	s.str("/>")
}

// tracing writes lines as lines, for other programs to take up.
func (s *svg) tracing(u *Image, t *Tracing) {
	s.str(`<g fill="none" stroke="#000"`)
	s.attr("stroke-width", TracingPen)
	s.attr("opacity", u.Opacity)
	s.str(">")
	for _, run := range u.Lines(t) {
		s.str(`<path d="`)
		s.run(run.Points)
		if run.Closed {
			s.str("Z")
		}
		s.str(`"/>`)
	}
	s.str("</g>")
}

func (s *svg) numbers(list ...float64) {
	for i, v := range list {
		if i > 0 {
			s.str(" ")
		}
		s.num(v)
	}
}

// TracingPen is how thick the lines beneath a plan print, in millimeters: thinner
// than any of its own.
const TracingPen = 0.09

// Lines gives the lines of a Tracing where they lie on the paper, those that
// touch the place that they may cover.
func (u *Image) Lines(t *Tracing) []Stroke {
	var out []Stroke
	across, down := u.Width/float64(t.Width*tenth), u.Height/float64(t.Height*tenth)
	for _, r := range t.Runs {
		line := Stroke{Closed: r.Closed, Points: make([]Point, len(r.Points))}
		for i, p := range r.Points {
			line.Points[i] = turned(Point{X: float64(p[0]) * across, Y: float64(p[1])*down - u.Height}, u.Turn).Add(u.At)
		}
		if box, _ := geom.BoundsOf(line.Points...); box.Touches(u.Clip) {
			out = append(out, line)
		}
	}
	return out
}
