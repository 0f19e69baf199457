package design

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/units"
)

// egressLow is what egress lighting keeps in scenes and when people turn the
// rest off, %; the adopted code may ask for more.
const egressLow units.Level = 30

// scenes proposes the scenes of the use where the room has none and something
// can be dimmed; scenes that are there get a level for each new load.
func (d *draft) scenes() {
	if len(d.r.Design.Scenes) > 0 {
		d.fillScenes()
		return
	}
	loads := d.lighting()
	if len(d.use.scenes) == 0 || !slices.ContainsFunc(loads, dimmed) {
		return
	}
	d.group(ofScenes, "Scenes", "What people do in such a room asks for more than on and off. The levels are a start, to be set by eye once it is furnished.", []topic{ofLoads}, func() {
		var known []string
		for _, k := range d.use.scenes {
			levels := make([]units.Level, len(loads))
			for i, l := range loads {
				levels[i] = d.level(k, l)
			}
			if text := fmt.Sprint(levels); !slices.Contains(known, text) { // drivers that hardly dim make two looks alike
				known = append(known, text)
				d.scene(k, loads, levels)
			}
		}
	})
}

func (d *draft) scene(k look, loads []*domain.Load, levels []units.Level) {
	id := d.fresh("scene %s", k.name)
	d.do(edit.AddScene{ID: id, Name: k.name})
	words := ""
	for i, l := range loads {
		if levels[i] != 100 {
			d.set("scenes/"+string(id)+"/levels", string(l.ID), units.Percent(levels[i])+" in 2 s")
		}
		words += fmt.Sprintf(", %s %s", l.Tag, units.Percent(levels[i]))
	}
	d.adds("%s: %s", k.name, words[min(2, len(words)):])
}

// level gives the level of a load in a look: as it can be dimmed, and never
// dark where it lights the way out.
func (d *draft) level(k look, l *domain.Load) units.Level {
	level := k.general
	switch {
	case l.Layer == domain.Board || l.Layer == domain.Display:
		level = k.board
	case l.Zone == domain.ZoneWindow:
		level = k.window
	}
	if l.Egress {
		level = max(level, egressLow)
	}
	return d.reachable(level, l)
}

// reachable gives the nearest level that a load's driver knows.
func (d *draft) reachable(level units.Level, l *domain.Load) units.Level {
	switch lum := d.p.Luminaire(l.Luminaire); {
	case !dimmed(l) && (level >= 50 || l.Egress):
		return 100
	case !dimmed(l):
		return 0
	case level > 0 && lum != nil:
		return max(level, lum.DimsTo)
	}
	return level
}

// fillScenes says what scenes that are there do to loads that they do not know:
// what they do to all others, else nothing.
func (d *draft) fillScenes() {
	d.group(ofScenes, "Levels in scenes", "A scene that says nothing of a load gives another picture each time.", []topic{ofLoads}, func() {
		for i := range d.r.Design.Scenes {
			id := d.r.Design.Scenes[i].ID
			said := d.commonLevel(&d.r.Design.Scenes[i])
			for _, l := range d.lighting() {
				s := d.r.Design.Scene(id)
				if s == nil || s.LevelOf(l.ID) != nil {
					continue
				}
				text := "leave"
				if said != nil && d.reachable(said.Level, l) == said.Level && !(l.Egress && said.Level < egressLow) {
					text = said.Show()
				}
				d.set("scenes/"+string(id)+"/levels", string(l.ID), text)
				d.adds("%s: %s %s", s.Name, l.Tag, text)
			}
		}
	})
}

// commonLevel gives what a scene does to all the loads that it knows, nil where
// it does not do the same.
func (d *draft) commonLevel(s *domain.Scene) *domain.SceneLevel {
	var common *domain.SceneLevel
	for i := range s.Levels {
		l := &s.Levels[i]
		if common != nil && (l.Level != common.Level || l.Leave != common.Leave) {
			return nil
		}
		common = l
	}
	return common
}
