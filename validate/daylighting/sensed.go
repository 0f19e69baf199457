// Package daylighting judges daylight sensors, daylight intents and the loads
// at the windows. It is one of the families of rules under validate.
package daylighting

import (
	"scopewright/domain"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// sensed tells that a daylight sensor acts on the load.
func sensed(f *rule.Facts, l *rule.Load) bool {
	for i := range f.Links {
		if k := &f.Links[i]; k.To == l && k.Reads() {
			return true
		}
	}
	return false
}

// acted tells that a daylight intent acts on the load.
func acted(f *rule.Facts, l *rule.Load) bool {
	for i := range f.Design.Intents {
		if in := &f.Design.Intents[i]; in.Kind == domain.ByDaylight && in.ActsOn(l.Load) {
			return true
		}
	}
	return false
}

func ids(subjects []rule.Subject) string {
	text := ""
	for _, s := range subjects {
		text += string(s.ID) + ","
	}
	return text
}
