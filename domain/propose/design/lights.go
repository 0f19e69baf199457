package design

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// spot is a place of a luminaire, new or hung already.
type spot struct {
	at   geom.Point
	id   domain.ID // of a luminaire that hangs there
	zone domain.WindowZone
	row  lightRow
}

// facts takes the area from the outline where none is stated.
func (d *draft) facts() {
	if d.r.Area > 0 || !d.lay.drawn {
		return
	}
	d.group(ofFacts, "Area of the outline", "Coverage and densities go by the stated area, and the room states none.", nil, func() {
		decimals := 2
		if d.us() {
			decimals = 1
		}
		area := units.AreaTo(d.r.Measured(), decimals, d.p.Units)
		d.set("facts", "area_m2", area)
		d.adds("Area: %s", area)
	})
}

// lights proposes lighting loads where the room has none, and gives luminaires
// that hang on the plan and belong to no load to loads of their own.
func (d *draft) lights() {
	homeless := d.homeless()
	if len(d.lighting()) > 0 && len(homeless) == 0 {
		return
	}
	lum := d.luminaire()
	switch {
	case lum == nil:
		return
	case d.lay.shape.Empty():
		d.short("Lighting loads: the room has neither an outline nor an area. State one of them")
		return
	}
	spots := homeless
	if len(spots) == 0 {
		spots = d.spread(lum)
	}
	d.zone(spots, lum)
	why := "What is switched or dimmed as one: the rows at the windows apart from the inner ones, none larger than an output carries."
	if d.use.zoned {
		why += " In an open area none lights more than " + units.Area(zoneArea, d.p.Units) + ", so that empty parts can go low."
	}
	d.group(ofLoads, "Lighting loads", why, nil, func() {
		for _, c := range d.share(spots, lum) {
			d.load(c, lum)
		}
	})
}

// homeless gives the luminaires on the plan that belong to no lighting load.
func (d *draft) homeless() []spot {
	var out []spot
	for _, f := range d.r.Fixtures {
		if l := d.r.Design.Load(f.Load); l == nil {
			out = append(out, spot{at: f.At, id: f.ID})
		}
	}
	return out
}

// luminaire chooses the type of new loads: the one asked for, else the first of
// the schedule that suits the use and that some controller carries.
func (d *draft) luminaire() *domain.Luminaire {
	if len(d.p.Luminaires) == 0 {
		d.short("Lighting loads: the project has no luminaire schedule. Enter or import one first")
		return nil
	}
	var best *domain.Luminaire
	most := math.Inf(-1)
	for i := range d.p.Luminaires {
		lum := &d.p.Luminaires[i]
		if lum.ID == d.o.Luminaire && d.mostOnOutput(lum) > 0 {
			return lum
		}
		if s := d.suits(lum); s > most {
			best, most = lum, s
		}
	}
	if best == nil {
		d.short("Lighting loads: no controller of the equipment book carries a luminaire type of the schedule")
	}
	return best
}

// suits grades a type for the room, -Inf where nothing carries it: dimmed
// drivers (only switched ones where that will do), and a size that fits the
// height of the room.
func (d *draft) suits(lum *domain.Luminaire) float64 {
	if lum.Watts <= 0 || lum.Volts <= 0 || d.mostOnOutput(lum) == 0 {
		return math.Inf(-1)
	}
	grade := 0.0
	if switched := method(lum) == equipment.Switched; switched == d.use.plain {
		grade += 4
	}
	ceiling, _ := d.p.CeilingOf(d.r.Room)
	small, large := units.Watts(15), units.Watts(75)
	if ceiling > highCeiling {
		small, large = 75, 1000
	}
	if lum.Watts >= small && lum.Watts <= large {
		grade += 2
	}
	return grade
}

// highCeiling is the height from which rooms are lit by high bays, meters
// (common practice, no published source).
const highCeiling units.Metres = 4.5

// method gives how a type's driver is dimmed.
func method(lum *domain.Luminaire) equipment.Dimming {
	if lum.Driver == domain.DriverSwitched || lum.Driver == "" {
		return equipment.Switched
	}
	return equipment.Dimming(lum.Driver)
}

// spread gives places for as many new luminaires as the room's density asks for.
func (d *draft) spread(lum *domain.Luminaire) []spot {
	density := d.o.Density
	area := d.r.Area
	if area == 0 {
		area = d.r.Measured()
	}
	if density <= 0 {
		density = share * d.use.density
		d.assume("Luminaires for %s, which is %s %% of what ASHRAE 90.1-2019 allows for %s (%s): a first count, no lighting calculation.",
			perArea(density, d.p.Units), units.Trim(share*100, 0), d.use.space, perArea(d.use.density, d.p.Units))
	} else {
		d.assume("Luminaires for %s, as asked: a first count, no lighting calculation.", perArea(density, d.p.Units))
	}
	want := max(1, int(math.Round(float64(area)*density/float64(lum.Watts))))
	places := d.lay.grid(min(want, mostSpots))
	out := make([]spot, len(places))
	for i, at := range places {
		out[i].at = at
	}
	if area > 0 {
		d.assume("In even rows that makes %d of type %s, %s W each: %s.", len(places), lum.Tag, units.Trim(float64(lum.Watts), 1), perArea(float64(len(places))*float64(lum.Watts)/float64(area), d.p.Units))
	}
	if !d.lay.drawn {
		d.assume("The room is not drawn: its rows are those of a rectangle of 4 to 3.")
	}
	return out
}

