package dxf

import (
	"math"
	"slices"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// label gives each text to the smallest outline around it and names the rooms.
func (b *builder) label(found []*outline) error {
	lost, err := b.deal(found)
	if err != nil {
		return err
	}
	together, named := 0, 0
	for _, o := range found {
		center := o.poly.LabelPoint()
		for i := range o.labels {
			o.labels[i].away = o.labels[i].middle.Distance(center)
		}
		slices.SortStableFunc(o.labels, func(a, c placedLabel) int { return cmpFloat(a.away, c.away) })
		o.word = word(o.labels[:min(len(o.labels), maxRoomTexts)])
		if o.word.name == "" && o.word.number == "" {
			continue
		}
		named++
		if _, _, ok := splitName(o.word.name); ok && o.word.number == "" {
			together++
		}
	}
	// "1 Atrium" among its like is number and name; a lone "2 car garage" is a
	// name. The drawing's habit decides.
	if together > 0 && 2*together >= named {
		example := ""
		for _, o := range found {
			if number, name, ok := splitName(o.word.name); ok && o.word.number == "" {
				example = o.word.name
				o.word.number, o.word.name = number, name
			}
		}
		b.note("Numbers and names that share a line ('%s') were taken apart.", cut(example, 60))
	}
	if none := len(found) - named; none > 0 && len(found) > 0 {
		b.problem("names", "rooms", "%s no text inside that could be a number or name.", has(none))
	}
	if lost > 0 && len(found) > 0 {
		b.note("%s not used for standing outside all room outlines.", were(lost, "text"))
	}
	return nil
}

func has(n int) string {
	if n == 1 {
		return "1 room has"
	}
	return building.Count(n) + " rooms have"
}

// deal gives each text to a room and counts those that lie in none. A text that
// starts in one room and has its middle in another goes to the one that has no
// text of its own, the one where it starts first.
func (b *builder) deal(found []*outline) (lost int, err error) {
	layers := b.chosen(b.opt.TextLayers)
	at := newAtlas(found)
	type dispute struct {
		start, middle *outline
		label         placedLabel
	}
	var disputes []dispute
	for i, t := range b.scene.texts {
		if i%1024 == 0 && b.ctx.Err() != nil {
			return 0, b.ctx.Err()
		}
		if i >= maxTexts {
			b.note("Only the first %s texts were looked at for names.", building.Count(maxTexts))
			break
		}
		if b.opt.TextLayers == nil && !b.drawing.layers[t.layer].shown() || b.opt.TextLayers != nil && !layers[t.layer] {
			continue
		}
		label, start := b.placeLabel(t)
		here, there := at.smallestAround(start), at.smallestAround(label.middle)
		switch {
		case here == nil && there == nil:
			lost++
		case here == nil || here == there:
			there.labels = append(there.labels, label)
		case there == nil:
			here.labels = append(here.labels, label)
		default:
			disputes = append(disputes, dispute{here, there, label})
		}
	}
	for _, d := range disputes {
		to := d.start
		if len(d.start.labels) > 0 && len(d.middle.labels) == 0 {
			to = d.middle
		}
		to.labels = append(to.labels, d.label)
	}
	return lost, nil
}

// placeLabel gives a text in meters, and where it starts.
func (b *builder) placeLabel(t placedText) (placedLabel, geom.Point) {
	middle, start, factor := t.label.middle, t.label.at, b.scale
	if t.at != nil {
		middle, start, factor = t.at.apply(middle), t.at.apply(start), factor*t.at.size()
	}
	return placedLabel{
		label: t.label, middle: middle.Times(b.scale),
		height: t.height * factor, width: t.width() * factor,
	}, start.Times(b.scale)
}

// atlas finds outlines by place: sorted by left edge, with the farthest right
// edge of all before, so that a search can stop early.
type atlas struct {
	rooms []*outline
	reach []float64
}

func newAtlas(found []*outline) *atlas {
	a := &atlas{rooms: slices.Clone(found)}
	slices.SortStableFunc(a.rooms, func(x, y *outline) int { return cmpFloat(x.bounds.Min.X, y.bounds.Min.X) })
	far := math.Inf(-1)
	for _, o := range a.rooms {
		far = max(far, o.bounds.Max.X)
		a.reach = append(a.reach, far)
	}
	return a
}

func (a *atlas) smallestAround(p geom.Point) *outline {
	i, _ := slices.BinarySearchFunc(a.rooms, p.X, func(o *outline, x float64) int {
		if o.bounds.Min.X <= x {
			return -1
		}
		return 1
	})
	var best *outline
	for i--; i >= 0 && a.reach[i] >= p.X; i-- {
		o := a.rooms[i]
		if (best == nil || o.area < best.area) && o.bounds.Contains(p) && o.poly.Contains(p) {
			best = o
		}
	}
	return best
}
