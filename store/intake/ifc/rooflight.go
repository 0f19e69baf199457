package ifc

import (
	"strings"

	"scopewright/store/intake/building"
)

// light is a rooflight over its space; the space's storey is known later.
type light struct {
	building.Rooflight
	over *space
}

// addRooflight draws a skylight whose opening is plain: extruded upright.
func (r *reader) addRooflight(h hole, over *space) {
	l, exact, ok := building.RooflightOf(h.ring)
	if !ok {
		return
	}
	if !exact {
		r.oddLights++
	}
	l.Glass, l.Space = h.glass, over.Key
	r.lights = append(r.lights, light{l, over})
}

// glazing gives the visible transmittance at normal incidence that property sets
// state of windows: IfcRelDefinesByProperties (5th attribute the objects, 6th the
// set) and IfcRelDefinesByType (6th the type, whose 6th are its sets);
// IfcPropertySet (5th the properties), IfcPropertySingleValue (1st its name, 3rd
// the value). An object's own set goes before its type's. The standard sets call
// it VisibleLightTransmittance, in 2x3 Translucency (from memory).
func (r *reader) glazing() map[int]float64 {
	out := map[int]float64{}
	for _, id := range r.f.all("IFCRELDEFINESBYPROPERTIES") {
		a := r.f.args(id)
		if v, ok := r.transmittance(a.at(5).id); ok {
			for _, of := range a.at(4).refs() {
				out[of] = v
			}
		}
	}
	for _, id := range r.f.all("IFCRELDEFINESBYTYPE") {
		a := r.f.args(id)
		for _, set := range r.f.args(a.at(5).id).at(5).refs() {
			v, ok := r.transmittance(set)
			if !ok {
				continue
			}
			for _, of := range a.at(4).refs() {
				if _, own := out[of]; !own {
					out[of] = v
				}
			}
		}
	}
	return out
}

// transmittance reads it from a property set.
func (r *reader) transmittance(set int) (float64, bool) {
	if r.f.kindOf(set) != "IFCPROPERTYSET" {
		return 0, false
	}
	for _, id := range r.f.args(set).at(4).refs() {
		if r.f.kindOf(id) != "IFCPROPERTYSINGLEVALUE" {
			continue
		}
		a := r.f.args(id)
		if !statesGlass(a.at(0).string()) {
			continue
		}
		v, ok := a.at(2).float()
		if ok && v > 0 && v <= 1 {
			return v, true
		}
		r.bad.Add("odd transmittances", ident(id), "The visible transmittance of a glazing (#%d) is no share from 0 to 1; it was left out.", id)
	}
	return 0, false
}

func statesGlass(name string) bool {
	switch strings.ToLower(strings.NewReplacer(" ", "", "_", "").Replace(name)) {
	case "visiblelighttransmittance", "visibletransmittance", "visuallighttransmittance", "translucency":
		return true
	}
	return false
}
