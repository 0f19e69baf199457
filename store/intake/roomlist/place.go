package roomlist

import (
	"regexp"
	"strings"

	"scopewright/store/intake/columns"
)

var (
	storeyWords  = `(?:level|lvl|floor|storey|story|flr|fl)`
	levelThen    = regexp.MustCompile(`^` + storeyWords + ` (?:no )?0*([0-9]{1,3}[a-z]?|[a-z][0-9]{0,2})$`)
	ordinalThen  = regexp.MustCompile(`^0*([0-9]{1,3})(?:st|nd|rd|th) ` + storeyWords + `$`)
	wordThen     = regexp.MustCompile(`^([a-z]+) ` + storeyWords + `$`)
	levelShort   = regexp.MustCompile(`^l0*([0-9]{1,2})$`)
	belowGround  = regexp.MustCompile(`^(?:b|basement|basement level|sub basement) ?0*([0-9]{1,2})$`)
	parkingLevel = regexp.MustCompile(`^(?:p|parking|parking level) ?0*([0-9]{1,2})$`)
	buildingThen = regexp.MustCompile(`^(?:building|bldg|block|tower|wing|pavilion|house) \S{1,20}$`)
	thenBuilding = regexp.MustCompile(`^(?:\S{1,30} ){1,3}(?:building|bldg|block|tower|wing|pavilion|annex|house)$`)
)

var ordinals = map[string]string{
	"first": "1", "second": "2", "third": "3", "fourth": "4", "fifth": "5", "sixth": "6", "seventh": "7", "eighth": "8", "ninth": "9", "tenth": "10",
	"eleventh": "11", "twelfth": "12", "ground": "ground", "main": "main", "lower": "lower", "upper": "upper", "top": "top", "roof": "roof",
	"mezzanine": "mezzanine", "basement": "basement", "penthouse": "penthouse", "attic": "attic", "podium": "podium", "concourse": "concourse",
}

// storeyKey gives a storey's name for comparing, so that "Level 2", "LEVEL 02",
// "L2", "2nd Floor" and "Second floor" are one; known is false for a name that
// is none of the usual ones, which is compared as it is.
func storeyKey(name string) (key string, known bool) {
	plain := columns.Plain(name)
	switch plain {
	case "g", "gf", "ground", "ground level", "level g", "level 0", "level 00":
		return "ground", true
	case "roof", "mezzanine", "penthouse", "attic", "basement", "cellar", "podium", "concourse", "lower level", "upper level", "lower ground", "lower ground floor", "upper ground", "upper ground floor", "crawl space", "sub basement":
		return plain, true
	}
	for _, form := range []struct {
		is     *regexp.Regexp
		prefix string
	}{{levelThen, ""}, {ordinalThen, ""}, {levelShort, ""}, {belowGround, "b"}, {parkingLevel, "p"}} {
		if m := form.is.FindStringSubmatch(plain); m != nil {
			return form.prefix + m[1], true
		}
	}
	if m := wordThen.FindStringSubmatch(plain); m != nil && ordinals[m[1]] != "" {
		return ordinals[m[1]], true
	}
	if n := strings.TrimLeft(plain, "0"); n != "" && len(n) <= 3 && strings.Trim(n, "0123456789") == "" {
		return n, false // a bare "2" is a storey only where one is asked for
	}
	return plain, false
}

func namesBuilding(text string) bool {
	plain := columns.Plain(text)
	return buildingThen.MatchString(plain) || thenBuilding.MatchString(plain)
}

// place reads a group row: "LEVEL 2", "Building A", "Building A - Level 2",
// "Level 2: 24 rooms". ok is false for text that names neither.
func place(text string) (building, storey string, ok bool) {
	text = strings.TrimSpace(text)
	if len(text) > 100 {
		return "", "", false
	}
	if _, known := storeyKey(text); known {
		return "", text, true
	}
	if namesBuilding(text) {
		return text, "", true
	}
	parts := strings.FieldsFunc(strings.NewReplacer(" - ", "|", " – ", "|", " — ", "|", ":", "|", ",", "|", "/", "|", "(", "|", ")", "|").Replace(text), func(r rune) bool { return r == '|' })
	for _, part := range parts {
		part = strings.TrimSpace(part)
		if _, known := storeyKey(part); known && storey == "" {
			storey = part
		} else if building == "" && namesBuilding(part) {
			building = part
		}
	}
	return building, storey, building+storey != ""
}

// buildingKey gives a building's name for comparing: "Building A" and "A" are one.
func buildingKey(name string) string {
	plain := columns.Plain(name)
	for _, word := range []string{"building", "bldg"} {
		if rest := strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(plain, word+" "), " "+word)); rest != "" {
			plain = rest
		}
	}
	return plain
}
