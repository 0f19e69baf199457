package propose

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// FromGlass is how far from the glass an open-loop daylight sensor best hangs, meters:
// 6 ft, common practice, no published source.
const FromGlass = 1.8288

// Where daylight sensors are looked for, meters.
const (
	stepAlong = 0.1524 // of places for an open loop, 6 in
	stepOver  = 0.3048 // of places for a closed loop, 1 ft
	offLamp   = 0.35   // from the middle of a luminaire: there is no ceiling left to mount on
	offDevice = 0.35
	offWall   = 0.1
	mostSteps = 40 // to each side of where a sensor would best hang
)

// DaylightSpot is a place of a daylight sensor.
type DaylightSpot struct {
	At     geom.Point
	Turn   float64      // degrees counterclockwise from x; 0 for a closed loop
	Window int          // of the space, that an open loop faces; -1: none
	Off    units.Metres // of an open loop from its glass
}

// DaylightRoom is a room in which places of daylight sensors are looked for.
type DaylightRoom struct {
	Space  *daylight.Space
	Light  *daylight.Light
	Limits daylight.PlaceLimits
	Seats  []geom.Point
	p      *domain.Project
	r      *domain.Resolved
}

// NewDaylightRoom reads a room on its plan; ok is false where the plan shows no window
// or its daylight cannot be reckoned.
func NewDaylightRoom(p *domain.Project, r *domain.Resolved) (d *DaylightRoom, ok bool) {
	space := daylight.NewSpace(p, r, daylight.AssumedOf(p))
	if space == nil || len(space.Windows) == 0 {
		return nil, false
	}
	light, err := daylight.NewLight(space, daylight.InteriorOf(p))
	if err != nil {
		return nil, false
	}
	d = &DaylightRoom{Space: space, Light: light, Limits: daylight.PlaceLimitsOf(p), p: p, r: r}
	for i := range r.Sitting {
		d.Seats = append(d.Seats, r.Sitting[i].At)
	}
	return d, true
}

// Place looks for the place of a sensor that acts on some loads: for an open loop
// about 6 ft from the glass of the facade that lights them, before the middle of a
// window and facing it; for a closed one above their luminaires, between the rows. It
// is a place with which daylight.JudgeSensor finds no fault of place; ok is false
// where there is none. What the sensor governs no place can mend. Common practice, no
// published source.
func (d *DaylightRoom) Place(s daylight.Sensor, loads []domain.ID) (spot DaylightSpot, ok bool) {
	places := d.before
	if s.Loop == domain.ClosedLoop {
		places = d.above
	}
	for _, c := range places(loads) {
		if !d.free(&s, c.At) {
			continue
		}
		s.At, s.Facing = c.At, nil
		if c.Window >= 0 {
			s.Facing = &c.Turn
		}
		if !slices.ContainsFunc(d.Light.JudgeSensor(&s, d.Seats, loads, &d.Limits), func(f daylight.Fault) bool { return f.OfPlace() }) {
			return c.DaylightSpot, true
		}
	}
	return DaylightSpot{}, false
}

// candidate is a place with what speaks against it, meters.
type candidate struct {
	DaylightSpot
	cost float64
}

func inOrder(list []candidate) []candidate {
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(a.cost, b.cost) })
	return list
}

// before gives places before the windows, those of the facade that lights most of the
// loads first.
func (d *DaylightRoom) before(loads []domain.ID) (out []candidate) {
	facades := d.Space.Facades()
	for k, f := range d.facadesFor(facades, loads) {
		for _, w := range facades[f].Windows {
			out = append(out, d.beforeWindow(w, 100*float64(k))...)
		}
	}
	return inOrder(out)
}

