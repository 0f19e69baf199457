package gbxml

import (
	"slices"
	"strings"

	"scopewright/store/intake/building"
)

// lets tells that light comes through an opening of a kind.
func lets(kind building.OpeningKind) bool {
	return kind == building.Window || kind == building.Skylight
}

// windowType reads the visible transmittance of a glazing. Where it is stated at
// several angles, normal incidence (no angle, or 0) is taken.
func (d *document) windowType(e element) error {
	id := e.attr("id")
	return d.scan.each(func(c element) error {
		angle := c.attr("solarIncidentAngle")
		if c.Name.Local != "Transmittance" || !strings.EqualFold(c.attr("type"), "Visible") || angle != "" && angle != "0" {
			return d.scan.skip()
		}
		text, err := d.scan.text()
		if err != nil {
			return err
		}
		v, bad := number(text)
		if strings.EqualFold(c.attr("unit"), "Percent") {
			v /= 100
		}
		if bad != nil || v < 0 || v > 1 {
			d.problems.Add("odd values", d.at("WindowType", id, c.line), "The visible transmittance %q of a glazing is no share from 0 to 1; it was left out.", shown(text))
			return nil
		}
		if _, twice := d.glass[id]; !twice {
			d.glass[id] = v
		}
		return nil
	})
}

// diffuse gives the diffuse transmittance of an opening's glass, 0 where the file
// does not state it.
func (d *document) diffuse(o rawOpening) float64 {
	v := building.Diffuse(d.glass[o.glass])
	if v > 0 {
		d.glazed++
	}
	return v
}

// addRooflights draws what lets light in from above. Only glass over the space
// counts: files hold glazed floors too.
func (d *document) addRooflights(storey *building.Storey, home *placed, s *rawSurface) {
	for _, o := range s.openings {
		switch {
		case !lets(o.kind) || s.wall && o.kind == building.Window:
			continue
		case s.wall || o.ring == nil:
			d.steep++
			continue
		case home.known && o.high <= float64(home.space.Floor)+aboveFloor:
			continue
		}
		l, exact, ok := building.RooflightOf(o.ring)
		if !ok {
			continue
		}
		if !exact {
			d.odd++
		}
		if o.high-o.low > flatWithin {
			d.notFlat++
		}
		l.Glass, l.Space = d.diffuse(o), home.raw.key
		if !slices.Contains(storey.Rooflights, l) {
			storey.Rooflights = append(storey.Rooflights, l)
		}
	}
}
