package domain

import (
	"math"

	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Plan is the drawing of one storey beside its rooms: walls with what stands in
// them, partitions, and a picture beneath. Rooms carry their own outlines, so
// that a room and its shape are one thing. Coordinates are meters, x to the
// right and y up the sheet.
type Plan struct {
	ID         ID          `json:"id"`                  // of the storey
	North      float64     `json:"north_deg,omitempty"` // clockwise from up the sheet
	Walls      []Wall      `json:"walls,omitempty"`
	Rooflights []Rooflight `json:"rooflights,omitempty"`
	Underlay   *Underlay   `json:"underlay,omitempty"`
}

// WallKind tells walls from what is lower or only a line.
type WallKind string

// The kinds of wall.
const (
	FullWall  WallKind = "wall"
	Partition WallKind = "partition" // does not reach the ceiling
	Boundary  WallKind = "boundary"  // no wall at all: where one room ends and the next begins
)

// Wall is a straight wall by its center line.
type Wall struct {
	ID        ID           `json:"id"`
	Seq       int          `json:"seq"`
	A         geom.Point   `json:"a"`
	B         geom.Point   `json:"b"`
	Kind      WallKind     `json:"kind"`
	Thickness units.Metres `json:"thickness_m,omitempty"`
	Height    units.Metres `json:"height_m,omitempty"` // of a partition; 0: not stated (sight takes the limit PartitionHeight, radio the ceiling: the careful side of each)
	Material  string       `json:"material,omitempty"` // a name of Materials; files may hold other words
	Openings  []Opening    `json:"openings,omitempty"`
}

// OpeningKind tells what an opening in a wall is.
type OpeningKind string

// The kinds of opening.
const (
	Window OpeningKind = "window"
	Door   OpeningKind = "door"
	Gap    OpeningKind = "opening" // neither glass nor leaf
)

// Opening is a window, a door or a gap in a wall.
type Opening struct {
	ID    ID           `json:"id"`
	Seq   int          `json:"seq"`
	Kind  OpeningKind  `json:"kind"`
	At    units.Metres `json:"at_m"` // from the wall's A to the near end
	Width units.Metres `json:"width_m"`
	Sill  units.Metres `json:"sill_m,omitempty"`
	Head  units.Metres `json:"head_m,omitempty"`

	// Of a window, for daylight.
	Indoors bool    `json:"indoors,omitempty"`     // gives on another room, not outdoors
	Glass   float64 `json:"glass,omitempty"`       // diffuse transmittance of its glass, 0 to 1; 0: as the limits say
	Blocked float64 `json:"blocked_deg,omitempty"` // altitude up to which what stands outside hides the sky
}

// Rooflight is a rectangular opening in the roof over a storey, at the height of the
// ceiling beneath it. Width runs along x and Length along y before it is turned.
type Rooflight struct {
	ID     ID           `json:"id"`
	Seq    int          `json:"seq"`
	At     geom.Point   `json:"at"` // its middle
	Width  units.Metres `json:"width_m"`
	Length units.Metres `json:"length_m"`
	Turn   float64      `json:"turn_deg,omitempty"` // counterclockwise
	Glass  float64      `json:"glass,omitempty"`    // diffuse transmittance, 0 to 1; 0: as the limits say
}

// Box gives the rooflight's outline on the plan.
func (l *Rooflight) Box() geom.Polygon {
	w, h := float64(l.Width)/2, float64(l.Length)/2
	sin, cos := math.Sincos(l.Turn * math.Pi / 180)
	box := geom.Box{Min: geom.Pt(-w, -h), Max: geom.Pt(w, h)}
	return box.Polygon().Map(func(p geom.Point) geom.Point {
		return l.At.Add(geom.Pt(p.X*cos-p.Y*sin, p.X*sin+p.Y*cos))
	})
}

// Underlay is a picture beneath the drawing, placed in the storey's meters.
type Underlay struct {
	Picture string       `json:"picture"` // SHA-256 of the stored picture
	At      geom.Point   `json:"at"`      // its lower left corner
	Width   units.Metres `json:"width_m"`
	Height  units.Metres `json:"height_m"`
	Turn    float64      `json:"turn_deg,omitempty"` // counterclockwise about At
	Opacity float64      `json:"opacity,omitempty"`  // 0: the usual 50 %
}

// Fixture is one luminaire of a load at its place.
type Fixture struct {
	ID   ID         `json:"id"`
	Load ID         `json:"load"`
	At   geom.Point `json:"at"`
	Turn float64    `json:"turn_deg,omitempty"` // counterclockwise
}

// Seat is where a person sits or stands for long.
type Seat struct {
	ID ID         `json:"id"`
	At geom.Point `json:"at"`
}

// Line gives the wall's center line.
func (w *Wall) Line() geom.Segment { return geom.Segment{A: w.A, B: w.B} }

// Span gives the ends of an opening on the plan.
func (w *Wall) Span(o *Opening) geom.Segment {
	length := w.A.Distance(w.B)
	if length == 0 {
		return geom.Segment{A: w.A, B: w.A}
	}
	along := w.B.Sub(w.A).Times(1 / length)
	return geom.Segment{A: w.A.Add(along.Times(float64(o.At))), B: w.A.Add(along.Times(float64(o.At + o.Width)))}
}

// Wall gives the wall of that ID, nil where there is none.
func (p *Plan) Wall(id ID) *Wall {
	for i := range p.Walls {
		if p.Walls[i].ID == id {
			return &p.Walls[i]
		}
	}
	return nil
}

// Rooflight gives the rooflight of that ID, nil where there is none.
func (p *Plan) Rooflight(id ID) *Rooflight {
	for i := range p.Rooflights {
		if p.Rooflights[i].ID == id {
			return &p.Rooflights[i]
		}
	}
	return nil
}

// Empty tells that nothing has been drawn.
func (p *Plan) Empty() bool { return len(p.Walls)+len(p.Rooflights) == 0 && p.Underlay == nil }

// Measured gives the area of the room's outline, 0 where it has none.
func (r *Room) Measured() units.SquareMetres { return units.SquareMetres(r.Outline.Area()) }

// Unplaced counts the devices of a design without a place on the plan, and the
// luminaires that its loads have and the room does not show.
func (r *Resolved) Unplaced() (devices, luminaires int) {
	for i := range r.Design.Devices {
		if r.Design.Devices[i].At == nil {
			devices++
		}
	}
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if l.Luminaire == "" {
			continue
		}
		placed := 0
		for j := range r.Fixtures {
			if r.Fixtures[j].Load == l.ID {
				placed++
			}
		}
		luminaires += max(0, l.Count-placed)
	}
	return devices, luminaires
}
