package radio

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Map tells for each cell of a floor how well a battery device at one height
// would be heard there: what its best router gives, and how many routers give
// what is needed. A cell counts as what its center is. Cells come row by row,
// from the lowest Y on: the one of a column and a row is at row*Columns+column.
type Map struct {
	Origin        geom.Point // lower left corner of the first cell
	Step          float64    // m, side of a cell
	Columns, Rows int

	Z       float64   // m, height of the device
	Child   Radio     // its radio
	Needed  float64   // dB
	Advice  float64   // dB
	Best    []float32 // margin to the best router, dB; -Inf where there is none
	By      []int16   // that router, of Sources; -1 where there is none
	Reached []uint8   // routers with the margin that is needed, at most 255
	Inside  []bool    // cells of the room's outline; nil: all
	Sources []Source

	obstacles []Obstacle
	outline   geom.Polygon
	layers    [][]float32 // by source: margins
}

// Source is a router that a map is of.
type Source struct {
	ID domain.ID
	Place
	Radio   Radio
	Ceiling float64 // dB, of the ceiling that it hangs above
}

// MostCells bounds a map: a storey of 250 by 250 m at 0.5 m.
const MostCells = 250_000

// Survey says what a map is to be of: a box of a plan, at the height and for the
// radio of a battery device, from some routers.
type Survey struct {
	Box      geom.Box
	Step     units.Metres // side of a cell; doubled until the map has at most MostCells
	Z        float64      // m
	Child    Radio
	Sources  []Source
	Plan     *domain.Plan // nil: no walls are known
	Outline  geom.Polygon // cells to tell apart from the rest; may be empty
	Settings Settings
}

// Map carries out the survey. before may be nil or an earlier map: what routers
// that have not moved give is taken from there as long as box, device and walls are
// the same, so that moving one router costs one layer.
func (s Survey) Map(before *Map) *Map {
	m := newMap(s.Box, float64(s.Step))
	m.Z, m.Child, m.Sources, m.Advice = s.Z, s.Child, s.Sources, s.Settings.Advice
	m.Needed, _ = s.Settings.Needed()
	if s.Plan != nil {
		m.obstacles = obstaclesIn(s.Plan, s.Settings.Walls, s.Box)
	}
	m.within(s.Outline, before)
	m.fill(before)
	return m
}

// Coverage maps the room's box at station height (the limit) for the weakest
// battery device of the room, or the assumed radio where it has none: see Survey.
// A step of 0.5 m is fine for a room.
func (r *Room) Coverage(p *domain.Project, step units.Metres, before *Map) *Map {
	s := Survey{Step: step, Z: p.Limits.Value(domain.StationHeight), Child: r.weakest(), Plan: r.resolved.Plan, Outline: r.resolved.Outline, Settings: r.Settings}
	s.Box, _ = r.resolved.Extent()
	ceiling, _ := p.CeilingOf(r.resolved.Room)
	for i := range r.Nodes {
		if n := &r.Nodes[i]; n.Routes {
			from := Source{ID: n.Device.ID, Place: n.Place, Radio: n.Radio}
			if n.Above && s.Z <= float64(ceiling) {
				from.Ceiling = r.Settings.Ceiling
			}
			s.Sources = append(s.Sources, from)
		}
	}
	return s.Map(before)
}

// weakest gives a radio with the least power and the poorest ear of the room's
// battery devices.
func (r *Room) weakest() Radio {
	worst, some := Radio{}, false
	for _, list := range [][]Node{r.Nodes, r.Unplaced} {
		for i := range list {
			n := &list[i]
			switch {
			case !n.Battery:
			case !some:
				worst, some = n.Radio, true
			default:
				worst = Radio{math.Min(worst.Power, n.Radio.Power), math.Min(worst.Gain, n.Radio.Gain), math.Max(worst.Sensitivity, n.Radio.Sensitivity)}
			}
		}
	}
	if !some {
		return r.Settings.Radio
	}
	return worst
}

func newMap(box geom.Box, step float64) *Map {
	if !(step > 0) {
		step = 0.5
	}
	cells := func(length float64) float64 { return math.Max(1, math.Ceil(length/step-1e-9)) }
	for cells(box.Width())*cells(box.Height()) > MostCells {
		step *= 2
	}
	return &Map{Origin: box.Min, Step: step, Columns: int(cells(box.Width())), Rows: int(cells(box.Height()))}
}

// within marks the cells of an outline.
func (m *Map) within(outline geom.Polygon, before *Map) {
	if m.outline = outline; outline.Empty() {
		return
	}
	if m.sameCells(before) && slices.Equal(before.outline.Outer, outline.Outer) && slices.EqualFunc(before.outline.Holes, outline.Holes, slices.Equal) {
		m.Inside = before.Inside
		return
	}
	m.Inside = make([]bool, m.Columns*m.Rows)
	for row := range m.Rows {
		for column := range m.Columns {
			m.Inside[row*m.Columns+column] = outline.Contains(geom.Pt(m.X(column), m.Y(row)))
		}
	}
}

func (m *Map) sameCells(o *Map) bool {
	return o != nil && m.Origin == o.Origin && m.Step == o.Step && m.Columns == o.Columns && m.Rows == o.Rows
}

// X gives the center of a column's cells.
func (m *Map) X(column int) float64 { return m.Origin.X + (float64(column)+0.5)*m.Step }

// Y gives the center of a row's cells.
func (m *Map) Y(row int) float64 { return m.Origin.Y + (float64(row)+0.5)*m.Step }

// fill reckons the layers that are not at hand and lays them together.
func (m *Map) fill(before *Map) {
	if !m.sameCells(before) || m.Z != before.Z || m.Child != before.Child || !slices.Equal(m.obstacles, before.obstacles) {
		before = nil
	}
	n := m.Columns * m.Rows
	m.Best, m.By, m.Reached = make([]float32, n), make([]int16, n), make([]uint8, n)
	for i := range m.Best {
		m.Best[i], m.By[i] = float32(math.Inf(-1)), -1
	}
	c := newCaster(m)
	for k := range m.Sources {
		var layer []float32
		if before != nil {
			if at := slices.Index(before.Sources, m.Sources[k]); at >= 0 {
				layer = before.layers[at]
			}
		}
		if layer == nil {
			layer = c.layer(&m.Sources[k])
		}
		m.layers = append(m.layers, layer)
		m.lay(int16(k), layer)
	}
}

// lay puts a router's margins into the map.
func (m *Map) lay(k int16, layer []float32) {
	needed := float32(m.Needed)
	for i, margin := range layer {
		if margin > m.Best[i] {
			m.Best[i], m.By[i] = margin, k
		}
		if margin >= needed && m.Reached[i] < math.MaxUint8 {
			m.Reached[i]++
		}
	}
}

// Share gives how much of the room's cells hear at least so many routers, 0 to 1.
func (m *Map) Share(routers int) float64 {
	in, of := 0, 0
	for i, n := range m.Reached {
		if m.Inside == nil || m.Inside[i] {
			of++
			if int(n) >= routers {
				in++
			}
		}
	}
	if of == 0 {
		return 0
	}
	return float64(in) / float64(of)
}