// mostSpots bounds what is hung: a room of more luminaires is to be divided.
const mostSpots = 2000

// perArea prints a density as the project's units say.
func perArea(density float64, sys units.System) string {
	if sys == units.US {
		return units.Trim(density*units.SquareMetresPerSquareFoot, 2) + " W/ft2"
	}
	return units.Trim(density, 1) + " W/m2"
}

// zone says in which row at the windows each luminaire hangs. Rows matter where
// daylight can dim them; one or two luminaires on one side that one load takes are one
// row.
func (d *draft) zone(spots []spot, lum *domain.Luminaire) {
	for i := range spots {
		spots[i].zone = domain.ZoneNone
	}
	if method(lum) != equipment.Switched {
		d.zonesOf(spots)
	}
	if len(spots) > d.together(len(spots), lum) || len(spots) > 2 || len(spots) == 2 && spots[0].row.facade != spots[1].row.facade {
		return
	}
	for _, z := range []domain.WindowZone{domain.ZoneWindow, domain.ZoneSecondary} {
		if at := slices.IndexFunc(spots, func(s spot) bool { return s.zone == z }); at >= 0 {
			for i := range spots {
				spots[i].zone, spots[i].row = z, spots[at].row
			}
			return
		}
	}
}

// share parts the luminaires into loads: by row, then side by side along the
// room into parts that an output carries.
func (d *draft) share(spots []spot, lum *domain.Luminaire) [][]spot {
	most := d.together(len(spots), lum)
	box := d.lay.shape.Rotate(d.lay.center, -d.lay.angle).Bounds()
	var out [][]spot
	for _, row := range rows(spots) {
		d.sortAlong(row, box.Width() >= box.Height())
		parts := (len(row) + most - 1) / most
		for i := range parts {
			out = append(out, row[i*len(row)/parts:(i+1)*len(row)/parts])
		}
	}
	return out
}

// together gives how many of the room's luminaires one load takes: what an output
// carries, and in an open area what lights no more than a zone of it.
func (d *draft) together(of int, lum *domain.Luminaire) int {
	most := d.mostOnOutput(lum)
	if d.use.zoned {
		each := math.Max(float64(d.r.Area), d.lay.shape.Area()) / float64(of)
		most = max(1, min(most, int(float64(zoneArea)/each)))
	}
	return most
}

// sortAlong puts luminaires in order along the room's longer side.
func (d *draft) sortAlong(row []spot, wide bool) {
	slices.SortStableFunc(row, func(a, b spot) int {
		p, q := a.at.Rotate(d.lay.center, -d.lay.angle), b.at.Rotate(d.lay.center, -d.lay.angle)
		x, y := tenth(p.X)-tenth(q.X), tenth(p.Y)-tenth(q.Y)
		if !wide {
			x, y = y, x
		}
		return cmp.Or(x, y)
	})
}

// tenth gives a length in tenths of a meter, so that rows which are a little
// off do not mix.
func tenth(v float64) int { return int(math.Round(v * 10)) }

// load proposes a load of some luminaires and hangs those that are new.
func (d *draft) load(part []spot, lum *domain.Luminaire) {
	zone := part[0].zone
	id := d.fresh("load %d", len(d.r.Design.Loads))
	d.do(edit.AddLoad{ID: id, Kind: domain.Lighting, Luminaire: lum.ID, Count: len(part)})
	d.set("loads/"+string(id), "name", d.rowName(zone), "zone", string(zone))
	hang := edit.Hang{Load: id, Turn: d.hangTurn()}
	adopt := edit.Adopt{Load: id}
	for i, s := range part {
		if s.id != "" {
			adopt.Fixtures = append(adopt.Fixtures, s.id)
			continue
		}
		hang.IDs, hang.At = append(hang.IDs, d.fresh("luminaire %s %d", id, i)), append(hang.At, s.at)
	}
	if len(adopt.Fixtures) > 0 {
		d.do(adopt)
	}
	for len(hang.IDs) > 0 && d.lay.drawn {
		n := min(len(hang.IDs), atOnce)
		d.do(edit.Hang{Load: id, Turn: hang.Turn, IDs: hang.IDs[:n], At: hang.At[:n]})
		hang.IDs, hang.At = hang.IDs[n:], hang.At[n:]
	}
	if l := d.r.Design.Load(id); l != nil {
		w, a, _ := l.Power(d.p)
		d.adds("%s %s: %d of type %s, %s W, %s A", l.Tag, l.Name, l.Count, lum.Tag, units.Trim(float64(w), 0), units.Trim(float64(a), 2))
	}
}

// hangTurn is how new luminaires are turned: along the room's longest edge.
func (d *draft) hangTurn() float64 { return d.lay.angle * 180 / math.Pi }

// atOnce is how many luminaires one edit hangs.
const atOnce = 500

// rowName names a row, numbered where there is one of that name already.
func (d *draft) rowName(zone domain.WindowZone) string {
	name := map[domain.WindowZone]string{domain.ZoneWindow: "Window row", domain.ZoneSecondary: "Second row", domain.ZoneRoof: "Under the rooflights"}[zone]
	if name == "" {
		name = "Room"
		if len(d.lay.windows) > 0 {
			name = "Inner rows"
		}
	}
	n := 1
	for i := range d.r.Design.Loads {
		if other := d.r.Design.Loads[i].Name; other == name || other == fmt.Sprint(name, " ", n) {
			n++
		}
	}
	if n > 1 {
		return name + " " + strconv.Itoa(n)
	}
	return name
}
