package drawing

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Stored is the content of a picture beneath a plan.
type Stored struct {
	Media string // image/png, image/jpeg or TracingMedia
	Data  []byte
}

// usualOpacity is that of a picture that says none.
const usualOpacity = 0.5

// noPicture says that a picture beneath does not print.
const noPicture = "The picture beneath the drawing is left out of this print."

// foreign says whose a picture beneath is.
const foreign = "The picture beneath is a drawing by others, as received: no part of this design."

// underlay gives the picture beneath that the view shows, nil for none: a screen
// shows what its layer says, paper what was handed over for it.
func (v *View) underlay() *domain.Underlay {
	u := v.plan.Underlay
	if u == nil || !v.opt.shows(LayerUnderlay) || v.focus != nil && v.opt.Furniture {
		return nil
	}
	if _, handed := v.opt.Beneath[u.Picture]; v.opt.Furniture && !handed {
		return nil
	}
	return u
}

// underlay shows the stored picture.
func (b *board) underlay() {
	u := b.v.underlay()
	if u == nil {
		return
	}
	k := b.pic.Scale.PerMeter()
	image := &Image{Picture: u.Picture, At: b.paper(u.At), Width: float64(u.Width) * k, Height: float64(u.Height) * k, Turn: u.Turn,
		Opacity: u.Opacity, Stored: b.v.opt.Beneath[u.Picture], Clip: geom.Box{Max: Point{X: b.pic.Width, Y: b.pic.Height}}}
	if image.Opacity == 0 {
		image.Opacity = usualOpacity
	}
	b.pic.Underlay = image
}

// clearGround takes the ground of rooms out of a print that shows a picture
// beneath them: it would cover the picture.
func (b *board) clearGround() {
	if b.pic.Underlay == nil || !b.v.opt.Furniture {
		return
	}
	ground := func(s Shape) bool { a, ok := s.(Area); return ok && a.Style == StyleRoom }
	for i := range b.pic.Items {
		if item := &b.pic.Items[i]; item.Layer == LayerRooms {
			item.Shapes = slices.DeleteFunc(item.Shapes, ground)
		}
	}
}
