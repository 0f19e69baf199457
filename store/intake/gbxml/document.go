package gbxml

import (
	"context"
	"strings"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// document is what was read of a file, lengths in meters, references not yet
// followed: order in a file means nothing [files].
type document struct {
	ctx    context.Context
	scan   *scanner
	opt    Options
	source string

	unit      building.Unit // as the file or the designer says
	unitGiven string        // the file's word for it
	areaScale float64       // square meters to one areaUnit

	storeys   []rawStorey
	spaces    []*rawSpace
	surfaces  []*rawSurface
	spaceByID map[string]*rawSpace
	repeats   map[string]int // how often an id came again
	storeyIDs map[string]int
	buildings int
	building  string // the one being read

	thickness map[string]units.Metres // of materials, by id
	layers    map[string][]string     // materials of layers
	walls     map[string][]string     // layers of constructions
	glass     map[string]float64      // visible transmittance at normal incidence of window types, by id

	north    float64
	hasNorth bool

	points   int
	problems building.ProblemList
	notes    []string
	voids    int // holes in floors
	cutNames int
	glazed   int // windows and rooflights whose glass the file states
	notFlat  int // rooflights that are sloped
	odd      int // rooflights that are no rectangles
	steep    int // rooflights in roofs as steep as walls, left out
}

type rawStorey struct {
	id, name string
	level    float64
	hasLevel bool
	line     int
}

const problemsOfAKind = 20

func newDocument(ctx context.Context, src *source, opt Options) *document {
	return &document{
		ctx: ctx, scan: newScanner(ctx, src), opt: opt,
		spaceByID: map[string]*rawSpace{}, repeats: map[string]int{}, storeyIDs: map[string]int{},
		thickness: map[string]units.Metres{}, layers: map[string][]string{}, walls: map[string][]string{}, glass: map[string]float64{},
		problems: building.ProblemList{PerKind: problemsOfAKind},
	}
}

func (d *document) read() error {
	root, err := d.scan.root()
	if err != nil {
		return err
	}
	d.source = strings.TrimSpace("gbXML " + shown(root.attr("version")))
	d.readUnits(root)
	err = d.scan.each(func(e element) error {
		switch e.Name.Local {
		case "Campus":
			return d.scan.each(d.campusChild)
		case "Construction":
			return d.references(e, d.walls, "LayerId", "layerIdRef")
		case "Layer":
			return d.references(e, d.layers, "MaterialId", "materialIdRef")
		case "Material":
			return d.material(e)
		case "WindowType":
			return d.windowType(e)
		}
		return d.scan.skip()
	})
	if err != nil {
		return err
	}
	stray, err := d.scan.rest()
	if stray {
		d.problems.Add("texts after the end", "end of file", "Text follows the end of the model; it was ignored.")
	}
	return err
}

func (d *document) campusChild(e element) error {
	switch e.Name.Local {
	case "Building":
		d.buildings++
		d.building = shown(e.attr("id"))
		return d.scan.each(d.buildingChild)
	case "Location":
		return d.scan.each(d.locationChild)
	case "Surface":
		return d.surface(e)
	}
	return d.scan.skip()
}

func (d *document) buildingChild(e element) error {
	switch e.Name.Local {
	case "BuildingStorey":
		return d.storey(e)
	case "Space":
		return d.space(e)
	case "Surface": // belongs under Campus; taken here too
		return d.surface(e)
	case "Name":
		name, err := d.name()
		if name != "" {
			d.building = name
		}
		return err
	}
	return d.scan.skip()
}

// readUnits takes the designer's unit before the file's. Length and area units
// are independent: inches with square feet were seen [files].
func (d *document) readUnits(root element) {
	d.unitGiven = shown(root.attr("lengthUnit"))
	unit, known := lengthUnit(d.unitGiven)
	switch {
	case d.opt.Unit.Metres > 0:
		d.unit = d.opt.Unit
		d.unit.Sure = true
	case known:
		d.unit = unit
	default:
		d.unit = building.Unit{Name: "meters", Metres: 1}
	}
	word := root.attr("areaUnit")
	scale, known := areaUnit(word)
	if !known {
		scale = d.unit.Metres * d.unit.Metres
		if word != "" {
			d.problems.Add("unknown units", "root element", "The area unit %q is not known; areas are read in square %s.", shown(word), d.unit.Name)
		}
	}
	d.areaScale = scale
}

func (d *document) locationChild(e element) error {
	if e.Name.Local != "CADModelAzimuth" {
		return d.scan.skip()
	}
	text, err := d.scan.text()
	if err != nil || text == "" {
		return err
	}
	v, bad := number(text)
	if bad != nil || v < -360 || v > 360 {
		d.problems.Add("odd values", "Location", "The model's azimuth %q is no angle in degrees; north was left unknown.", shown(text))
		return nil
	}
	d.north, d.hasNorth = v, true
	return nil
}

func (d *document) storey(e element) error {
	s := rawStorey{id: e.attr("id"), line: e.line}
	err := d.scan.each(func(c element) (err error) {
		switch c.Name.Local {
		case "Name":
			s.name, err = d.name()
			return err
		case "Level":
			text, err := d.scan.text()
			if err != nil {
				return err
			}
			v, bad := coordinate(text, d.unit.Metres)
			if bad != nil {
				d.problems.Add("odd values", d.at("BuildingStorey", s.id, c.line), "The storey's level %q %s.", shown(text), bad)
				return nil
			}
			s.level, s.hasLevel = v, true
			return nil
		}
		return d.scan.skip()
	})
	if err != nil {
		return err
	}
	if _, twice := d.storeyIDs[s.id]; twice && s.id != "" {
		d.problems.Add("storeys with the same id", d.at("BuildingStorey", s.id, s.line), "Two storeys have the id %s: the second is kept without rooms.", shown(s.id))
	} else {
		d.storeyIDs[s.id] = len(d.storeys)
	}
	if d.buildings > 1 && d.building != "" {
		s.name = d.building + ": " + s.name
	}
	d.storeys = append(d.storeys, s)
	return nil
}

// name reads a text that people see.
func (d *document) name() (string, error) {
	text, err := d.scan.text()
	clean, cut := building.CleanText(text)
	if cut {
		d.cutNames++
	}
	return clean, err
}

func (d *document) at(what, id string, line int) string {
	if id != "" {
		what += " " + shown(id)
	}
	return what + ", line " + building.Count(line)
}

// references reads the ids that a construction or layer lists.
func (d *document) references(e element, into map[string][]string, child, attr string) error {
	id := e.attr("id")
	return d.scan.each(func(c element) error {
		if c.Name.Local == child && len(into[id]) < 64 {
			into[id] = append(into[id], c.attr(attr))
		}
		return d.scan.skip()
	})
}

func (d *document) material(e element) error {
	return d.scan.each(func(c element) error {
		if c.Name.Local != "Thickness" {
			return d.scan.skip()
		}
		metres := d.unit.Metres
		if u, ok := lengthUnit(c.attr("unit")); ok {
			metres = u.Metres
		}
		text, err := d.scan.text()
		if v, bad := coordinate(text, metres); bad == nil && v > 0 {
			d.thickness[e.attr("id")] = units.Metres(v)
		}
		return err
	})
}

// wallThickness adds up a construction's layers, 0 where any is unknown.
func (d *document) wallThickness(construction string) (sum units.Metres) {
	for _, layer := range d.walls[construction] {
		for _, material := range d.layers[layer] {
			t, ok := d.thickness[material]
			if !ok {
				return 0
			}
			sum += t
		}
	}
	if sum > 3 { // meters; no wall, an air gap or a mistake
		return 0
	}
	return sum
}
