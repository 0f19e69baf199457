package pdf

import (
	"bytes"

	"codeberg.org/go-pdf/fpdf"

	"scopewright/export/drawing"
)

// underlay puts the picture beneath a drawing whose top left corner is x, y on
// the page.
func (p *page) underlay(x, y float64, u *drawing.Image) {
	if u != nil && u.Data != nil {
		p.ops = append(p.ops, op{kind: opUnderlay, x: x, y: y, underlay: u})
	}
}

// imageTypes are the pictures that go into a PDF as they are.
var imageTypes = map[string]string{"image/png": "png", "image/jpeg": "jpg"}

// underlay draws a picture no further than its drawing reaches. All that is set
// meanwhile ends with the clipping.
func (p *painter) underlay(o op) {
	u := o.underlay
	p.out.ClipRect(o.x+u.Clip.Min.X, o.y+u.Clip.Min.Y, u.Clip.Width(), u.Clip.Height(), false)
	p.out.SetAlpha(u.Opacity, "Normal")
	if u.Media == drawing.TracingMedia {
		p.tracing(o)
	} else {
		p.image(o)
	}
	p.out.SetAlpha(1, "Normal")
	p.out.ClipEnd()
	p.forget()
}

func (p *painter) image(o op) {
	u := o.underlay
	options := fpdf.ImageOptions{ImageType: imageTypes[u.Media], AllowNegativePosition: true}
	p.out.RegisterImageOptionsReader(u.Picture, options, bytes.NewReader(u.Data))
	left, bottom := o.x+u.At.X, o.y+u.At.Y
	p.out.TransformBegin()
	p.out.TransformRotate(u.Turn, left, bottom)
	p.out.ImageOptions(u.Picture, left, bottom-u.Height, u.Width, u.Height, false, options, 0, "")
	p.out.TransformEnd()
}

// tracing draws lines as lines. One that cannot be read is left out: the plan
// above it holds without.
func (p *painter) tracing(o op) {
	t, err := drawing.ReadTracing(o.underlay.Data)
	if err != nil {
		return
	}
	p.out.SetDrawColor(0, 0, 0)
	p.out.SetLineWidth(drawing.TracingPen)
	for _, run := range o.underlay.Lines(t) {
		p.run(o, run.Points)
		if run.Closed {
			p.out.ClosePath()
		}
		p.out.DrawPath("S")
	}
}
