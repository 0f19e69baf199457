package dxf

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// FromClosedLine is where a room's outline came from: a closed polyline, circle
// or hatch on a chosen layer.
const FromClosedLine = "closed line"

// smallestOutline in square meters: below it, a closed line on a layer of rooms
// is a symbol or a column (common practice, no published source).
const smallestOutline = 0.05

// builder turns chosen layers into rooms and walls, in meters.
type builder struct {
	ctx     context.Context
	drawing *drawing
	scene   *scene
	opt     Options
	scale   float64
	model   *building.Model
}

// outline is a room on its way.
type outline struct {
	poly   geom.Polygon
	area   float64
	bounds geom.Box
	stroke stroke
	labels []placedLabel
	word   wording
	from   string // FromClosedLine or FromWalls
	whole  bool   // it holds most of the others: the outline of the storey
}

func (b *builder) problem(kind, where, format string, args ...any) {
	b.drawing.problems.Add(kind, where, format, args...)
}

func (b *builder) note(format string, args ...any) {
	b.model.Notes = append(b.model.Notes, fmt.Sprintf(format, args...))
}

// chosen gives the layers of a list as a set of indices.
func (b *builder) chosen(names []string) map[int]bool {
	set := map[int]bool{}
	for _, name := range names {
		if i, ok := b.drawing.byName[strings.ToUpper(strings.TrimSpace(name))]; ok {
			set[i] = true
		}
	}
	return set
}

// unknownLayers refuses layers that the drawing does not have.
func (b *builder) unknownLayers() error {
	for _, name := range slices.Concat(b.opt.RoomLayers, b.opt.WallLayers, b.opt.TextLayers, b.opt.WindowLayers, b.opt.DoorLayers) {
		if _, ok := b.drawing.byName[strings.ToUpper(strings.TrimSpace(name))]; !ok {
			return fmt.Errorf("the drawing has no layer '%s': look at its layers again", cut(name, 60))
		}
	}
	return nil
}

// meters puts points of a stroke on the plan.
func (b *builder) meters(ring []geom.Point) []geom.Point {
	for i := range ring {
		ring[i] = ring[i].Times(b.scale)
	}
	return ring
}

func (b *builder) where(s stroke) string {
	if s.line == 0 {
		return "walls"
	}
	w := drawer{d: b.drawing}
	return w.where(s.line)
}

func (b *builder) layerName(i int) string { return cut(b.drawing.layers[i].name, 60) }

// rooms gives the rooms of the chosen layers, in reading order of the file.
func (b *builder) rooms() ([]building.Space, error) {
	collect := b.outlines
	if len(b.opt.RoomLayers) == 0 && b.opt.Enclose > 0 {
		collect = b.enclosed
	}
	found, err := collect()
	if err != nil {
		return nil, err
	}
	found = b.dropRepeats(found)
	b.heights(found)
	if err := b.label(found); err != nil {
		return nil, err
	}
	if err := b.overlaps(found); err != nil {
		return nil, err
	}
	spaces := make([]building.Space, 0, len(found))
	keys := map[string]int{}
	for i, o := range found {
		spaces = append(spaces, b.space(i, o, keys))
	}
	if len(b.opt.RoomLayers) > 0 && len(spaces) == 0 {
		b.problem("rooms", "layers", "No closed outline lies on the chosen room layers: trace the rooms over the drawing, or choose other layers.")
	}
	return spaces, nil
}

// space gives the room. Its key is the entity's handle, which outlives edits of
// the drawing, or else its order in the file.
func (b *builder) space(i int, o *outline, keys map[string]int) building.Space {
	key := "outline-" + strconv.Itoa(i+1)
	if o.stroke.handle != 0 {
		key = "h" + strings.ToUpper(strconv.FormatUint(o.stroke.handle, 16))
	}
	if keys[key]++; keys[key] > 1 {
		key += "-" + strconv.Itoa(keys[key])
	}
	s := building.Space{
		Key: key, Number: o.word.number, Name: o.word.name,
		Outline: o.poly, OutlineFrom: o.from,
		DeclaredArea: o.word.area, Area: units.SquareMetres(o.area),
		Floor: b.opt.Level, Ceiling: b.opt.Level,
		Texts: o.word.rest, Unassigned: o.whole,
	}
	if d := float64(s.DeclaredArea); d > 0 && math.Abs(d-o.area) > 0.02*o.area {
		b.problem("areas that differ", b.where(o.stroke), "%s: the drawing says %.1f m2, its outline has %.1f m2. The outline is used.", o.called(b), d, o.area)
	}
	return s
}

// called names a room in a message.
func (o *outline) called(b *builder) string {
	if name := strings.TrimSpace(o.word.number + " " + o.word.name); name != "" {
		return "'" + cut(name, 60) + "'"
	}
	at := o.poly.LabelPoint()
	return fmt.Sprintf("the outline around (%.2f, %.2f) m", at.X, at.Y)
}

