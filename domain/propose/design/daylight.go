package design

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/units"
)

// daylight proposes daylight sensors where loads that can be dimmed hang in daylight
// and the room has none: one for each facade, the first an open loop that speaks for
// the room, others closed loops.
func (d *draft) daylight() {
	types := d.ofKind(equipment.Daylight, func(*equipment.Type) bool { return true })
	lit := slices.ContainsFunc(d.lighting(), d.firstRow)
	if !lit || len(types) == 0 || d.limit(domain.DaylightPerRoom) < 1 || d.has(func(t equipment.Traits) bool { return t.Daylight }) {
		return
	}
	title := "Daylight sensor"
	wishes := d.daylightWishes(types[0])
	if len(wishes) > 1 {
		title = "Daylight sensors"
	}
	d.group(ofDaylight, title, "Light at the windows that burns in full sun is the cheapest saving there is. A sensor that looks outdoors speaks for the room, one over its zone for what it sees; they are calibrated on site.", []topic{ofLoads, ofZones, ofPower}, func() {
		for i := range wishes {
			d.readsDaylight(types[0], &wishes[i])
		}
	})
	if d.lay.guessed.windows && d.lay.drawn {
		d.assume("The room is said to have windows and none is drawn: they are taken to be in its longest side without a door.")
	}
}

// daylightWish is a daylight sensor to be: what it acts on, and where it hangs.
type daylightWish struct {
	loop  domain.LoopKind
	loads []domain.ID
	at    geom.Point
	turn  float64
	place string
}

// daylightWishes gives a sensor for each facade on a plan that shows windows, else one
// for the room, before where windows are taken to be.
func (d *draft) daylightWishes(t *equipment.Type) (out []daylightWish) {
	room := d.daylit()
	if room == nil {
		w := daylightWish{loop: domain.OpenLoop, at: d.lay.atGlass(), place: d.fromWindow(propose.FromGlass)}
		for _, l := range d.lighting() {
			if d.inDaylight(l) {
				w.loads = append(w.loads, l.ID)
			}
		}
		return []daylightWish{w}
	}
	for _, loads := range d.byFacade(room) {
		loop := domain.OpenLoop
		if float64(len(out)) >= d.limit(domain.DaylightPerRoom) {
			loop, loads = domain.ClosedLoop, d.oneDepth(room, loads)
		}
		out = append(out, d.daylightPlace(room, t, loop, loads))
	}
	return out
}

// byFacade parts the loads in daylight by the facade that lights them, that of the most
// first. Loads that get hardly any daylight are left out, but for those at the window.
func (d *draft) byFacade(room *propose.DaylightRoom) (out [][]domain.ID) {
	facades := room.Space.Facades()
	by := make([][]domain.ID, len(facades)+1) // the last: from above
	for _, l := range d.lighting() {
		under := room.Light.Under(l.ID)
		if !d.inDaylight(l) || !d.firstRow(l) && under.Points > 0 && under.Mean < d.limit(domain.LeastFactor) {
			continue
		}
		at := len(facades)
		if lit := room.Light.Governs(facades, l.ID); len(lit) > 0 {
			at = lit[0]
		}
		by[at] = append(by[at], l.ID)
	}
	for _, loads := range by {
		if len(loads) > 0 {
			out = append(out, loads)
		}
	}
	slices.SortStableFunc(out, func(a, b []domain.ID) int { return len(b) - len(a) })
	return out
}

// oneDepth keeps of the loads of a closed loop those that it may take as one zone with
// the first.
func (d *draft) oneDepth(room *propose.DaylightRoom, loads []domain.ID) []domain.ID {
	kept := loads[:1:1]
	for _, id := range loads[1:] {
		if more := append(slices.Clone(kept), id); len(room.Light.JudgeLoads(more, &room.Limits)) == 0 {
			kept = more
		}
	}
	return kept
}

// daylightPlace finds where a sensor hangs. An open loop without a place becomes a
// closed one where that has one.
func (d *draft) daylightPlace(room *propose.DaylightRoom, t *equipment.Type, loop domain.LoopKind, loads []domain.ID) daylightWish {
	w := daylightWish{loop: loop, loads: loads}
	s := daylight.Sensor{Height: d.ceiling(), Loop: loop, View: t.Angle}
	spot, ok := room.Place(s, loads)
	if !ok && loop == domain.OpenLoop {
		s.Loop = domain.ClosedLoop
		if few := d.oneDepth(room, loads); len(few) > 0 {
			if spot, ok = room.Place(s, few); ok {
				w.loop, w.loads = domain.ClosedLoop, few
			}
		}
	}
	w.at, w.turn, w.place = spot.At, spot.Turn, "ceiling, over the luminaires of its zone"
	switch {
	case !ok:
		w.at, w.place = d.lay.atGlass(), d.fromWindow(propose.FromGlass)
		d.assume("No place for a daylight sensor was found that meets all checks of its place: it hangs before the widest window, to be moved.")
	case spot.Window >= 0:
		w.place = d.fromWindow(float64(spot.Off))
	}
	return w
}

func (d *draft) fromWindow(m float64) string {
	return "ceiling, " + units.Nearly(units.Metres(m), d.p.Units) + " from the window"
}

// readsDaylight adds a daylight sensor and says what it acts on.
func (d *draft) readsDaylight(t *equipment.Type, w *daylightWish) {
	id := d.device(t, w.place, "loop", string(w.loop))
	d.stand(id, w.at, w.turn)
	for i := range d.r.Design.Loads {
		l := &d.r.Design.Loads[i]
		text := "-"
		if slices.Contains(w.loads, l.ID) {
			text = "ACT"
			d.adds("%s (%s) dims %s (%s)", d.tag(id), w.loop, l.Tag, l.Zone)
		}
		d.set("links", string(domain.LinkID(id, 0, "", l.ID)), text)
	}
}

// inDaylight tells that a load hangs in the first or second row and can be dimmed.
func (d *draft) inDaylight(l *domain.Load) bool {
	return d.firstRow(l) || l.Zone == domain.ZoneSecondary && dimmed(l)
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
	for _, far := range []float64{propose.FromGlass, 1.2, 0.6, 0.3} {
		for _, in := range []geom.Point{geom.Pt(-along.Y, along.X), geom.Pt(along.Y, -along.X)} {
			if p := on.Add(in.Times(far)); l.shape.Contains(p) {
				return p
			}
		}
	}
	return l.shape.LabelPoint()
}
