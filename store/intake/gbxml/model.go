package gbxml

import (
	"fmt"
	"math"
	"strings"

	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/roomlist"
)

// model follows the references and puts the building together.
func (d *document) model() (*building.Model, error) {
	floors, tops := d.surfacesBySpace()
	var all []*placed
	var left []*rawSpace
	for _, s := range d.spaces {
		if err := d.ctx.Err(); err != nil {
			return nil, err
		}
		p := d.place(s, floors[s.key], tops)
		if p == nil {
			left = append(left, s)
			continue
		}
		all = append(all, p)
	}
	d.reportLeftOut(left)
	storeys := d.assignStoreys(all)
	m := &building.Model{Source: d.source}
	m.Unit = d.judgeUnit(all)
	d.addWalls(storeys, all)
	for _, p := range all {
		s := &storeys[p.storey]
		s.Spaces = append(s.Spaces, p.space)
	}
	m.Storeys = storeys
	if err := d.findOverlaps(storeys); err != nil {
		return nil, err
	}
	if d.hasNorth {
		m.NorthDegrees, m.HasNorth = d.northOnPlan(), true
	}
	d.addNotes(all, storeys)
	m.Problems, m.Notes = d.problems.All(), d.notes
	return m, nil
}

// surfacesBySpace gives the floors, ceilings and roofs that name each space,
// and how high the surfaces around it reach.
func (d *document) surfacesBySpace() (map[string][]loop, map[string]float64) {
	flat, tops := map[string][]loop{}, map[string]float64{}
	for _, s := range d.surfaces {
		for i, key := range s.adjacent {
			if i > 0 && key == s.adjacent[0] {
				continue
			}
			flat[key] = append(flat[key], s.flat...)
			if top, seen := tops[key]; !seen || s.high > top {
				tops[key] = s.high
			}
		}
	}
	return flat, tops
}

// place makes a space of the model, or nil where it has neither shape nor area.
func (d *document) place(s *rawSpace, surfaces []loop, tops map[string]float64) *placed {
	o := d.outlineOf(s, surfaces)
	if len(o.parts) == 0 && s.area < geom.NoArea {
		return nil
	}
	p := &placed{raw: s, known: len(o.parts) > 0}
	p.space = building.Space{
		Key: s.key, Name: s.name, Kind: s.kind, Texts: s.texts,
		DeclaredArea: units.SquareMetres(s.area), PowerDensity: s.density,
		Unassigned: strings.HasPrefix(strings.ToLower(s.name), "analytical space"),
	}
	if !d.opt.KeepNames && !p.space.Unassigned {
		if number, name, ok := roomlist.SplitLabel(s.name); ok {
			p.space.Number, p.space.Name = number, name
		}
	}
	if !p.known {
		d.problems.Add("spaces without an outline", d.at("Space", s.key, s.line), "%s has no outline, only its area of %s; draw it by hand.", s.label(), building.SquareMeters(s.area))
		return p
	}
	p.space.Outline, p.space.OutlineFrom = o.parts[0], o.from
	if len(o.parts) > 1 {
		p.space.MoreParts = o.parts[1:]
	}
	p.space.Area = units.SquareMetres(o.area())
	p.space.Floor = units.Metres(o.floor)
	switch top, named := tops[s.key]; {
	case s.shaped && s.top > o.floor:
		p.space.Ceiling = units.Metres(s.top)
	case named && top > o.floor:
		p.space.Ceiling = units.Metres(top)
	}
	d.compareArea(s, o)
	return p
}