// outlines collects sound closed lines of the chosen layers.
func (b *builder) outlines() ([]*outline, error) {
	layers := b.chosen(b.opt.RoomLayers)
	var found []*outline
	var tiny, open, byEnds int
	for i, s := range b.scene.strokes {
		if i%1024 == 0 && b.ctx.Err() != nil {
			return nil, b.ctx.Err()
		}
		if !layers[s.layer] {
			continue
		}
		if !s.closed {
			open++
			continue
		}
		poly, ok := b.sound(s)
		if !ok {
			continue
		}
		if poly.Area() < smallestOutline {
			tiny++
			continue
		}
		if s.byEnds {
			byEnds++
		}
		if len(found) >= MaxRooms {
			return nil, fmt.Errorf("the chosen layers hold more than %s closed outlines: choose fewer layers", building.Count(MaxRooms))
		}
		found = append(found, &outline{poly: poly, area: poly.Area(), bounds: poly.Bounds(), stroke: s, from: FromClosedLine})
	}
	if tiny > 0 {
		b.note("%s left out for having less than %g m2 (columns, symbols).", were(tiny, "closed outline"), smallestOutline)
	}
	if byEnds > 0 {
		b.note("%s taken as closed for ending at the start; no mark says so.", were(byEnds, "outline"))
	}
	if open > 0 {
		b.note("%s left out of the room layers for not being closed.", were(open, "line"))
	}
	return found, nil
}

// sound gives a stroke's polygon in meters, repaired where it crosses itself.
func (b *builder) sound(s stroke) (geom.Polygon, bool) {
	poly := geom.Polygon{Outer: b.meters(s.ring(s.at, finestTurn))}
	for _, hole := range s.holes {
		poly.Holes = append(poly.Holes, b.meters(s.through(hole, s.at, finestTurn)))
	}
	if len(poly.Outer) > MaxOutlinePoints {
		b.problem("lines with too many points", b.where(s), "An outline on layer '%s' (%s) has %s points with its arcs; at most %s are read. It was left out.",
			b.layerName(s.layer), b.where(s), building.Count(len(poly.Outer)), building.Count(MaxOutlinePoints))
		return poly, false
	}
	for _, ring := range poly.Rings() {
		for _, p := range ring {
			if !p.Finite() {
				b.problem("lines out of reach", b.where(s), "An outline on layer '%s' (%s) lies farther out than 10,000 km in this unit and was left out.", b.layerName(s.layer), b.where(s))
				return poly, false
			}
		}
	}
	poly = poly.Simplify(geom.Coincident)
	if poly.Empty() {
		b.problem("outlines without area", b.where(s), "An outline on layer '%s' (%s) encloses no area and was left out.", b.layerName(s.layer), b.where(s))
		return poly, false
	}
	faults := poly.Validate()
	if len(faults) == 0 {
		return poly.Oriented(), true
	}
	f := faults[0]
	if f.Kind == geom.HoleOutside {
		poly.Holes = nil
		return poly.Oriented(), true
	}
	parts, err := geom.Repair(poly.Outer)
	if f.Kind != geom.SelfCrossing || err != nil || len(parts) == 0 {
		b.problem("outlines that cross themselves", b.where(s), "An outline on layer '%s' (%s): %s. It was left out.", b.layerName(s.layer), b.where(s), f.Message())
		return poly, false
	}
	b.problem("outlines that cross themselves", b.where(s), "An outline on layer '%s' (%s) crosses itself near (%.2f, %.2f) m. Its largest part (%.1f m2) is taken; leave the room out if that is wrong.",
		b.layerName(s.layer), b.where(s), f.At.X, f.At.Y, parts[0].Area())
	return parts[0], true
}

// dropRepeats drops outlines that lie on another one: a polyline and its hatch,
// or a copy pasted in place. The first of them stays.
func (b *builder) dropRepeats(found []*outline) []*outline {
	order := make([]int, len(found))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmpFloat(found[i].bounds.Min.X, found[j].bounds.Min.X) })
	const within = 2 * geom.OnEdge
	gone := map[int]bool{}
	for n, i := range order {
		for _, j := range order[n+1:] {
			if found[j].bounds.Min.X-found[i].bounds.Min.X > within {
				break
			}
			a, c := found[i], found[j]
			if a.bounds.Min.Near(c.bounds.Min, within) && a.bounds.Max.Near(c.bounds.Max, within) &&
				math.Abs(a.area-c.area) <= within*(1+a.bounds.Width()+a.bounds.Height()) {
				gone[max(i, j)] = true
			}
		}
	}
	if len(gone) == 0 {
		return found
	}
	b.note("%s taken only once for lying on another, as a hatch on its line does.", were(len(gone), "outline"))
	kept := found[:0:0]
	for i, o := range found {
		if !gone[i] {
			kept = append(kept, o)
		}
	}
	return kept
}

// heights notes outlines drawn at different heights: several storeys in one
// drawing would lie on each other.
func (b *builder) heights(found []*outline) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, o := range found {
		low, high = min(low, o.stroke.z*b.scale), max(high, o.stroke.z*b.scale)
	}
	if high-low >= 2 {
		b.problem("heights", "drawing", "The outlines lie at heights from %.2f to %.2f m, so the drawing may hold several storeys. All are taken as one: bring in one storey at a time.", low, high)
	}
}
