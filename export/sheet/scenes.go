package sheet

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// sceneTable prints scenes against loads. Receptacles have a column only where a scene
// names them. A hole is marked, since nobody could say what the load does.
func (r *room) sceneTable(caption string) Table {
	loads := r.sceneLoads()
	t := Table{Caption: caption, Empty: "No scenes have been defined yet.", Columns: []Column{{Title: "Scene", Width: 2.2}}}
	for _, l := range loads {
		t.Columns = append(t.Columns, Column{Title: loadTitle(l, len(loads)), Unit: "%", Align: Center, Width: 1})
	}
	t.Columns = append(t.Columns, Column{Title: "Fade", Align: Center, Width: 0.9}, Column{Title: "Recalled by", Width: 2.4})
	for i := range r.Design.Scenes {
		s := &r.Design.Scenes[i]
		t.Rows = append(t.Rows, Row{Cells: r.sceneCells(s, loads), Changed: r.changedIn("scenes", s.ID)})
	}
	return t
}

func (r *room) sceneLoads() []*domain.Load {
	var out []*domain.Load
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if l.Kind == domain.Lighting || slices.ContainsFunc(r.Design.Scenes, func(s domain.Scene) bool { return s.LevelOf(l.ID) != nil }) {
			out = append(out, l)
		}
	}
	return out
}

func (r *room) sceneCells(s *domain.Scene, loads []*domain.Load) []Cell {
	fade, alike := commonFade(s, loads)
	cells := []Cell{markIf(TextCell(fmt.Sprintf("%d %s", s.Number, s.Name)), r.departures().added("scenes", s.ID) || r.departures().field("scenes", s.ID, "name", "number"))}
	for _, l := range loads {
		cells = append(cells, markIf(levelCell(s.LevelOf(l.ID), alike), r.departures().touched("scenes", s.ID+"/levels/"+l.ID)))
	}
	return append(cells, TextCell(fade), TextCell(or(strings.Join(r.recalledBy(s), ", "), "nothing")))
}

// commonFade gives the fade of a scene where all its levels have the same one.
func commonFade(s *domain.Scene, loads []*domain.Load) (text string, alike bool) {
	var fades []units.Seconds
	for _, l := range loads {
		if v := s.LevelOf(l.ID); v != nil && !v.Leave {
			fades = addOnce(fades, v.Fade)
		}
	}
	switch len(fades) {
	case 0:
		return none, true
	case 1:
		return units.Duration(fades[0]), true
	}
	return "as shown", false
}

func levelCell(l *domain.SceneLevel, alike bool) Cell {
	switch {
	case l == nil:
		return TextCell(undecided).Marked(Warning)
	case l.Leave:
		return TextCell("leave")
	case alike:
		return TextCell(number(float64(l.Level)))
	}
	return TextCell(number(float64(l.Level)) + " in " + units.Duration(l.Fade))
}

// recalledBy lists what recalls a scene: buttons by tag and number, and intents by their
// statement.
func (r *room) recalledBy(s *domain.Scene) []string {
	var out []string
	for i := range r.Design.Links {
		k := &r.Design.Links[i]
		if k.Do.Verb != domain.ToScene || k.Do.Scene != s.Number {
			continue
		}
		if d := r.Design.Device(k.Device); d != nil {
			name := d.Tag
			if k.Button > 0 {
				name += fmt.Sprintf(" button %d", k.Button)
			}
			if k.On == domain.Hold {
				name += " held"
			}
			out = addOnce(out, name)
		}
	}
	for i := range r.Design.Intents {
		if in := &r.Design.Intents[i]; in.Scene == s.Number && in.GoesTo() && !in.GoesToLevel() {
			out = addOnce(out, r.stepOfIntent(in.ID))
		}
	}
	return out
}
