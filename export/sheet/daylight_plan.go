package sheet

import (
	"math"

	"scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/export/drawing"
)

// daylightPlanHeight is the room for a plan of daylight on its page, in millimeters:
// facts stand above it and, where it is lower, a table beneath.
const daylightPlanHeight = 160.0

// onlySensors is the room with its daylight sensors alone, so that a plan of daylight
// shows nothing else that has a place.
func (r *room) onlySensors() *room {
	bare, only := *r, *r.Resolved
	only.Design.Devices = nil
	for i := range r.Design.Devices {
		dev := &r.Design.Devices[i]
		if t := r.c.project.Book.Find(dev.Type); t != nil && t.Kind.Traits().Daylight {
			only.Design.Devices = append(only.Design.Devices, *dev)
		}
	}
	bare.Resolved = &only
	return &bare
}

func (r *daylitRoom) drawingOf(title, note string, d *drawing.Daylight, without ...drawing.Layer) Drawing {
	without = append(without, drawing.LayerSeats, drawing.LayerNames)
	view := drawing.RoomView(r.c.project, r.c.planOf(r.on), r.onlySensors().Resolved, r.c.neighbors(r.StoreyID), drawing.Options{Furniture: true, Spread: true, Layers: drawing.Without(without...), Daylight: d})
	return Drawing{Caption: title, View: view, Height: daylightPlanHeight, Note: note}
}

// zonePlan draws zones, how luminaires hang to them, and windows by their heads.
func (r *daylitRoom) zonePlan(code *daylit) Drawing {
	d := &drawing.Daylight{Windows: r.windowNotes(true)}
	for _, z := range []struct {
		kind drawing.ZoneKind
		name string
		of   *daylight.Zone
	}{{drawing.PrimaryZone, "Primary", &r.zones.Primary}, {drawing.SecondaryZone, "Secondary", &r.zones.Secondary}, {drawing.ToplitZone, "Toplit", &r.zones.Toplit}} {
		if z.of.Area > 0 {
			d.Zones = append(d.Zones, drawing.DaylightZone{Kind: z.kind, Parts: z.of.Parts, Label: []string{z.name, units.Area(z.of.Area, r.c.project.Units)}})
		}
	}
	for i := range r.space.Luminaires {
		l := &r.space.Luminaires[i]
		d.Hung = append(d.Hung, drawing.Hung{ID: l.ID, Outline: corners(l), How: hanging(r.zones.Stands(l))})
	}
	windows := ""
	if len(r.space.Windows) > 0 {
		windows = "Windows by the height of their heads. "
	}
	return r.drawingOf("Zones by "+code.code.Name, windows+"Luminaires are drawn by their outlines as assumed; their marks say how they hang, whatever the code counts.", d)
}

// hanging tells how a luminaire hangs to the zones: within one, across an edge of any,
// or out of all.
func hanging(s daylight.Standing) drawing.Hanging {
	switch daylight.WhereOf(max(s.Toplit, s.Primary, s.Secondary)) {
	case daylight.Inside:
		return drawing.HangsIn
	case daylight.Straddles:
		return drawing.HangsAcross
	}
	return drawing.HangsOut
}

// corners are a luminaire's on the plan, the first two along its length.
func corners(l *daylight.Luminaire) []geom.Point {
	a, b := float64(l.Length)/2, float64(l.Width)/2
	out := []geom.Point{{X: -a, Y: -b}, {X: a, Y: -b}, {X: a, Y: b}, {X: -a, Y: b}}
	for i, p := range out {
		out[i] = l.At.Add(p.Rotate(geom.Point{}, l.Turn*math.Pi/180))
	}
	return out
}

func (r *daylitRoom) windowNotes(heads bool) (out []drawing.WindowNote) {
	for i := range r.space.Windows {
		w := &r.space.Windows[i]
		more := ""
		if heads {
			more = r.length(float64(w.Head))
			if w.Assumed {
				more += " assumed"
			}
		}
		out = append(out, drawing.WindowNote{A: w.A, B: w.B, Tag: windowTag(i), More: more})
	}
	return out
}

// factorPlan draws the daylight factor: numbers at the grid's points, and lines at 1, 2
// and 5 %.
func (r *daylitRoom) factorPlan() Drawing {
	d := &drawing.Daylight{Windows: r.windowNotes(false), Step: units.Metres(r.grid.Step)}
	for _, percent := range []float64{1, daylitFrom, 5} {
		if lines := r.grid.Contour(percent); len(lines) > 0 {
			d.Contours = append(d.Contours, drawing.Contour{Label: number(percent) + " %", Lines: lines, Main: percent == daylitFrom})
		}
	}
	low := r.space.Outline.Bounds().Min
	for i := range r.grid.Cells {
		c := &r.grid.Cells[i]
		at := c.At.Sub(low).Times(1 / r.grid.Step)
		d.Values = append(d.Values, drawing.Value{At: c.At, Column: int(at.X), Row: int(at.Y), Text: drawing.DaylightFactorText(c.Total())})
	}
	return r.drawingOf("Daylight factor in percent, on the work plane", "Of each so many points of the grid one is printed, as have room; the figures beneath are of all, with the light that they are where it is "+units.Light(brightDay, r.c.project.Units)+" outdoors.", d, drawing.LayerLuminaires)
}
