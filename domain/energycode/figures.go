package energycode

import (
	"slices"
	"strings"
	"sync"
)

// figure is how a parameter is read: in which unit and with which signs.
type figure struct {
	unit  string
	signs []Sign
}

// knownFigures gives the parameters that a worksheet may state as numbers: those of
// the built-in packs. A bound may be sharp or not, so that both signs of its
// direction are taken.
var knownFigures = sync.OnceValue(func() map[parameterKey]figure {
	out := map[parameterKey]figure{}
	for _, p := range embedded().packs {
		for _, q := range p.Parameters {
			if q.Sign == "" {
				continue
			}
			signs := []Sign{AtLeast, MoreThan}
			if q.Sign == AtMost || q.Sign == LessThan {
				signs = []Sign{AtMost, LessThan}
			}
			key := parameterKey{q.Control, q.Name}
			if _, known := out[key]; !known {
				out[key] = figure{q.Unit, signs}
			}
		}
	}
	return out
})

// figureNames lists the numbers that may be stated of a control.
func figureNames(c Control) string {
	var names []string
	for key := range knownFigures() {
		if key.control == c {
			names = append(names, key.name)
		}
	}
	if len(names) == 0 {
		return "words instead: no number of it is read"
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}

// figureWords name figures whose short names are not words; the others read as they are,
// with blanks.
var figureWords = map[string]string{
	"all_up_to":                "sensors up to which each is tested",
	"applies_over":             "area over which it applies",
	"auto_on_full_allowed":     "where coming on in full is allowed",
	"auto_on_power":            "power that comes on by itself, at most",
	"auto_on_power_least":      "power that comes on by itself, at least",
	"control_area":             "area of one control by hand",
	"control_area_large":       "area of one control by hand in a large space",
	"control_share_large":      "share of a large space under one control by hand",
	"delay":                    "delay after the last person's leaving",
	"density":                  "power density from which it is asked",
	"device_area":              "area of one sensor",
	"dim_spaces":               "kinds of space with this dimming",
	"dim_to":                   "lowest level",
	"failures":                 "share of failures from which all are tested",
	"feeder_share":             "controlled share of feeders",
	"full_off_also_meets":      "off does as well",
	"glazing_exempt":           "glazing that lets a room off",
	"installed":                "installed power from which it is asked",
	"large_space":              "area of a large space",
	"may_stay_on":              "power that may stay on",
	"override":                 "time for which a press brings light back",
	"override_area":            "area that one press brings back",
	"pair_distance":            "distance between a controlled and an uncontrolled receptacle",
	"pair_distance_large_room": "the same distance in a large room",
	"per_desk":                 "controlled receptacles at each desk",
	"primary_secondary_watts":  "power in the primary and secondary areas together",
	"primary_watts":            "power in the primary area",
	"program_area":             "area of one schedule",
	"sample":                   "share of sensors tested",
	"schedule_zone":            "area of one schedule",
	"secondary_alone_watts":    "power in the secondary area where the primary one has too little",
	"secondary_mandatory":      "secondary area asked for",
	"secondary_watts":          "power in the secondary area",
	"share":                    "controlled share of receptacles",
	"step_least":               "lowest step between off and full",
	"step_most":                "highest step between off and full",
	"sun_blocked_exempt":       "hours of blocked sun that let a room off",
	"then_off":                 "off where daylight is enough",
	"toplit_primary_watts":     "power in the toplit and primary areas together",
	"toplit_watts":             "power in the toplit area",
	"zone_area":                "area of one zone",
	"zone_power":               "power of one zone",
	"zone_watts":               "power in each daylight area",
}

// FigureWords names a figure on screens.
func FigureWords(name string) string {
	if words := figureWords[name]; words != "" {
		return words
	}
	return strings.ReplaceAll(name, "_", " ")
}
