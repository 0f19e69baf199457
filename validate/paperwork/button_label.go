package paperwork

import (
	"fmt"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// ButtonLabel asks for an engraving on each button that does something.
var ButtonLabel = rule.Rule{
	ID: "paperwork-button-label", Title: "Button without a label", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "People try every button of a blank station, and the labels are ordered late and guessed.",
	Source:  commonPractice,
	Example: "A station whose four used buttons have labels passes; with one blank, 1 label is missing. Buttons that do nothing are another rule's.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if !d.Station() {
				continue
			}
			var blank, named, pairs []string
			for n := 1; n <= d.Type.Buttons; n++ {
				if d.ButtonLabel(n) != "" || !used(f, d, n) {
					continue
				}
				blank = append(blank, strconv.Itoa(n))
				if label := suggestion(f, d, n); label != "" {
					named = append(named, label)
					pairs = append(pairs, "devices/"+string(d.ID)+"/buttons/"+strconv.Itoa(n), label)
				}
			}
			if len(blank) == 0 {
				continue
			}
			found := rule.AtMost(float64(len(blank)), 0, "buttons")
			found.Key, found.Subjects = string(d.ID), []rule.Subject{d.Subject()}
			found.Message = fmt.Sprintf("Button %s of %s has no label: say what is engraved.", blank[0], rule.Named(d.Tag))
			if len(blank) > 1 {
				found.Message = fmt.Sprintf("Buttons %s of %s have no label: say what is engraved.", domain.JoinWords(blank), rule.Named(d.Tag))
			}
			if len(named) == len(blank) {
				found.Fix = rule.SetFields("Label "+domain.JoinWords(named), pairs...)
			}
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("devices/st/buttons/2", "") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

func used(f *rule.Facts, d *rule.Device, button int) bool {
	for i := range f.Links {
		if k := &f.Links[i]; k.From == d && k.Button == button && k.Does() {
			return true
		}
	}
	return false
}

// suggestion gives a label where a press does one thing to all its loads: the
// scene's name, or a plain word. It is empty where it does several.
func suggestion(f *rule.Facts, d *rule.Device, button int) string {
	word := ""
	for i := range f.Links {
		k := &f.Links[i]
		if k.From != d || k.Button != button || k.On != domain.Press || !k.Does() {
			continue
		}
		one := wordFor(f, k.Do)
		if one == "" || word != "" && one != word {
			return ""
		}
		word = one
	}
	return word
}

func wordFor(f *rule.Facts, a domain.Action) string {
	switch a.Verb {
	case domain.ToScene:
		if s := f.Design.SceneNumbered(a.Scene); s != nil && len([]rune(s.Name)) <= 40 {
			return s.Name
		}
	case domain.ToLevel:
		if a.Level == 0 {
			return "Off"
		}
		return "On"
	case domain.Toggle:
		return "On/Off"
	case domain.Raise:
		return "Raise"
	case domain.Lower:
		return "Lower"
	case domain.LastLevel:
		return "On"
	}
	return ""
}
