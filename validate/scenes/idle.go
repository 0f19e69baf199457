package scenes

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// Idle looks for scenes that nothing recalls.
var Idle = rule.Rule{
	ID: "scenes-idle", Title: "Scene that nothing recalls", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "A scene that no button, sensor, schedule or command recalls is set up and tested for nothing, unless the server recalls it.",
	Source:  commonPractice,
	Example: "A scene that one button or one intent recalls passes; one that nothing recalls does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Scenes {
			s := &f.Design.Scenes[i]
			if recalled(f, s.Number) {
				continue
			}
			out = append(out, rule.Finding{Key: string(s.ID), Subjects: []rule.Subject{rule.SceneSubject(s)},
				Message: fmt.Sprintf("Nothing in the room recalls scene %d %s: let a button or an intent recall it, or remove it.", s.Number, s.Name)})
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Do(edit.AddScene{ID: "s3", Name: "Exam"}) },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

func recalled(f *rule.Facts, number int) bool {
	for i := range f.Links {
		if k := &f.Links[i]; k.Does() && k.Do.Verb == domain.ToScene && k.Do.Scene == number {
			return true
		}
	}
	for i := range f.Design.Intents {
		if f.Design.Intents[i].Scene == number {
			return true
		}
	}
	return false
}
