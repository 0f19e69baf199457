package plan

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// OutsideStorey looks for rooms that reach beyond the storey's outer walls.
// Nobody draws a storey's edge: it is what walls enclose, where they do.
var OutsideStorey = rule.Rule{
	ID: "plan-outside-storey", Title: "Room outside of the storey", Severity: rule.Warning, Scope: rule.OfStorey,
	Limits: []domain.LimitID{domain.RoomBeyondWalls},
	Why:    "A room beyond the outer walls is traced or moved wrongly: its area, its windows and its radio paths are those of another place.",
	Source: commonPractice,
	Example: "A room that ends at the middle of the outer wall passes; one that reaches 2 ft beyond the wall's outer face does not. " +
		"A storey's walls tell its edge where they close around more than half of the floor that is drawn; elsewhere the rule says nothing.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		enclosed := floorOf(f)
		if enclosed == nil {
			return nil
		}
		var out []rule.Finding
		limit := f.Limit(domain.RoomBeyondWalls)
		for _, r := range f.Rooms {
			at, beyond := enclosed.furthestOutside(r.Outline, enclosed.half+limit)
			if beyond = beyond - enclosed.half; units.AtMost(beyond, limit) {
				continue
			}
			if len(out) == mostFindings {
				break
			}
			one := rule.AtMost(beyond, limit, "m")
			one.Key, one.Subjects, one.Places = string(r.ID), []rule.Subject{rule.RoomSubject(r)}, []geom.Point{at}
			one.Message = fmt.Sprintf("Room %s %s reaches %s beyond the outer walls, limit %s: move its outline, or close the walls around it.", r.Number, onPlan(f),
				units.Length(units.Metres(beyond), f.Project.Units), units.Length(units.Metres(limit), f.Project.Units))
			out = append(out, one)
		}
		return out
	},
	FiresStorey: func() *rule.StoreyFacts { return walled(10.6 + 0.061) },
	QuietStorey: func() *rule.StoreyFacts { return walled(10.3648) }, // half a wall of 0.12 m and the limit
}

// walled gives walls around 10 by 6 m with a room that reaches to x, and one
// that they hold.
func walled(x float64) *rule.StoreyFacts {
	var walls []domain.Wall
	corners := []geom.Point{geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(10, 6), geom.Pt(0, 6)}
	for i, a := range corners {
		walls = append(walls, domain.Wall{ID: domain.ID(fmt.Sprint("w", i)), Seq: i + 1, A: a, B: corners[(i+1)%4], Kind: domain.FullWall, Thickness: 0.12})
	}
	return storey(walls, geom.Rectangle(0, 0, 5, 6), geom.Rectangle(5, 0, x-5, 6))
}

// floor is what a storey's walls enclose, by their center lines.
type floor struct {
	faces []geom.Polygon
	boxes []geom.Box
	half  float64 // of the thickest wall
}

// wallsMeet is how far apart in meters two wall ends may lie and still meet, as
// where a room is drawn between walls.
const wallsMeet = 0.05

// floorOf gives the floor where the walls close around most of what is drawn,
// nil elsewhere.
func floorOf(f *rule.StoreyFacts) *floor {
	var lines []geom.Segment
	out := &floor{}
	for i := range f.Plan.Walls {
		if w := &f.Plan.Walls[i]; w.Kind == domain.FullWall && w.A.Finite() && w.B.Finite() {
			lines = append(lines, w.Line())
			out.half = max(out.half, float64(w.Thickness)/2)
		}
	}
	var err error
	if len(lines) < 3 {
		return nil
	}
	if out.faces, err = geom.Faces(lines, wallsMeet); err != nil { // too tangled to tell
		return nil
	}
	for i := range out.faces {
		out.boxes = append(out.boxes, out.faces[i].Bounds())
	}
	var in, all float64
	for _, r := range f.Rooms {
		if r.Outline.Empty() {
			continue
		}
		area := r.Outline.Area()
		if all += area; out.contains(r.Outline.LabelPoint()) {
			in += area
		}
	}
	if in <= all/2 {
		return nil
	}
	return out
}

func (l *floor) contains(p geom.Point) bool {
	for i := range l.faces {
		if l.boxes[i].Contains(p) && l.faces[i].Contains(p) {
			return true
		}
	}
	return false
}

// beyond gives how far a point lies outside of the floor, 0 within; what is
// nearer than a distance need not be told exactly.
func (l *floor) beyond(p geom.Point, nearEnough float64) float64 {
	if l.contains(p) {
		return 0
	}
	least := math.Inf(1)
	for i := range l.faces {
		box := l.boxes[i]
		dx, dy := max(box.Min.X-p.X, 0, p.X-box.Max.X), max(box.Min.Y-p.Y, 0, p.Y-box.Max.Y)
		if math.Hypot(dx, dy) >= least {
			continue
		}
		if _, far := l.faces[i].NearestOnBoundary(p); far < least {
			if least = far; least <= nearEnough {
				break
			}
		}
	}
	return least
}

// furthestOutside gives the place of an outline that lies furthest outside of the
// floor. It looks every half meter.
func (l *floor) furthestOutside(outline geom.Polygon, nearEnough float64) (at geom.Point, beyond float64) {
	const step, mostSteps = 0.5, 400
	for _, edge := range outline.Edges() {
		n := min(max(1, int(math.Ceil(edge.Length()/step))), mostSteps)
		for i := range n {
			p := edge.At(float64(i) / float64(n))
			if !p.Finite() {
				return geom.Point{}, 0
			}
			if d := l.beyond(p, nearEnough); d > beyond {
				at, beyond = p, d
			}
		}
	}
	return at, beyond
}
