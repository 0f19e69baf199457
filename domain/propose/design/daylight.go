package design

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
)

// fromGlass is how far from the window an open-loop sensor hangs, meters: 6 ft,
// common practice, no published source.
const fromGlass = 1.8288

// daylight proposes a daylight sensor where loads that can be dimmed hang in
// daylight and the room has none.
func (d *draft) daylight() {
	types := d.ofKind(equipment.Daylight, func(*equipment.Type) bool { return true })
	lit := slices.ContainsFunc(d.lighting(), d.firstRow)
	if !lit || len(types) == 0 || d.limit(domain.DaylightPerRoom) < 1 || d.has(func(t equipment.Traits) bool { return t.Daylight }) {
		return
	}
	d.group(ofDaylight, "Daylight sensor", "Light at the windows that burns in full sun is the cheapest saving there is. One sensor that looks outdoors speaks for the room; it is calibrated on site.", []topic{ofLoads, ofPower}, func() {
		place := "ceiling, 1.8 m from the window"
		if d.us() {
			place = "ceiling, 6 ft from the window"
		}
		id := d.device(types[0], place, "loop", string(domain.OpenLoop))
		d.stand(id, d.lay.atGlass(), 0)
		for i := range d.r.Design.Loads {
			l := &d.r.Design.Loads[i]
			text := "-"
			if d.firstRow(l) || l.Zone == domain.ZoneSecondary && dimmed(l) {
				text = "ACT"
				d.adds("%s dims %s (%s)", d.tag(id), l.Tag, l.Zone)
			}
			d.set("links", string(domain.LinkID(id, 0, "", l.ID)), text)
		}
	})
	if d.lay.guessed.windows && d.lay.drawn {
		d.assume("The room is said to have windows and none is drawn: they are taken to be in its longest side without a door.")
	}
}

// firstRow tells that a load hangs in daylight and can be dimmed by it.
func (d *draft) firstRow(l *domain.Load) bool {
	return l.Kind == domain.Lighting && dimmed(l) && (l.Zone == domain.ZoneWindow && d.r.Windows || l.Zone == domain.ZoneRoof)
}

// atGlass gives the place of an open-loop sensor: before the middle of the
// widest window, nearer to it in a shallow room.
func (l *layout) atGlass() geom.Point {
	if len(l.windows) == 0 {
		return l.shape.LabelPoint()
	}
	w := slices.MaxFunc(l.windows, func(a, b window) int { return int(math.Round(1000 * (a.line.Length() - b.line.Length()))) })
	on, _ := l.shape.NearestOnBoundary(w.line.Middle())
	along := w.line.B.Sub(w.line.A).Times(1 / w.line.Length())
	for _, far := range []float64{fromGlass, 1.2, 0.6, 0.3} {
		for _, in := range []geom.Point{geom.Pt(-along.Y, along.X), geom.Pt(along.Y, -along.X)} {
			if p := on.Add(in.Times(far)); l.shape.Contains(p) {
				return p
			}
		}
	}
	return l.shape.LabelPoint()
}
