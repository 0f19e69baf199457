package demo

import (
	"cmp"
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Sizes of what stands in walls, meters.
const (
	doorWidth  = 3 * foot
	doorHead   = 7 * foot
	doorOff    = 1 * foot // from the room's corner
	paneWidth  = 5 * foot
	paneEvery  = 7 * foot
	paneSill   = 3 * foot
	paneHead   = 7.5 * foot
	glassHead  = 10 * foot // of the lobby's front
	clerestory = 12 * foot
)

func (f frame) firstDoor() float64 { return min(doorOff, (f.width-doorWidth)/2) }

// piece is a stretch of wall with the same rooms on both sides all along.
type piece struct {
	geom.Segment
	rooms []int // one: outdoors is on the other side
}

// walls builds one wall for each stretch between two rooms or a room and
// outdoors.
func walls(fl floor, rooms []domain.Room, frames map[string]frame) []domain.Wall {
	var out []domain.Wall
	for _, p := range pieces(rooms) {
		out = append(out, p.wall(fl, rooms, frames))
	}
	for _, number := range []string{"106", "301"} {
		if f, here := frames[number]; here {
			out = append(out, partitions(number, f)...)
		}
	}
	return out
}

// pieces cuts the outlines where corners of other rooms meet them.
func pieces(rooms []domain.Room) []*piece {
	var corners []geom.Point
	for i := range rooms {
		corners = append(corners, rooms[i].Outline.Outer...)
	}
	var out []*piece
	known := map[geom.Segment]*piece{}
	for i := range rooms {
		for edge := range geom.Edges(rooms[i].Outline.Outer) {
			for _, s := range cut(edge, corners) {
				if known[s] == nil {
					known[s] = &piece{Segment: s}
					out = append(out, known[s])
				}
				known[s].rooms = append(known[s].rooms, i)
			}
		}
	}
	return out
}

// cut gives the parts of an edge, each from south or west to north or east.
func cut(edge geom.Segment, corners []geom.Point) []geom.Segment {
	on := []geom.Point{edge.A, edge.B}
	for _, c := range corners {
		if edge.Distance(c) < geom.Coincident {
			on = append(on, c)
		}
	}
	slices.SortFunc(on, func(a, b geom.Point) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) })
	on = slices.Compact(on)
	var out []geom.Segment
	for i := 1; i < len(on); i++ {
		out = append(out, geom.Segment{A: on[i-1], B: on[i]})
	}
	return out
}

func (p *piece) wall(fl floor, rooms []domain.Room, frames map[string]frame) domain.Wall {
	w := domain.Wall{A: p.A, B: p.B, Kind: domain.FullWall, Thickness: 0.12, Material: domain.StudWall}
	numbers := make([]string, len(p.rooms))
	for i, at := range p.rooms {
		numbers[i] = rooms[at].Number
		if n := numbers[i]; n == fl.southStair || n == fl.northStair {
			w.Thickness, w.Material = 0.2, domain.Concrete200
		}
	}
	if len(p.rooms) == 1 {
		if w.Material != domain.Concrete200 {
			w.Thickness, w.Material = 0.3, domain.Brick215
		}
		r := &rooms[p.rooms[0]]
		if f := frames[r.Number]; r.Windows && f.facade(p.Segment) {
			w.Openings = front(r.Number, p.Length())
			hide(w.Openings, f.skyHidden(fl))
		}
	} else if at := slices.Index(numbers, fl.corridor); at >= 0 {
		other := numbers[1-at]
		w.Openings = doors(other, frames[other], p.Length())
	}
	for i := range w.Openings {
		w.Openings[i].ID, w.Openings[i].Seq = domain.ID(fmt.Sprintf("o%d", i+1)), i+1
	}
	return w
}

// facade tells that a stretch of wall is the one opposite the corridor.
func (f frame) facade(s geom.Segment) bool {
	return geom.Segment{A: f.at(0, f.depth), B: f.at(f.width, f.depth)}.Distance(s.Middle()) < geom.Coincident
}

