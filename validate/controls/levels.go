package controls

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// level is one level that the design asks of one load: of a scene, a matrix
// cell or an intent.
type level struct {
	path  string // of the field
	who   string // asks it: "Scene 2 Present", "ST-1 button 1", "The intent Presence"
	about rule.Subject
	load  *rule.Load
	value units.Level
	fade  units.Seconds
}

// said gives the text that sets the level's field to another value.
func (l *level) said(v units.Level) string {
	if l.fade == 0 {
		return units.Percent(v)
	}
	return units.Percent(v) + " in " + units.Duration(l.fade)
}

// visitLevels shows every level that the design asks of loads that a rule
// wants to see. It builds nothing for the others.
func visitLevels(f *rule.Facts, wants func(*rule.Load, units.Level) bool, see func(level)) {
	for i := range f.Design.Scenes {
		s := &f.Design.Scenes[i]
		for _, sl := range s.Levels {
			if l := f.Load(sl.ID); l != nil && !sl.Leave && wants(l, sl.Level) {
				see(level{path: "scenes/" + string(s.ID) + "/levels/" + string(l.ID), who: fmt.Sprintf("Scene %d %s", s.Number, s.Name), about: rule.SceneSubject(s), load: l, value: sl.Level, fade: sl.Fade})
			}
		}
	}
	for i := range f.Links {
		if k := &f.Links[i]; k.Presses() && k.Do.Verb == domain.ToLevel && wants(k.To, k.Do.Level) {
			about := cellSubject(k)
			see(level{path: cellPath(k), who: about.Tag, about: about, load: k.To, value: k.Do.Level})
		}
	}
	for i := range f.Design.Intents {
		in := &f.Design.Intents[i]
		for field, v := range intentLevels(in) {
			for j := range f.Loads {
				if l := &f.Loads[j]; in.ActsOn(l.Load) && wants(l, v) {
					see(level{path: "intents/" + string(in.ID) + "/" + field, who: "The intent " + in.Kind.Title(), about: rule.IntentSubject(in), load: l, value: v})
				}
			}
		}
	}
}

// intentLevels gives the levels that an intent asks of its loads by itself.
func intentLevels(in *domain.Intent) func(yield func(string, units.Level) bool) {
	return func(yield func(string, units.Level) bool) {
		if in.GoesToLevel() && !yield("level", in.Level) {
			return
		}
		if in.Kind == domain.ByPresence {
			yield("off_level", in.OffLevel)
		}
	}
}
