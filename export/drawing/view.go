package drawing

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// View is what is to be drawn, before anyone knows how large the paper is.
type View struct {
	project *domain.Project
	plan    *domain.Plan
	rooms   []*domain.Resolved
	focus   *domain.Resolved // nil: the whole storey
	opt     Options
	box     geom.Box // meters
	empty   bool
	title   string
}

// Margins around what is drawn: on paper for tags that stick out, in the
// building for what surrounds a room.
const (
	marginMM    = 5.0
	surrounding = 0.6 // meters
)

// StoreyView prepares the drawing of a storey.
func StoreyView(p *domain.Project, plan *domain.Plan, rooms []*domain.Resolved, opt Options) *View {
	v := newView(p, plan, rooms, opt)
	v.title = "Plan"
	if _, s := p.FindStorey(v.plan.ID); s != nil {
		v.title = "Plan of " + s.Name
	}
	var places []Point
	for _, r := range v.rooms {
		places = append(places, r.Outline.Outer...)
		places = append(places, placesOf(r)...)
	}
	for i := range v.plan.Walls {
		places = append(places, v.plan.Walls[i].A, v.plan.Walls[i].B)
	}
	for i := range v.plan.Rooflights {
		if l := &v.plan.Rooflights[i]; drawable(l) {
			places = append(places, l.Box().Outer...)
		}
	}
	if u := v.underlay(); u != nil && !opt.Furniture { // paper shows what of it lies beneath the drawing
		for _, corner := range geom.Rectangle(0, 0, float64(u.Width), float64(u.Height)).Outer {
			t := turned(Point{X: corner.X, Y: -corner.Y}, u.Turn)
			places = append(places, u.At.Add(Point{X: t.X, Y: -t.Y}))
		}
	}
	v.frame(places)
	return v
}

// RoomView prepares the drawing of one room and what surrounds it.
func RoomView(p *domain.Project, plan *domain.Plan, room *domain.Resolved, rooms []*domain.Resolved, opt Options) *View {
	v := newView(p, plan, rooms, opt)
	v.focus, v.title = room, "Plan of room "+room.Label()
	v.frame(append(slices.Clone(room.Outline.Outer), placesOf(room)...))
	if !v.empty {
		v.box = v.box.Grow(surrounding)
	}
	return v
}

func newView(p *domain.Project, plan *domain.Plan, rooms []*domain.Resolved, opt Options) *View {
	if plan == nil {
		plan = &domain.Plan{}
	}
	return &View{project: p, plan: plan, rooms: rooms, opt: opt}
}

// placesOf lists where a room's devices, luminaires and seats are.
func placesOf(r *domain.Resolved) []Point {
	var out []Point
	for i := range r.Design.Devices {
		if at := r.Design.Devices[i].At; at != nil {
			out = append(out, *at)
		}
	}
	for i := range r.Fixtures {
		out = append(out, r.Fixtures[i].At)
	}
	for i := range r.Sitting {
		out = append(out, r.Sitting[i].At)
	}
	return out
}

// frame sets the box around places; a storey without any is an empty field of
// 20 by 15 m to draw on.
func (v *View) frame(places []Point) {
	places = slices.DeleteFunc(places, func(p Point) bool { return !p.Finite() })
	box, ok := geom.BoundsOf(places...)
	v.empty = !ok
	if !ok {
		box = geom.Box{Max: Point{X: 20, Y: 15}}
	}
	thickest := 0.0
	for i := range v.plan.Walls {
		thickest = max(thickest, float64(thickness(&v.plan.Walls[i])))
	}
	v.box = box.Grow(thickest / 2)
}

// Empty tells that there is nothing to draw.
func (v *View) Empty() bool { return v.empty }

// Title says what the view shows.
func (v *View) Title() string { return v.title }

// Landscape tells that the view is wider than high.
func (v *View) Landscape() bool { return v.box.Width() > v.box.Height() }

// Fit draws the view at the largest standard scale at which it fits into a
// space on paper, in millimeters, with what belongs below it.
func (v *View) Fit(width, height float64) *Picture {
	below := 0.0
	if v.opt.Furniture {
		below = furnitureHeight(len(v.legend()), width)
	}
	const tries = 4
	var p *Picture
	for range tries { // symbols that stand aside may bring a further row into the legend
		scale := ScaleFor(v.box.Width(), v.box.Height(), max(width-2*marginMM, 1), max(height-2*marginMM-below, 1), v.project.Units)
		if p = v.at(scale, width); p.Height <= height {
			break
		}
		below += max(p.Height-height, 0.1)
	}
	return p
}

// DefaultScale is that of a picture for which none is asked.
var DefaultScale = Scale{Ratio: 100, Name: "1:100"}

// at draws the view at a scale. A width above 0 makes the picture that wide,
// with the drawing in its middle.
func (v *View) at(scale Scale, width float64) *Picture {
	if scale.Ratio <= 0 {
		scale = DefaultScale
	}
	b := newBoard(v, scale, width)
	b.underlay()
	b.rooms()
	b.daylight()
	b.seats()
	b.walls()
	b.rooflights()
	b.luminaires()
	b.marks()
	b.devices()
	b.daylightWords()
	b.names()
	b.tags()
	b.findings()
	return b.finish()
}

// kindOf gives the kind of a device, "" where the book lacks its type.
func (v *View) kindOf(d *domain.Device) equipment.Kind {
	if t := v.project.Book.Find(d.Type); t != nil {
		return t.Kind
	}
	return ""
}

func (v *View) isFocus(r *domain.Resolved) bool { return v.focus == nil || v.focus.ID == r.ID }

// drawn lists the rooms that are drawn in full.
func (v *View) drawn() []*domain.Resolved {
	if v.focus != nil {
		return []*domain.Resolved{v.focus}
	}
	return v.rooms
}

func area(r *domain.Resolved, sys units.System) string { return units.Area(r.Measured(), sys) }

// Words lists what the drawing says at any scale: the numbers of rooms, the
// tags, and the meanings of the legend. A room's name and area print where
// they have room.
func (v *View) Words() []string {
	var out []string
	for _, r := range v.drawn() {
		if v.opt.shows(LayerNames) && !r.Outline.Empty() {
			out = append(out, r.Number)
		}
		for i := range r.Design.Devices {
			if d := &r.Design.Devices[i]; v.opt.shows(LayerDevices) && d.At != nil && d.At.Finite() {
				out = append(out, d.Tag)
			}
		}
		for i := range r.Fixtures {
			if l := r.Design.Load(r.Fixtures[i].Load); v.opt.shows(LayerLuminaires) && l != nil {
				out = append(out, l.Tag)
			}
		}
	}
	for i := range v.opt.Marks {
		out = append(out, v.opt.Marks[i].Text)
	}
	if v.opt.Daylight != nil {
		out = append(out, v.opt.Daylight.words()...)
	}
	if v.opt.Furniture {
		for _, e := range v.legend() {
			out = append(out, e.Meaning)
		}
	}
	return out
}

// legend gives the entries that the view needs, which no scale changes.
func (v *View) legend() []LegendEntry {
	bare := *v
	bare.opt.Furniture = false
	return bare.at(DefaultScale, 0).Legend
}

// Draw draws the view at a scale.
func (v *View) Draw(s Scale) *Picture { return v.at(s, 0) }
