package dxf

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// lengthUnit is a unit that a drawing may be in; code is its $INSUNITS.
type lengthUnit struct {
	code    int
	short   string
	name    string // plural, as in "it would be ... if inches"
	metres  float64
	offered bool // plans are drawn in it
	us      bool
}

// insUnits lists $INSUNITS, those that plans are usually drawn in first (source: the format owner's help on that variable;
// the US survey foot is 1200/3937 m by definition, from memory).
var insUnits = []lengthUnit{
	{4, "mm", "millimeters", 0.001, true, false},
	{1, "in", "inches", units.MetresPerInch, true, true},
	{6, "m", "meters", 1, true, false},
	{2, "ft", "feet", units.MetresPerFoot, true, true},
	{5, "cm", "centimeters", 0.01, true, false},
	{3, "mi", "miles", 1609.344, false, true},
	{7, "km", "kilometers", 1000, false, false},
	{8, "uin", "microinches", 2.54e-8, false, true},
	{9, "mil", "thousandths of an inch", 2.54e-5, false, true},
	{10, "yd", "yards", 0.9144, false, true},
	{14, "dm", "decimeters", 0.1, false, false},
	{21, "us-ft", "US survey feet", 1200.0 / 3937, false, true},
}

// Units names the units that Options.Unit takes.
func Units() (names []string) {
	for _, u := range insUnits {
		names = append(names, u.short)
	}
	return names
}

// Plausible sizes of a drawing and of its typical room. Outside of them, the
// header's unit is not believed without asking.
const (
	smallestPlan = 2.0    // m
	largestPlan  = 2000.0 // m
	smallestRoom = 0.5    // m2, the middle one of all outlines
	largestRoom  = 5000.0 // m2
)

// Candidate is a unit that the drawing might be in, with its size in it.
type Candidate struct {
	Unit          string // for Options.Unit
	Name          string
	Metres        float64
	Width, Height units.Metres
	Plausible     bool
}

// UnitFinding is what is known of a drawing's unit. Best is what Read takes if
// nothing is chosen; where it is not Sure, Question asks for it.
type UnitFinding struct {
	Declared   string // name of the header's unit; empty where it names none
	Sure       bool
	Best       Candidate
	Candidates []Candidate // likeliest first
	Question   string
}

// feetWords are lengths in feet and inches, as in 13'8 x 14' or 12'-6".
var feetWords = regexp.MustCompile(`\d+'(?:[ -]?\d{1,2}(?: \d+/\d+)?"?)?(?:\W|$)`)

// witness is what a drawing says of its unit besides the header.
type witness struct {
	extent   box
	room     float64 // area of the middle outline, square units; 0 for none
	imperial bool    // texts in feet and inches, or the header's display units
}

func findUnit(d *drawing, sc *scene) UnitFinding {
	w := witness{extent: sc.extent(d), room: middleRoom(d, sc)}
	w.imperial = d.header.lUnits == 3 || d.header.lUnits == 4
	feet := 0
	for _, t := range sc.texts {
		if feetWords.MatchString(t.letters()) {
			feet++
		}
	}
	w.imperial = w.imperial || feet >= 3
	return w.judge(d.header.insUnits)
}

// middleRoom gives the median area of the closed outlines on layers that seem
// to hold rooms.
func middleRoom(d *drawing, sc *scene) float64 {
	var areas []float64
	for _, s := range sc.strokes {
		if l := d.layers[s.layer]; s.closed && l.shown() && roleOf(l.name) == Rooms && len(areas) < MaxRooms {
			areas = append(areas, math.Abs(signedArea(s.ring(s.at, coarseTurn))))
		}
	}
	if len(areas) == 0 {
		return 0
	}
	slices.Sort(areas)
	return areas[len(areas)/2]
}