// facadesFor orders facades by how many luminaires of the loads they light, then by
// their glazing.
func (d *DaylightRoom) facadesFor(facades []daylight.Facade, loads []domain.ID) []int {
	lit, glass, order := make([]int, len(facades)), make([]float64, len(facades)), make([]int, len(facades))
	for i := range facades {
		order[i] = i
		for _, w := range facades[i].Windows {
			glass[i] += float64(d.Space.Windows[w].Area(d.Space.Ceiling))
		}
	}
	for i := range d.Space.Luminaires {
		x := &d.Space.Luminaires[i]
		if slices.Contains(loads, x.Load) && len(facades) > 1 {
			if f := d.Light.FacadeAt(facades, x.At); f >= 0 {
				lit[f]++
			}
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Or(lit[b]-lit[a], cmp.Compare(glass[b], glass[a])) })
	return order
}

func (d *DaylightRoom) beforeWindow(w int, extra float64) (out []candidate) {
	win := &d.Space.Windows[w]
	wide := float64(win.Width())
	if wide < geom.OnEdge {
		return nil
	}
	along := win.B.Sub(win.A).Times(1 / wide)
	in := geom.Pt(-along.Y, along.X)
	turn := turnTo(in.Times(-1))
	middle, sides := geom.Segment{A: win.A, B: win.B}.Middle(), int(min(mostSteps, wide/2/stepAlong))
	for _, off := range d.depths() {
		for i := -sides; i <= sides; i++ {
			aside := float64(i) * stepAlong
			at := middle.Add(along.Times(aside)).Add(in.Times(off))
			cost := extra + math.Abs(off-FromGlass) + math.Abs(aside)/4 - wide/100
			out = append(out, candidate{DaylightSpot{written(at), turn, w, units.Metres(off)}, cost})
		}
	}
	return out
}

// depths gives how far from the glass an open loop may hang, 6 ft among them where
// the limits let it.
func (d *DaylightRoom) depths() (out []float64) {
	least, most := float64(d.Limits.OpenNearest), float64(d.Limits.OpenFarthest)
	best := max(least, min(most, FromGlass))
	for i := 0; i < mostSteps && best-float64(i)*stepAlong >= least-1e-9; i++ {
		out = append(out, best-float64(i)*stepAlong)
	}
	for i := 1; i < mostSteps && best+float64(i)*stepAlong <= most+1e-9; i++ {
		out = append(out, best+float64(i)*stepAlong)
	}
	return out
}

// above gives places over the luminaires of some loads, over the whole room where
// none hang on the plan: near the middle of their zone and away from luminaires.
func (d *DaylightRoom) above(loads []domain.ID) (out []candidate) {
	var hang []geom.Point
	for i := range d.Space.Luminaires {
		if x := &d.Space.Luminaires[i]; slices.Contains(loads, x.Load) {
			hang = append(hang, x.At)
		}
	}
	over, some := geom.BoundsOf(hang...)
	if some {
		over = over.Grow(float64(d.Limits.ClosedTask))
	} else {
		over = d.Space.Outline.Bounds()
	}
	middle := over.Center()
	across, up := int(min(mostSteps, over.Width()/2/stepOver)), int(min(mostSteps, over.Height()/2/stepOver))
	for i := -across; i <= across; i++ {
		for j := -up; j <= up; j++ {
			at := middle.Add(geom.Pt(float64(i), float64(j)).Times(stepOver))
			out = append(out, candidate{DaylightSpot{written(at), 0, -1, 0}, at.Distance(middle) + max(0, 1-d.toLamp(at))})
		}
	}
	return inOrder(out)
}

// written is a place to the millimeter, as plans are written.
func written(p geom.Point) geom.Point {
	return geom.Pt(math.Round(p.X*1000)/1000, math.Round(p.Y*1000)/1000)
}

func (d *DaylightRoom) toLamp(p geom.Point) float64 {
	near := math.Inf(1)
	for i := range d.Space.Luminaires {
		near = min(near, d.Space.Luminaires[i].At.Distance(p))
	}
	return near
}

