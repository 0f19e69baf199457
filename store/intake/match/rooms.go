package match

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/store/intake/building"
	"scopewright/store/intake/columns"
	"scopewright/store/intake/roomlist"
)

// Two outlines are of one room where they share this part of each. Common
// practice, no published source: a redrawn room moves by a wall's thickness.
const samePlace = 0.9

// mostPairs bounds the pairs of outlines that are laid over each other.
const mostPairs = 200_000

// pairing finds a room for each space of one storey.
type pairing struct {
	rooms   []*domain.Room
	spaces  []building.Space
	outline []geom.Polygon // of the spaces, as they would be stored
	found   []*domain.Room // for each space
	by      []string
	claimed map[domain.ID]bool
}

func (f *fitter) fitRooms(s *Storey, from *building.Storey) {
	p := &pairing{rooms: f.onStorey[s.Into], spaces: from.Spaces, claimed: map[domain.ID]bool{}}
	p.found, p.by = make([]*domain.Room, len(p.spaces)), make([]string, len(p.spaces))
	p.outline = make([]geom.Polygon, len(p.spaces))
	for i := range p.spaces {
		p.outline[i] = stored(p.spaces[i].Outline)
	}
	p.byNumber()
	p.bySameOutline()
	p.byName()
	p.byPlace()
	f.numbers[s.Into] = map[string]bool{}
	for _, r := range p.rooms {
		f.numbers[s.Into][roomlist.NumberKey(r.Number)] = true
	}
	for i := range p.spaces {
		s.Steps = append(s.Steps, f.step(s, &p.spaces[i], p.outline[i], p.found[i], p.by[i]))
	}
	for _, r := range p.rooms {
		if !p.claimed[r.ID] {
			s.Missing = append(s.Missing, r)
		}
	}
}

// open tells whether a space still looks for its room.
func (p *pairing) open(i int) bool { return p.found[i] == nil && !leftOut(&p.spaces[i]) }

func (p *pairing) pair(i int, r *domain.Room, by string) {
	p.found[i], p.by[i], p.claimed[r.ID] = r, by, true
}

func (p *pairing) byNumber() {
	byKey := map[string]*domain.Room{}
	for _, r := range p.rooms {
		if key := roomlist.NumberKey(r.Number); byKey[key] == nil {
			byKey[key] = r
		}
	}
	for i := range p.spaces {
		if p.spaces[i].Number == "" || !p.open(i) {
			continue
		}
		if r := byKey[roomlist.NumberKey(p.spaces[i].Number)]; r != nil && !p.claimed[r.ID] {
			p.pair(i, r, "number")
		}
	}
}

// bySameOutline knows a room again that came from the same drawing.
func (p *pairing) bySameOutline() {
	byShape := map[string]*domain.Room{}
	for _, r := range p.rooms {
		if !p.claimed[r.ID] && !r.Outline.Empty() {
			byShape[shapeKey(stored(r.Outline))] = r
		}
	}
	for i := range p.spaces {
		if !p.open(i) || p.outline[i].Empty() {
			continue
		}
		if r := byShape[shapeKey(p.outline[i])]; r != nil && !p.claimed[r.ID] {
			p.pair(i, r, "place")
		}
	}
}

// byName pairs what bears a name that nothing else on either side bears. A
// space with a number of its own is not paired with a room that is drawn already.
func (p *pairing) byName() {
	names := map[string]int{}
	for i := range p.spaces {
		if p.open(i) {
			names[columns.Plain(p.spaces[i].Name)]++
		}
	}
	rooms := map[string][]*domain.Room{}
	for _, r := range p.rooms {
		if key := columns.Plain(r.Name); key != "" && !p.claimed[r.ID] {
			rooms[key] = append(rooms[key], r)
		}
	}
	for i := range p.spaces {
		key := columns.Plain(p.spaces[i].Name)
		if !p.open(i) || names[key] != 1 || len(rooms[key]) != 1 {
			continue
		}
		if r := rooms[key][0]; p.spaces[i].Number == "" || r.Outline.Empty() {
			p.pair(i, r, "name")
		}
	}
}

// byPlace pairs what lies over each other, with the same name where both have one.
func (p *pairing) byPlace() {
	pairs := 0
	for i := range p.spaces {
		if !p.open(i) || p.outline[i].Empty() || p.spaces[i].Number != "" {
			continue
		}
		box := p.outline[i].Bounds()
		for _, r := range p.rooms {
			if p.claimed[r.ID] || r.Outline.Empty() || !box.Touches(r.Outline.Bounds()) {
				continue
			}
			if pairs++; pairs > mostPairs {
				return
			}
			shared, err := geom.OverlapArea(p.outline[i], r.Outline)
			if err == nil && shared >= samePlace*math.Max(p.outline[i].Area(), r.Outline.Area()) {
				p.pair(i, r, "place")
				break
			}
		}
	}
}

// stored gives an outline as a project keeps it: to a tenth of a millimeter.
func stored(p geom.Polygon) geom.Polygon {
	return p.Map(func(q geom.Point) geom.Point { return geom.Pt(tenth(q.X), tenth(q.Y)) })
}

func tenth(v float64) float64 {
	v = math.Round(v*1e4) / 1e4
	if v == 0 {
		return 0 // no minus zero
	}
	return v
}

func shapeKey(p geom.Polygon) string {
	var b strings.Builder
	for _, ring := range p.Rings() {
		for _, q := range ring {
			fmt.Fprintf(&b, "%g %g,", q.X, q.Y)
		}
		b.WriteByte(';')
	}
	return b.String()
}

// leftOut tells a space that makes no room: a void that the drawing program
// left over, or one of neither outline nor area.
func leftOut(s *building.Space) bool {
	return s.Unassigned || s.Outline.Empty() && s.DeclaredArea <= 0
}