func (w witness) judge(code int) UnitFinding {
	var f UnitFinding
	var declared *Candidate
	for _, u := range insUnits {
		c := w.candidate(u)
		if u.code == code {
			f.Declared, declared = u.name, &c
		}
		if u.offered || u.code == code {
			f.Candidates = append(f.Candidates, c)
		}
	}
	// Likeliest first: plausible ones, then those of the system that the texts
	// are written in, then the header's, then the usual ones.
	us := map[string]bool{}
	for _, u := range insUnits {
		us[u.short] = u.us
	}
	rank := func(c Candidate) float64 {
		score := 0.0
		if !c.Plausible {
			score += 100
		}
		if us[c.Unit] != w.imperial && (w.imperial || declared != nil) {
			score += 10
		}
		if declared == nil || c.Unit != declared.Unit {
			score++
		}
		return score
	}
	slices.SortStableFunc(f.Candidates, func(a, b Candidate) int { return cmpFloat(rank(a), rank(b)) })
	f.Best = f.Candidates[0]
	f.Sure = declared != nil && declared.Plausible && (!w.imperial || us[declared.Unit])
	if f.Sure {
		f.Best = *declared
		return f
	}
	f.Question = w.question(f, declared)
	return f
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func (w witness) candidate(u lengthUnit) Candidate {
	c := Candidate{Unit: u.short, Name: u.name, Metres: u.metres}
	c.Width, c.Height = units.Metres(w.extent.width()*u.metres), units.Metres(w.extent.height()*u.metres)
	size := math.Max(float64(c.Width), float64(c.Height))
	room := w.room * u.metres * u.metres
	c.Plausible = size >= smallestPlan && size <= largestPlan && (w.room == 0 || room >= smallestRoom && room <= largestRoom)
	return c
}

// question asks for the unit, naming at most four that make sense.
func (w witness) question(f UnitFinding, declared *Candidate) string {
	if w.extent.empty() {
		return "The drawing names no unit that can be checked: nothing in it has a size. Which unit is it in?"
	}
	head := "The drawing names no unit."
	if declared != nil {
		head = fmt.Sprintf("The drawing says it is in %s, which would make it %s", declared.Name, size(*declared, false))
		if w.imperial && !strings.Contains("inches feet", declared.Name) {
			head += ", but its lengths are written in feet and inches"
		}
		head += "."
	}
	var offers []string
	for _, c := range f.Candidates {
		if (declared == nil || c.Unit != declared.Unit) && c.Plausible && len(offers) < 4 {
			offers = append(offers, fmt.Sprintf("%s if %s", size(c, c.Unit == "in" || c.Unit == "ft"), c.Name))
		}
	}
	if len(offers) == 0 {
		return head + " No usual unit gives it the size of a building: measure a known distance on it."
	}
	return fmt.Sprintf("%s It would be %s. Which?", head, strings.Join(offers, ", "))
}

// size prints "58 ft x 32 ft" or "0.70 m x 0.38 m".
func size(c Candidate, us bool) string {
	width, height, unit := float64(c.Width), float64(c.Height), "m"
	if us {
		width, height, unit = width/units.MetresPerFoot, height/units.MetresPerFoot, "ft"
	}
	decimals := 2
	if math.Max(width, height) >= 20 {
		decimals = 0
	}
	return fmt.Sprintf("%.*f %s x %.*f %s", decimals, width, unit, decimals, height, unit)
}

// unit settles the unit to read in.
func (o Options) unit(f UnitFinding) (building.Unit, error) {
	switch {
	case o.MetresPerUnit != 0:
		if !(o.MetresPerUnit > 1e-9 && o.MetresPerUnit < 1e6) {
			return building.Unit{}, fmt.Errorf("%g meters to a drawing unit is no scale of a plan: measure the known distance again", o.MetresPerUnit)
		}
		return building.Unit{Name: "measured", Metres: o.MetresPerUnit, Sure: true}, nil
	case o.Unit != "":
		for _, u := range insUnits {
			if strings.EqualFold(o.Unit, u.short) || strings.EqualFold(o.Unit, u.name) {
				return building.Unit{Name: u.name, Metres: u.metres, Sure: true}, nil
			}
		}
		return building.Unit{}, fmt.Errorf("the unit %q is not known: use one of %s", cut(o.Unit, 30), strings.Join(Units(), ", "))
	}
	return building.Unit{Name: f.Best.Name, Metres: f.Best.Metres, Sure: f.Sure, Note: f.Question}, nil
}
