package energy

import "scopewright/domain"

// Profile is how a use of room is used: hours a year and the share of them in
// which it is empty.
type Profile struct {
	Day, Night float64
	Absence    float64
	Lx         float64
	Source     string
	Own        bool // the project's, not a built-in one
}

const (
	seen     = "DIN/TS 18599-10:2025, as an open transcription gives it"
	recalled = "EN 15193:2007, from memory, to be confirmed"
)

// ProfileOf gives a project's profile of a use: its own, else the built-in one. Rooms
// that state no use have that of others.
func ProfileOf(p *domain.Project, u domain.Use) Profile {
	if _, known := u.Info(); !known {
		u = "other"
	}
	if own := p.Profile(u); own != nil {
		return Profile{own.Day, own.Night, own.Absence, float64(own.Target), own.Source, true}
	}
	return BuiltIn(u)
}

// BuiltIn gives the profile to start from for a use of room. Uses that neither
// source names take the nearest, and say so.
func BuiltIn(u domain.Use) Profile {
	if p, ok := profiles[u]; ok {
		return p
	}
	return Profile{2250, 250, 0.30, 500, recalled + "; office hours and a room of few people, as the use is not listed", false}
}

var profiles = map[domain.Use]Profile{
	"office-private": {2543, 207, 0.30, 500, seen, false},
	"office-open":    {2543, 207, 0, 500, seen, false},
	"conference":     {2543, 207, 0.50, 500, seen, false},
	"classroom":      {1400, 0, 0.25, 300, seen, false},
	"retail":         {3009, 591, 0, 300, seen, false},
	"storage":        {2543, 207, 0.90, 100, seen, false},
	"break-room":     {1750, 0, 0.50, 200, seen + "; canteen; absence " + recalled, false},
	"workshop":       {2018, 52, 0.10, 500, seen, false},
	"warehouse":      {2500, 1500, 0.40, 100, recalled, false},
	"corridor":       {2250, 250, 0.40, 100, recalled, false},
	"stair":          {2250, 250, 0.20, 100, recalled, false},
	"lobby":          {2250, 250, 0, 200, recalled, false},
	"restroom":       {2250, 250, 0.90, 200, recalled, false},
	"copy-room":      {2250, 250, 0.50, 300, recalled, false},
	"electrical":     {2250, 250, 0.98, 200, recalled, false},
	"lab":            {1800, 200, 0.20, 500, recalled, false},
}
