package domain

import (
	"math"
	"strings"

	"scopewright/domain/units"
)

// Material is one entry of the list of what walls are made of. What a radio
// signal loses in it is told by the radio model.
type Material struct {
	Name   string       // as kept in Wall.Material, shown and printed
	Thick  units.Metres // of the body the entry stands for; 0: a build-up of leaves
	family []string     // plain words that mean it, lower case; entries that share one differ in thickness
}

// Names of the materials of walls.
const (
	StudWall       = "stud wall"
	DoubleStudWall = "stud wall, double boards"
	Brick110       = "brick 110 mm"
	Brick215       = "brick 215 mm"
	Block200       = "block 200 mm"
	Concrete100    = "concrete 100 mm"
	Concrete150    = "concrete 150 mm"
	Concrete200    = "concrete 200 mm"
	ClearGlazing   = "clear glazing"
	CoatedGlazing  = "coated glazing"
	TimberPanel    = "timber door or panel"
	MetalSheet     = "metal"
)

// Materials lists the materials of walls, as offered.
func Materials() []Material {
	brick, concrete := []string{"brick", "brickwork"}, []string{"concrete"}
	return []Material{
		{StudWall, 0, []string{"plasterboard", "drywall", "gypsum board", "stud", "stud partition"}},
		{DoubleStudWall, 0, nil},
		{Brick110, 0.11, brick},
		{Brick215, 0.215, brick},
		{Block200, 0.2, []string{"block", "blockwork", "concrete block"}},
		{Concrete100, 0.1, concrete},
		{Concrete150, 0.15, concrete},
		{Concrete200, 0.2, concrete},
		{ClearGlazing, 0, []string{"glass", "glazing"}},
		{CoatedGlazing, 0, []string{"coated glass", "low-e glass", "low-e glazing"}},
		{TimberPanel, 0.044, []string{"wood", "timber"}},
		{MetalSheet, 0, []string{"steel", "sheet metal", "foil-backed board"}},
	}
}

// MaterialChoices are the materials as a closed choice.
func MaterialChoices() []Choice {
	var out []Choice
	for _, m := range Materials() {
		out = append(out, Choice{m.Name, m.Name})
	}
	return out
}

// FindMaterial reads a material by its name or a plain word for it. Where a
// word means several, such as "brick", the one nearest in thickness to the wall
// is meant; of a wall of unknown thickness the thickest, which is the careful
// guess for radio.
func FindMaterial(text string, wall units.Metres) (m Material, ok bool) {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	if wall <= 0 {
		wall = units.Metres(math.Inf(1))
	}
	for _, x := range Materials() {
		if x.Name == text {
			return x, true
		}
		for _, word := range x.family {
			if word == text && (!ok || nearer(x.Thick, m.Thick, wall)) {
				m, ok = x, true
			}
		}
	}
	return m, ok
}

func nearer(a, b, wall units.Metres) bool {
	if math.IsInf(float64(wall), 1) {
		return a > b
	}
	return math.Abs(float64(a-wall)) < math.Abs(float64(b-wall))
}

// ReadMaterial reads what a person typed for a wall's material; empty, "-" and
// "none" take it away.
func ReadMaterial(text string, wall units.Metres) (string, error) {
	if m, ok := FindMaterial(text, wall); ok {
		return m.Name, nil
	}
	return pick(MaterialChoices(), "Material", text)
}