// compareArea keeps the shape and tells both numbers where they differ.
func (d *document) compareArea(s *rawSpace, o outline) {
	whole := o.area()
	if len(o.parts) > 1 {
		var areas []string
		for _, part := range o.parts[:min(len(o.parts), 5)] {
			areas = append(areas, building.SquareMeters(part.Area()))
		}
		d.problems.Add("outlines in several pieces", d.at("Space", s.key, s.line), "Outline of %s (%s) is in %d separate pieces (%s): see whether they are one room.",
			s.label(), shown(s.key), len(o.parts), strings.Join(areas, ", "))
	}
	if s.area > 0 && !agrees(whole, s.area) {
		d.problems.Add("areas that differ from their outlines", d.at("Space", s.key, s.line), "%s: the file says %s, its outline has %s. The outline is used.",
			strings.Trim(s.label(), "'"), building.SquareMeters(s.area), building.SquareMeters(whole))
	}
}

func (d *document) reportLeftOut(left []*rawSpace) {
	if len(left) == 0 {
		return
	}
	var names []string
	for _, s := range left[:min(len(left), 5)] {
		names = append(names, strings.Trim(s.label(), "'"))
	}
	if len(left) > 5 {
		names = append(names, "...")
	}
	verb, have := "spaces have", "were"
	if len(left) == 1 {
		verb, have = "space has", "was"
	}
	d.problems.Add("spaces without area", d.at("Space", left[0].key, left[0].line), "%s %s no area (%s) and %s left out.", building.Count(len(left)), verb, strings.Join(names, ", "), have)
}

// northOnPlan turns the model's azimuth, the angle from north clockwise to the
// model's y axis (from memory of the schema's description), into the angle from
// the plan's up clockwise to north.
func (d *document) northOnPlan() float64 {
	return math.Mod(360-math.Mod(d.north, 360), 360)
}

// addNotes tells what the designer should know and need not mend.
func (d *document) addNotes(all []*placed, storeys []building.Storey) {
	var voids, small, tall int
	for _, p := range all {
		switch {
		case p.space.Unassigned:
			voids++
		case p.known && p.space.Area < 1:
			small++
		}
		if next := p.storey + 1; next < len(storeys) && p.known && p.space.Ceiling > storeys[next].Level+aboveFloor {
			tall++
		}
	}
	note := func(n int, one, many string) {
		switch {
		case n == 1:
			d.notes = append(d.notes, "1 "+one)
		case n > 1:
			d.notes = append(d.notes, building.Count(n)+" "+many)
		}
	}
	note(voids, "left-over void came as unassigned.", "left-over voids came as unassigned.")
	note(small, "space is under 1 m2 (a shaft or a closet).", "spaces are under 1 m2 (shafts and closets).")
	note(tall, "space rises into the storey above: that storey is open to it.", "spaces rise into the storey above: that storey is open to them.")
	note(d.voids, "hole in a floor joins two spaces above each other; it is not drawn.", "holes in floors join spaces above each other; they are not drawn.")
	note(d.steep, "rooflight lies in a roof as steep as a wall; it is not drawn: draw it as a window where daylight counts there.", "rooflights lie in roofs as steep as walls; they are not drawn: draw them as windows where daylight counts there.")
	note(d.notFlat, "rooflight is sloped: it is drawn as seen from above, smaller than its glass.", "rooflights are sloped: they are drawn as seen from above, smaller than their glass.")
	note(d.odd, "rooflight is no rectangle: one of the same area stands for it.", "rooflights are no rectangles: ones of the same area stand for them.")
	note(d.glazed, "opening's glass was taken from the file: its visible transmittance at normal incidence gives the diffuse one, 86 % of it.", "openings' glass was taken from the file: its visible transmittance at normal incidence gives the diffuse one, 86 % of it.")
	note(d.cutNames, fmt.Sprintf("name was longer than %d letters and was cut.", building.LongestText), fmt.Sprintf("names were longer than %d letters and were cut.", building.LongestText))
	note(d.scan.src.replaced, "character that is no text was replaced; look at names with accents.", "characters that are no text were replaced; look at names with accents.")
	if d.hasNorth && d.northOnPlan() != 0 {
		d.notes = append(d.notes, fmt.Sprintf("North is taken from the file: %.1f degrees clockwise from the plan's up. Check the north arrow.", d.northOnPlan()))
	}
}

func roundTo(v, step float64) float64 { return math.Round(v/step) * step }
