package sequence

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// part is what is known of one part of a condition without running anything:
// it never holds, it always does, or it comes and goes.
type part struct {
	never, always bool
	why           string // "daylight cannot be below 100 lx and above 300 lx"
}

// parts looks at each stated part of an intent's condition.
func parts(f *rule.Facts, in *domain.Intent) []part {
	if !in.Conditional() {
		return nil
	}
	var out []part
	for _, look := range []func(*rule.Facts, *domain.Intent) (part, bool){modesPart, windowPart, daylightPart, peoplePart, partitionPart} {
		if p, stated := look(f, in); stated {
			out = append(out, p)
		}
	}
	return out
}

func modesPart(f *rule.Facts, in *domain.Intent) (part, bool) {
	if len(in.Modes) == 0 {
		return part{}, false
	}
	if !slices.ContainsFunc(in.Modes, func(m domain.Mode) bool { return comes(f, m) }) {
		return part{never: true, why: "neither the project's calendar nor an intent of this room sets mode " + modeWords(in.Modes)}, true
	}
	for _, m := range domain.Modes() {
		if comes(f, m) && !slices.Contains(in.Modes, m) {
			return part{}, true
		}
	}
	return part{always: true, why: "no other mode than " + modeWords(in.Modes) + " ever comes"}, true
}

func modeWords(modes []domain.Mode) string {
	words := make([]string, len(modes))
	for i, m := range modes {
		words[i] = string(m)
	}
	return domain.JoinWords(words)
}

func windowPart(_ *rule.Facts, in *domain.Intent) (part, bool) {
	if in.From == "" && in.Until == "" {
		return part{}, false
	}
	return part{never: in.From == in.Until, why: "it ends at " + in.Until + ", when it begins"}, true
}

func daylightPart(f *rule.Facts, in *domain.Intent) (part, bool) {
	if in.DarkerThan == 0 && in.BrighterThan == 0 {
		return part{}, false
	}
	lux := func(v units.Lux) string { return units.Light(v, f.Project.Units) }
	switch {
	case in.DarkerThan > 0 && in.BrighterThan >= in.DarkerThan:
		return part{never: true, why: "daylight cannot be below " + lux(in.DarkerThan) + " and above " + lux(in.BrighterThan)}, true
	case f.Count(func(d *rule.Device) bool { return d.Traits.Daylight }) > 0:
		return part{}, true
	case in.BrighterThan > 0:
		return part{never: true, why: "the room has no daylight sensor that could tell it is above " + lux(in.BrighterThan)}, true
	}
	return part{always: true, why: "the room has no daylight sensor, and without one it counts as dark"}, true
}

// peoplePart: a presence intent that only waits for people to leave acts when
// the room is vacant.
func peoplePart(_ *rule.Facts, in *domain.Intent) (part, bool) {
	if in.People == "" {
		return part{}, false
	}
	leaving := in.Kind == domain.ByPresence && !in.Enters
	return part{never: leaving && in.People == domain.PeopleIn, always: leaving && in.People == domain.PeopleGone, why: "it acts when the room has become vacant"}, true
}

// partitionPart leaves the partition to rules of its own.
func partitionPart(_ *rule.Facts, in *domain.Intent) (part, bool) {
	return part{}, in.Partition != ""
}

// first gives the first part that is as asked.
func first(list []part, want func(part) bool) (part, bool) {
	i := slices.IndexFunc(list, want)
	if i < 0 {
		return part{}, false
	}
	return list[i], true
}

func never(p part) bool  { return p.never }
func always(p part) bool { return p.always }

// every tells that all parts are as asked, and that there is one.
func every(list []part, want func(part) bool) bool {
	return len(list) > 0 && !slices.ContainsFunc(list, func(p part) bool { return !want(p) })
}
