package plan

import (
	"slices"
	"strings"
	"sync"

	"scopewright/domain"
	"scopewright/domain/radio"
	"scopewright/domain/units"
	"scopewright/web/ui"
)

const (
	materialList  = "wall-material" // of the datalist
	radioLossHint = "to design with at 2.4 GHz, each time a signal crosses; point at a number for what ITU-R P.2040 computes"
)

// materialLists offers the list of materials beside yes and no, and the other words that walls of the grid
// hold: opening a cell must not lose its word.
func materialLists(walls ui.Grid) []ui.ChoiceList {
	choices := domain.MaterialChoices()
	for _, row := range walls.Rows {
		for _, c := range row.Cells {
			word := domain.Choice{Value: c.Text, Label: c.Text}
			if strings.HasSuffix(c.Path, "/material") && c.Text != "" && !slices.Contains(choices, word) {
				choices = append(choices, word)
			}
		}
	}
	return []ui.ChoiceList{{ID: materialList, Choices: choices}, {ID: yesNoList, Choices: []domain.Choice{{Value: "yes", Label: "yes"}, {Value: "no", Label: "no"}}}}
}

func materialCell(path string, w *domain.Wall) ui.Cell {
	if w.Kind == domain.Boundary {
		return ui.Cell{Class: "mute", Title: "does not apply"}
	}
	return ui.Cell{Path: path + "/material", Text: w.Material}
}

// crossing is of the wall's material, also of one that a file names in other
// words.
func crossing(w *domain.Wall) (material string, c radio.Crossing, ok bool) {
	m, ok := domain.FindMaterial(w.Material, w.Thickness)
	if !ok || w.Kind == domain.Boundary {
		return "", radio.Crossing{}, false
	}
	c, ok = radio.CrossingOf(m.Name)
	return m.Name, c, ok
}

func lossCell(w *domain.Wall) ui.Cell {
	name, c, ok := crossing(w)
	if !ok {
		return ui.Cell{Class: "num mute", Title: "not known: choose a material of the list"}
	}
	return ui.Cell{Class: "num", Text: decibels(c.Design), Title: notes()[name]}
}

// notes are the same for every wall of a material; a storey has thousands.
var notes = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for _, m := range domain.Materials() {
		if c, ok := radio.CrossingOf(m.Name); ok {
			out[m.Name] = computedNote(c)
		}
	}
	return out
})

// computedNote sets the value of the standard beside the one to design with.
func computedNote(c radio.Crossing) string {
	db, ok := c.Computed()
	if !ok {
		return "ITU-R P.2040 has no model of it; from measurements and judgement"
	}
	return "ITU-R P.2040 computes " + units.Trim(db, 1) + " dB for it dry and without steel; real walls lose more"
}

// materialFact is "stud wall, 3 dB".
func materialFact(w *domain.Wall) string {
	if _, c, ok := crossing(w); ok {
		return w.Material + ", " + decibels(c.Design)
	}
	return w.Material
}

func decibels(db float64) string { return units.Trim(db, 1) + " dB" }