// free tells that a sensor can be mounted at a place.
func (d *DaylightRoom) free(s *daylight.Sensor, p geom.Point) bool {
	if !d.Space.Outline.Contains(p) || d.toLamp(p) < offLamp {
		return false
	}
	if _, off := d.Space.Outline.NearestOnBoundary(p); off < offWall {
		return false
	}
	for i := range d.r.Design.Devices {
		x := &d.r.Design.Devices[i]
		if x.ID != s.ID && x.At != nil && x.At.Distance(p) < offDevice {
			return false
		}
	}
	return true
}

// HangDaylight is an edit that looks for the place of a daylight sensor when it is
// applied, since that takes longer than judging a room may. It refuses where there is
// none.
type HangDaylight struct {
	Room   *domain.Resolved // as it is now, on its plan
	Device domain.ID
}

// Apply moves the sensor, and turns it.
func (h HangDaylight) Apply(s *edit.Subject) (string, error) {
	work := *h.Room
	work.Design = *s.Design
	room, ok := NewDaylightRoom(s.Project, &work)
	dev := s.Design.Device(h.Device)
	if !ok || dev == nil {
		return "", fmt.Errorf("the sensor is gone, or the plan shows no window of the room: reload the page")
	}
	sensor := daylight.SensorOf(s.Project, &work, dev)
	loads := readBy(s.Design, dev.ID)
	spot, ok := room.turned(sensor, dev.At != nil, loads)
	if !ok {
		spot, ok = room.Place(sensor, loads)
	}
	if !ok {
		return "", fmt.Errorf("no place was found for %s: %s", dev.Tag, room.lacks(dev.Loop))
	}
	if spot.Window < 0 {
		spot.Turn = dev.Turn
	}
	return edit.Stand{Device: dev.ID, At: spot.At, Turn: spot.Turn}.Apply(s)
}

// turnTo gives the whole degrees, 1 to 360, that a device is turned by to look along:
// to the right is 360, since 0 is not stated.
func turnTo(along geom.Point) float64 {
	return math.Mod(math.Round(math.Atan2(along.Y, along.X)*180/math.Pi)+359, 360) + 1
}

// turned gives an open loop's own place where all that is wrong with it is the way that
// it faces.
func (d *DaylightRoom) turned(s daylight.Sensor, placed bool, loads []domain.ID) (spot DaylightSpot, ok bool) {
	if s.Loop == domain.ClosedLoop || !placed || s.Facing == nil {
		return spot, false
	}
	for _, v := range d.Space.Sights(&s) {
		if v.Hidden {
			continue
		}
		w := &d.Space.Windows[v.Window]
		near, _ := geom.Segment{A: w.A, B: w.B}.Nearest(s.At)
		to := near.Sub(s.At)
		turn := turnTo(to)
		s.Facing = &turn
		faults := d.Light.JudgeSensor(&s, d.Seats, loads, &d.Limits)
		return DaylightSpot{s.At, turn, v.Window, v.Distance}, !slices.ContainsFunc(faults, func(f daylight.Fault) bool { return f.OfPlace() })
	}
	return spot, false
}

// lacks says what no place of the room offers.
func (d *DaylightRoom) lacks(loop domain.LoopKind) string {
	length := func(m units.Metres) string { return units.Nearly(m, d.p.Units) }
	if loop == domain.ClosedLoop {
		return fmt.Sprintf("nowhere within %s of a task and of the luminaires that it dims is the glass out of its view; choose a type with a narrower view, or set it to open loop", length(d.Limits.ClosedTask))
	}
	return fmt.Sprintf("nowhere %s to %s from the glass is there a free place without luminaires between it and the window; move a luminaire, or set the sensor to closed loop", length(d.Limits.OpenNearest), length(d.Limits.OpenFarthest))
}

// readBy gives the lighting that a daylight sensor acts on.
func readBy(d *domain.Design, sensor domain.ID) (out []domain.ID) {
	for i := range d.Links {
		k := &d.Links[i]
		if l := d.Load(k.Load); k.Device == sensor && k.Do.Verb == domain.Acts && l != nil && l.Kind == domain.Lighting {
			out = append(out, l.ID)
		}
	}
	return out
}
