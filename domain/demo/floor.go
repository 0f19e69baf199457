package demo

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// foot is the international foot in meters.
const foot = 0.3048

// The corridor runs from the south stair to the north stair, on all storeys of
// the same length, so that the stairs stand above each other.
const (
	corridorLength = 190 * foot
	stairWidth     = 13 * foot
)

// run is a row of rooms of one depth along a side of the corridor, from south
// to north.
type run struct {
	depth float64 // feet
	rooms []string
}

// floor is how a storey's rooms lie.
type floor struct {
	corridor, southStair, northStair string
	west, east                       []run

	yard float64 // altitude of what stands across the yard in the west, degrees
	top  bool    // the roof is above it
}

// floors by storey. Depths are chosen so that both sides fit the corridor;
// widths follow from the areas of the room list.
var floors = map[domain.ID]floor{
	"level-1": {"100", "1S2", "1S1",
		[]run{{30, []string{"106"}}, {20, []string{"105"}}, {30, []string{"103"}}, {12, []string{"104"}}},
		[]run{{12, []string{"102"}}, {30, []string{"101"}}, {20, []string{"107", "108"}}, {10, []string{"109", "112"}}, {20, []string{"110"}}, {12, []string{"111", "113"}}}, 20, false},
	"level-2": {"200", "2S2", "2S1",
		[]run{{28, []string{"201", "202", "203", "204", "205"}}, {12, []string{"210", "211"}}},
		[]run{{28, []string{"206", "207", "208"}}, {20, []string{"209", "214", "215", "216"}}, {12, []string{"212", "213", "217"}}}, 0, false},
	"level-3": {"300", "3S2", "3S1",
		[]run{{40, []string{"301"}}, {20, []string{"310", "311", "313", "314", "315"}}, {10, []string{"317"}}},
		[]run{{16, []string{"305"}}, {12, []string{"302", "303", "304", "306", "307", "308", "309", "312", "316"}}}, 0, true},
}

// frame is a room's rectangle as one sees it from its door: u runs along the
// wall to the corridor, v from there into the room, both in meters.
//
//	   depth
//	v  ^ +-------------+
//	     |             |
//	     +--door-------+ -> u
//	   origin        width
type frame struct {
	origin, along, into geom.Point
	width, depth        float64
	door                float64 // the middle of the door, or the first, along u
}

func (f frame) at(u, v float64) geom.Point {
	p := f.origin.Add(f.along.Times(u)).Add(f.into.Times(v))
	return geom.Pt(written(p.X), written(p.Y))
}

// within is at, kept off the walls.
func (f frame) within(u, v float64) geom.Point {
	const off = 0.05
	return f.at(min(max(u, off), f.width-off), min(max(v, off), f.depth-off))
}

func (f frame) outline() geom.Polygon {
	return geom.Polygon{Outer: []geom.Point{f.at(0, 0), f.at(f.width, 0), f.at(f.width, f.depth), f.at(0, f.depth)}}.Oriented()
}

// written rounds to the tenth of a millimeter that plans are written with.
func written(v float64) float64 { return math.Round(v*1e4) / 1e4 }

// frames lays out the rooms of a storey.
func (fl floor) frames(rooms []domain.Room) map[string]frame {
	area := map[string]float64{}
	for i := range rooms {
		area[rooms[i].Number] = float64(rooms[i].Area)
	}
	half := written(area[fl.corridor] / corridorLength / 2)
	north, east := geom.Pt(0, 1), geom.Pt(1, 0)
	out := map[string]frame{
		fl.corridor:   {origin: geom.Pt(-half, 0), along: north, into: east, width: corridorLength, depth: 2 * half},
		fl.southStair: {origin: geom.Pt(-stairWidth/2, 0), along: east, into: north.Times(-1), width: stairWidth, depth: area[fl.southStair] / stairWidth, door: stairWidth / 2},
		fl.northStair: {origin: geom.Pt(-stairWidth/2, corridorLength), along: east, into: north, width: stairWidth, depth: area[fl.northStair] / stairWidth, door: stairWidth / 2},
	}
	for _, side := range []struct {
		x    float64
		into geom.Point
		runs []run
	}{{-half, east.Times(-1), fl.west}, {half, east, fl.east}} {
		y := 0.0
		for _, r := range side.runs {
			for _, number := range r.rooms {
				depth := r.depth * foot
				next := written(y + area[number]/depth)
				f := frame{origin: geom.Pt(side.x, y), along: north, into: side.into, width: next - y, depth: depth}
				f.door = f.firstDoor() + doorWidth/2
				out[number] = f
				y = next
			}
		}
		if y > corridorLength {
			panic(fmt.Sprintf("demo: the rooms along corridor %s need %.1f m of it", fl.corridor, y))
		}
	}
	return out
}

// draw puts outlines, devices, luminaires and seats into the rooms and gives
// the storey's plan.
func draw(storey domain.ID, rooms []domain.Room, typicals []domain.Typical) domain.Plan {
	fl := floors[storey]
	frames := fl.frames(rooms)
	for i := range rooms {
		r := &rooms[i]
		f, known := frames[r.Number]
		if !known {
			panic(fmt.Sprintf("demo: room %s lies nowhere", r.Number))
		}
		r.Outline = f.outline()
		resolved := resolve(r, typicals)
		furnish(resolved, f)
		if err := resolved.Settle(); err != nil {
			panic(fmt.Sprintf("demo: room %s: %v", r.Number, err))
		}
	}
	plan := domain.Plan{ID: storey, North: 8, Walls: walls(fl, rooms, frames), Rooflights: rooflights(fl, frames)}
	for i := range plan.Walls {
		plan.Walls[i].ID, plan.Walls[i].Seq = domain.ID(fmt.Sprintf("w%d", i+1)), i+1
	}
	return plan
}