// doors leads from the corridor into a room, along a wall of that length.
func doors(number string, f frame, length float64) []domain.Opening {
	door := func(at float64) domain.Opening {
		return domain.Opening{Kind: domain.Door, At: units.Metres(at), Width: doorWidth, Head: doorHead}
	}
	switch number {
	case "106": // each half of the divisible room has its own
		return []domain.Opening{door(f.firstDoor()), door(f.width - f.firstDoor() - doorWidth)}
	case "310": // who sits there sees whether the corridor is lit
		pane := domain.Opening{Kind: domain.Window, At: units.Metres(f.firstDoor() + 2*doorWidth), Width: paneWidth, Sill: paneSill, Head: doorHead, Indoors: true}
		return []domain.Opening{door(f.firstDoor()), pane}
	case "316": // the kitchenette is open to the corridor
		return []domain.Opening{{Kind: domain.Gap, At: doorOff, Width: 5 * foot, Head: 8 * foot}}
	}
	if f.into.Y != 0 { // a stair, whose wall is wider than the corridor
		return []domain.Opening{door((length - doorWidth) / 2)}
	}
	return []domain.Opening{door(f.firstDoor())}
}

// skyHidden is the altitude in degrees up to which the invented building across
// the yard, in the west, hides the sky. It has one storey: those above see over it.
func (f frame) skyHidden(fl floor) float64 {
	if f.into.X >= 0 {
		return 0
	}
	return fl.yard
}

func hide(windows []domain.Opening, altitude float64) {
	for i := range windows {
		if windows[i].Kind == domain.Window {
			windows[i].Blocked = altitude
		}
	}
}

// rooflights are two over the corridor of the top storey, clear of its sensors.
func rooflights(fl floor, frames map[string]frame) []domain.Rooflight {
	if !fl.top {
		return nil
	}
	f := frames[fl.corridor]
	var out []domain.Rooflight
	for i, u := range []float64{0.36 * f.width, 0.75 * f.width} {
		out = append(out, domain.Rooflight{ID: domain.ID(fmt.Sprintf("rl%d", i+1)), Seq: i + 1, At: f.at(u, f.depth/2), Width: 4 * foot, Length: 4 * foot, Glass: 0.52})
	}
	return out
}

// front is a facade: windows side by side, and doors where people come in.
func front(number string, length float64) []domain.Opening {
	sill, head := paneSill, paneHead
	switch number {
	case "101":
		sill, head = 0, glassHead
	case "103":
		sill, head = clerestory, clerestory+4*foot
	}
	var out []domain.Opening
	n := int((length - paneEvery + paneWidth) / paneEvery)
	n = max(n, 1)
	margin := (length - float64(n-1)*paneEvery - paneWidth) / 2
	for i := range n {
		o := domain.Opening{Kind: domain.Window, At: units.Metres(margin + float64(i)*paneEvery), Width: paneWidth, Sill: units.Metres(sill), Head: units.Metres(head)}
		if number == "101" && i == n/2 {
			o.Kind = domain.Door // the entrance
			o.Head = doorHead
		}
		out = append(out, o)
	}
	return out
}

// partitions are what stands within a room: the folding wall of the divisible
// room, which reaches the ceiling, and screens between the desks of the open
// office.
func partitions(number string, f frame) []domain.Wall {
	if number == "106" {
		return []domain.Wall{{A: f.at(f.width/2, 0), B: f.at(f.width/2, f.depth), Kind: domain.Partition, Thickness: 0.1, Height: 10 * foot, Material: domain.TimberPanel}}
	}
	var out []domain.Wall
	for _, u := range []float64{0.25, 0.5, 0.75} {
		out = append(out, domain.Wall{A: f.at(u*f.width, 0.08*f.depth), B: f.at(u*f.width, 0.7*f.depth), Kind: domain.Partition, Thickness: 0.06, Height: 1.4, Material: domain.TimberPanel})
	}
	return out
}
