package ifc

import (
	"math"
	"strings"

	"fmt"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// prefixes of IfcSIUnit.
var prefixes = map[string]float64{
	"": 1, "KILO": 1e3, "HECTO": 1e2, "DECA": 10, "DECI": 0.1, "CENTI": 0.01, "MILLI": 1e-3, "MICRO": 1e-6, "NANO": 1e-9, "MEGA": 1e6,
}

// chosenUnits are those that Options.Unit may name.
var chosenUnits = map[string]struct {
	name   string
	metres float64
}{
	"mm": {"millimeters", 0.001}, "cm": {"centimeters", 0.01}, "m": {"meters", 1},
	"in": {"inches", units.MetresPerInch}, "ft": {"feet", units.MetresPerFoot},
}

// units reads the project's units: IfcProject, UnitsInContext (9th attribute).
func (r *reader) units(opt Options) error {
	r.angle = 1
	u := building.Unit{}
	for _, project := range r.f.all("IFCPROJECT", "IFCPROJECTLIBRARY") {
		for _, id := range r.f.args(r.f.args(project).at(8).id).at(0).refs() {
			size, name, what := r.unit(id, 0)
			switch {
			case size <= 0 || math.IsInf(size, 0):
			case what == "LENGTHUNIT" && u.Metres == 0:
				u = building.Unit{Name: name, Metres: size, Sure: true}
			case what == "AREAUNIT" && r.area == 0:
				r.area = size
			case what == "PLANEANGLEUNIT":
				r.angle = size
			}
		}
	}
	if opt.Unit != "" {
		c, ok := chosenUnits[strings.ToLower(opt.Unit)]
		if !ok {
			return fmt.Errorf("the unit %q is not known: use mm, cm, m, in or ft", cut(opt.Unit, 30))
		}
		u = building.Unit{Name: c.name, Metres: c.metres, Sure: true}
	}
	if u.Metres == 0 {
		u = building.Unit{Name: "meters", Metres: 1, Note: "The model names no unit of length. Meters were assumed: choose the unit."}
		r.m.Problems = append(r.m.Problems, building.Problem{Where: "units", Message: u.Note, Fatal: true})
	}
	if r.area == 0 {
		r.area = u.Metres * u.Metres
	}
	r.scale, r.m.Unit = u.Metres, u
	r.north()
	return nil
}

// unit gives the size in SI, the name and the type of IfcSIUnit (Dimensions,
// UnitType, Prefix, Name) or IfcConversionBasedUnit (Dimensions, UnitType,
// Name, ConversionFactor: a measure of another unit).
func (r *reader) unit(id, depth int) (size float64, name, what string) {
	a := r.f.args(id)
	what = a.at(1).words
	switch r.f.kindOf(id) {
	case "IFCSIUNIT":
		prefix := a.at(2).words
		k, ok := prefixes[prefix]
		if !ok {
			return 0, "", what
		}
		if what == "AREAUNIT" { // a square millimeter is 1e-6 square meters
			k *= k
		}
		return k, siName(prefix, a.at(3).words), what
	case "IFCCONVERSIONBASEDUNIT", "IFCCONVERSIONBASEDUNITWITHOFFSET":
		if depth > 4 {
			return 0, "", what
		}
		m := r.f.args(a.at(3).id)
		v, ok := m.at(0).float()
		base, _, _ := r.unit(m.at(1).id, depth+1)
		if !ok {
			return 0, "", what
		}
		return v * base, strings.ToLower(a.at(2).string()), what
	}
	return 0, "", what
}

func siName(prefix, unit string) string {
	name := strings.ToLower(prefix) + strings.ToLower(unit)
	return strings.ReplaceAll(name, "metre", "meter") + "s"
}

// north reads TrueNorth (6th attribute) of the model's context: a direction on
// the plan.
func (r *reader) north() {
	for _, id := range r.f.all("IFCGEOMETRICREPRESENTATIONCONTEXT") {
		a := r.f.args(id)
		if a.at(5).kind != ref {
			continue
		}
		d := r.toward(a.at(5), vec{y: 1})
		r.m.HasNorth = true
		r.m.NorthDegrees = math.Atan2(d.x, d.y) * 180 / math.Pi
		return
	}
}

// ident is how messages name an instance.
func ident(id int) string { return fmt.Sprintf("#%d", id) }
