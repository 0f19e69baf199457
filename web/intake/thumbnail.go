package intake

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/store/intake/building"
	"scopewright/store/intake/match"
)

// thumbnail is a storey of the file in small: outlines by what happens to them,
// walls and rooflights. It is no drawing of the project: that one shows what is stored.
type thumbnail struct {
	ViewBox string // "" where there is nothing to show
	Rooms   []roomShape
	Walls   string // path of all walls and rooflights
	Title   string
}

type roomShape struct{ Path, Class, Title string }

// Bounds of a thumbnail: its longer side in its own units, and what is shown.
const (
	thumbSize  = 1000.0
	thumbEdge  = 12.0
	mostShapes = 3000
	mostTraces = 6000
)

// thumbFrame maps meters to the thumbnail, y down.
type thumbFrame struct {
	box   geom.Box
	scale float64
}

func newThumbnail(s *match.Storey, from *building.Storey) thumbnail {
	box, any := extentOf(from)
	if !any {
		return thumbnail{}
	}
	size := max(box.Width(), box.Height(), 0.001)
	f := thumbFrame{box: box, scale: (thumbSize - 2*thumbEdge) / size}
	t := thumbnail{ViewBox: fmt.Sprintf("0 0 %.0f %.0f", box.Width()*f.scale+2*thumbEdge, box.Height()*f.scale+2*thumbEdge)}
	t.Title = fmt.Sprintf("Outlines of %s as the file draws them", s.Name)
	classes := map[*building.Space]action{}
	for i := range s.Steps {
		classes[s.Steps[i].Space] = action(s.Steps[i].Action)
	}
	for i := range from.Spaces {
		space := &from.Spaces[i]
		if space.Outline.Empty() || len(t.Rooms) >= mostShapes {
			continue
		}
		class := string(classes[space])
		if class == "" {
			class = string(isSkip)
		}
		title := strings.TrimSpace(space.Number + " " + space.Name)
		for _, part := range append([]geom.Polygon{space.Outline}, space.MoreParts...) {
			t.Rooms = append(t.Rooms, roomShape{Path: f.path(part), Class: "thumb-" + class, Title: title})
		}
	}
	t.Walls = f.walls(from.Walls) + f.rooflights(from.Rooflights)
	return t
}

func extentOf(from *building.Storey) (geom.Box, bool) {
	var points []geom.Point
	for i := range from.Spaces {
		points = append(points, from.Spaces[i].Outline.Outer...)
	}
	for i := range from.Walls {
		points = append(points, from.Walls[i].A, from.Walls[i].B)
	}
	return geom.BoundsOf(points...)
}

func (f thumbFrame) at(p geom.Point) geom.Point {
	return geom.Pt((p.X-f.box.Min.X)*f.scale+thumbEdge, (f.box.Max.Y-p.Y)*f.scale+thumbEdge)
}

// path drops what is finer than half a unit of the thumbnail.
func (f thumbFrame) path(p geom.Polygon) string {
	if small := p.Simplify(0.5 / f.scale); !small.Empty() {
		p = small
	}
	var b strings.Builder
	for _, ring := range p.Rings() {
		for i, q := range ring {
			q = f.at(q)
			fmt.Fprintf(&b, "%c%.1f %.1f", "ML"[min(i, 1)], q.X, q.Y)
		}
		b.WriteByte('Z')
	}
	return b.String()
}

func (f thumbFrame) walls(walls []building.Wall) string {
	var b strings.Builder
	for i := range walls {
		if i == mostTraces {
			break
		}
		if walls[i].Kind == building.AirWall {
			continue
		}
		from, to := f.at(walls[i].A), f.at(walls[i].B)
		fmt.Fprintf(&b, "M%.1f %.1fL%.1f %.1f", from.X, from.Y, to.X, to.Y)
	}
	return b.String()
}

// rooflights are rectangles with a cross, as on the plan.
func (f thumbFrame) rooflights(lights []building.Rooflight) string {
	var b strings.Builder
	for i := range lights[:min(len(lights), mostTraces)] {
		l := &lights[i]
		box := (&domain.Rooflight{At: l.At, Width: l.Width, Length: l.Length, Turn: l.Turn}).Box()
		c := box.Outer
		b.WriteString(f.path(box))
		for _, s := range []geom.Segment{{A: c[0], B: c[2]}, {A: c[1], B: c[3]}} {
			from, to := f.at(s.A), f.at(s.B)
			fmt.Fprintf(&b, "M%.1f %.1fL%.1f %.1f", from.X, from.Y, to.X, to.Y)
		}
	}
	return b.String()
}
