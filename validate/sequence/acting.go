package sequence

import (
	"strings"

	"scopewright/domain"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// of starts a finding about one intent.
func of(in *domain.Intent) rule.Finding {
	return rule.Finding{Key: string(in.ID), Subjects: []rule.Subject{rule.IntentSubject(in)}}
}

// path is that of a field of an intent.
func path(in *domain.Intent, field string) string { return "intents/" + string(in.ID) + "/" + field }

// each looks at the intents one by one.
func each(f *rule.Facts, look func(in *domain.Intent) (rule.Finding, bool)) []rule.Finding {
	var out []rule.Finding
	for i := range f.Design.Intents {
		if found, bad := look(&f.Design.Intents[i]); bad {
			out = append(out, found)
		}
	}
	return out
}

// anyIntent tells that some intent is as asked.
func anyIntent(f *rule.Facts, want func(in *domain.Intent) bool) bool {
	for i := range f.Design.Intents {
		if want(&f.Design.Intents[i]) {
			return true
		}
	}
	return false
}

// anyTarget tells that some load of the intent is as asked.
func anyTarget(f *rule.Facts, in *domain.Intent, want func(l *rule.Load) bool) bool {
	for i := range f.Loads {
		if l := &f.Loads[i]; in.ActsOn(l.Load) && want(l) {
			return true
		}
	}
	return false
}

// anyLink tells that some cell of the matrix is as asked.
func anyLink(f *rule.Facts, want func(k *rule.Link) bool) bool {
	for i := range f.Links {
		if want(&f.Links[i]) {
			return true
		}
	}
	return false
}

// senses tells that a presence sensor of the kind acts on the load; the empty
// kind is any.
func senses(f *rule.Facts, l *rule.Load, kind domain.PresenceKind) bool {
	return anyLink(f, func(k *rule.Link) bool {
		return k.To == l && k.Senses() && (kind == "" || k.From.Presence == kind)
	})
}

// leaves tells that the load goes off by itself when its sensors report vacant.
func leaves(f *rule.Facts, l *rule.Load) bool {
	return senses(f, l, "") && anyIntent(f, func(in *domain.Intent) bool {
		return in.Kind == domain.ByPresence && in.OffLevel == 0 && in.ActsOn(l.Load)
	})
}

// lit tells that a person can light the load by pressing.
func lit(f *rule.Facts, l *rule.Load) bool {
	return l.Carrier != nil && l.Carrier.Traits.OwnOnly || anyLink(f, func(k *rule.Link) bool {
		return k.To == l && k.Presses() && k.Do.TurnsOn(f.Design, l.ID)
	})
}

// switchesOff tells that the intent is a schedule that turns its loads off.
func switchesOff(in *domain.Intent) bool {
	return in.Kind == domain.BySchedule && in.OffAt != "" && in.Do != domain.SetMode
}

// into gives the mode that an intent sets, or waits for.
func into(in *domain.Intent) domain.Mode {
	if in.Mode == "" {
		return domain.NormalMode
	}
	return in.Mode
}

// comes tells that something brings the rooms into a mode: they start in the
// normal one, the calendar changes it, and an intent may.
func comes(f *rule.Facts, m domain.Mode) bool {
	return m == domain.NormalMode || calendarHas(f.Project, func(line domain.Mode) bool { return line == m }) ||
		anyIntent(f, func(in *domain.Intent) bool { return in.Do == domain.SetMode && into(in) == m })
}

// calendarHas tells that some line of the project's calendar brings a mode as asked.
func calendarHas(p *domain.Project, want func(domain.Mode) bool) bool {
	for _, text := range p.Calendar {
		if line, err := domain.ParseModeTime(text); err == nil && want(line.Mode) {
			return true
		}
	}
	return false
}

// tagsOf names the loads of the intent that are as asked.
func tagsOf(f *rule.Facts, in *domain.Intent, want func(l *rule.Load) bool) []rule.Subject {
	var out []rule.Subject
	for i := range f.Loads {
		if l := &f.Loads[i]; in.ActsOn(l.Load) && want(l) {
			out = append(out, l.Subject())
		}
	}
	return out
}

// verb agrees with a number of loads: "goes", "go".
func verb(subjects []rule.Subject, one, many string) string {
	if len(subjects) == 1 {
		return one
	}
	return many
}

// sun tells that a time of day follows the sun.
func sun(text string) bool {
	t, err := domain.ParseTimeOfDay(text)
	return err == nil && t.Sun != ""
}

// placed tells that the project says where and in which time zone it lies.
func placed(p *domain.Project) bool { return p.Placed() && p.Zone != "" }

// missingPlace says what of it is not stated.
func missingPlace(p *domain.Project) string {
	var words []string
	if !p.Placed() {
		words = append(words, "latitude and longitude")
	}
	if p.Zone == "" {
		words = append(words, "time zone")
	}
	return "the project states no " + strings.Join(words, " and no ")
}
