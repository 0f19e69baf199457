package intake

import (
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/dxf"
)

// layerView is one layer of a drawing with what lies on it.
type layerView struct {
	Field, Name, Role      string
	Hidden                 string // "off" or "frozen"
	Closed, Lines, Texts   int
	Area, Length, Examples string
}

// addLayers lists the layers of a drawing, to choose from.
func (v *modelView) addLayers(f *modelFile, sys units.System) {
	if f.contents == nil {
		return
	}
	v.Closing = strconv.FormatFloat(float64(f.answers.enclose), 'g', -1, 64)
	for _, gap := range []units.Metres{0, 0.01, 0.05, 0.15, 0.3, 1} {
		label := "none: walls only"
		if gap > 0 {
			label = "what walls enclose, across gaps up to " + units.Length(gap, sys)
		}
		v.Enclose = append(v.Enclose, domain.Choice{Value: strconv.FormatFloat(float64(gap), 'g', -1, 64), Label: label})
	}
	if f.answers.single {
		v.Faces = eachLine
	}
	metres, chosen := f.unitMetres(), false
	for i, l := range f.contents.Layers {
		role := f.role(l)
		chosen = chosen || role == dxf.Rooms || role == dxf.Walls
		view := layerView{Field: "layer-" + strconv.Itoa(i), Name: l.Short, Role: string(role), Closed: l.Closed, Lines: l.Entities - l.Texts, Texts: l.Texts}
		switch {
		case l.Off:
			view.Hidden = "off"
		case l.Frozen:
			view.Hidden = "frozen"
		}
		if l.Closed > 0 {
			view.Area = units.Area(units.SquareMetres(l.Area*metres*metres), sys)
		}
		if l.Length > 0 {
			view.Length = extent(units.Metres(l.Length*metres), sys)
		}
		for j, text := range l.Samples {
			if j > 0 {
				view.Examples += ", "
			}
			view.Examples += text
		}
		v.Layers = append(v.Layers, view)
	}
	if !chosen {
		v.Question = strings.TrimSpace(v.Question + " No layer of this drawing is named like rooms or walls: choose below which layers hold them.")
	}
}

// unitMetres gives the unit in which layers are measured for the list.
func (f *modelFile) unitMetres() float64 {
	for _, c := range f.contents.Unit.Candidates {
		if c.Unit == f.answers.unit {
			return c.Metres
		}
	}
	return f.contents.Unit.Best.Metres
}
