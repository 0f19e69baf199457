package gbxml

import (
	"math"
	"strconv"
	"strings"

	"scopewright/store/intake/building"
)

// rawSpace is a Space as it was read.
type rawSpace struct {
	key, id   string
	line      int
	name      string
	texts     []string
	kind      string
	storeyRef string

	area    float64 // declared, square meters; 0 where it says nothing
	density float64 // W/m2

	planar []loop
	shell  []loop  // of ClosedShell, without the vertical ones
	top    float64 // of the shell; -Inf without one
	shaped bool    // has a ClosedShell
	flaws  []*flaw
}

// space reads a Space. Its name may come after its shape, so problems wait.
func (d *document) space(e element) error {
	if len(d.spaces) >= d.opt.Limits.Spaces {
		return building.Refuse("The file has more than %s spaces (stopped at line %s). Export one storey at a time.",
			building.Count(d.opt.Limits.Spaces), building.Count(e.line))
	}
	s := &rawSpace{id: e.attr("id"), line: e.line, storeyRef: e.attr("buildingStoreyIdRef"), top: math.Inf(-1)}
	s.kind, _ = building.CleanText(e.attr("spaceType"))
	if err := d.scan.each(func(c element) error { return d.spaceChild(s, c) }); err != nil {
		return err
	}
	d.giveKey(s)
	d.spaces = append(d.spaces, s)
	for _, f := range s.flaws {
		d.reportFlaw("Space", "space", s.label(), s.key, f)
	}
	return nil
}

func (d *document) spaceChild(s *rawSpace, c element) error {
	switch c.Name.Local {
	case "Name":
		name, err := d.name()
		s.name = name
		return err
	case "Description":
		text, err := d.name()
		if text != "" {
			s.texts = append(s.texts, text)
		}
		return err
	case "Area":
		return d.spaceArea(s, c)
	case "LightPowerPerArea":
		return d.lightPower(s, c)
	case "PlanarGeometry":
		bad, err := d.planarGeometry(c, d.unit.Metres, func(l loop) { s.planar = append(s.planar, l) })
		if bad != nil {
			s.planar, s.flaws = nil, append(s.flaws, bad)
		}
		return err
	case "ShellGeometry":
		return d.shellGeometry(s, c)
	}
	return d.scan.skip()
}

// shellGeometry reads ClosedShell only. AnalyticalShell beside it lies on the
// center lines of walls: both together agree with no room's area [files].
func (d *document) shellGeometry(s *rawSpace, e element) error {
	metres := d.ownUnit(e, d.unit.Metres)
	return d.scan.each(func(c element) error {
		if c.Name.Local != "ClosedShell" {
			return d.scan.skip()
		}
		s.shaped = true
		bad, err := d.planarGeometry(c, metres, func(l loop) {
			_, high := l.heights()
			s.top = math.Max(s.top, high)
			if len(l) >= 3 && !l.vertical() {
				s.shell = append(s.shell, l)
			}
		})
		if bad != nil {
			s.flaws = append(s.flaws, bad)
			s.shell, s.shaped, s.top = nil, false, math.Inf(-1)
		}
		return err
	})
}

func (d *document) spaceArea(s *rawSpace, c element) error {
	scale := d.areaScale
	if own, ok := areaUnit(c.attr("unit")); ok {
		scale = own
	}
	text, err := d.scan.text()
	if err != nil || text == "" {
		return err
	}
	v, bad := number(text)
	if v *= scale; bad != nil || !(v >= 0 && v < 1e9) {
		d.problems.Add("areas that are no numbers", d.at("Space", s.id, c.line), "The space's area '%s' is no usable number; it was ignored.", shown(text))
		return nil
	}
	s.area = v
	return nil
}

func (d *document) lightPower(s *rawSpace, c element) error {
	scale, known := powerDensity(c.attr("unit"))
	text, err := d.scan.text()
	if v, bad := number(text); err == nil && known && bad == nil && v >= 0 && v*scale < 1e6 {
		s.density = v * scale
	}
	return err
}

// giveKey makes ids unique: the first keeps its own, and references mean it.
func (d *document) giveKey(s *rawSpace) {
	s.key, _ = building.CleanText(s.id)
	if s.key == "" {
		s.key = "space"
		d.problems.Add("spaces without an id", d.at("Space", s.name, s.line), "The space %s has no id; walls cannot refer to it.", s.label())
	}
	first, taken := d.spaceByID[s.key]
	for base := s.key; d.spaceByID[s.key] != nil; {
		d.repeats[base]++
		s.key = base + "-" + strconv.Itoa(d.repeats[base]+1)
	}
	if taken {
		d.problems.Add("spaces with the same id", d.at("Space", s.id, s.line), "Two spaces have the id %s (lines %s, %s): the second got the id %s.",
			shown(s.id), building.Count(first.line), building.Count(s.line), s.key)
	}
	d.spaceByID[s.key] = s
}

// label names the space in a sentence.
func (s *rawSpace) label() string {
	switch {
	case s.name != "":
		return "'" + shown(s.name) + "'"
	case s.key != "":
		return shown(s.key)
	}
	return "without name"
}

func (d *document) reportFlaw(what, kind, label, key string, f *flaw) {
	if f.many > 0 {
		d.problems.Add("outlines with too many points", d.at(what, key, f.line), "Outline of %s (%s) has %s points; at most %s. Simplify it in the program that made it.",
			label, shown(key), building.Count(f.many), building.Count(d.opt.Limits.LoopPoints))
		return
	}
	d.problems.Add("points that cannot be read", d.at(what, key, f.line), "%s %s (%s, line %s): %s.",
		strings.ToUpper(kind[:1])+kind[1:], label, shown(key), building.Count(f.line), f.what)
}
