package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/radio"
	"scopewright/domain/units"
)

// overlayRow is a line of the list beside an overlay.
type overlayRow struct {
	ID    string
	Title string
	Value string
	More  string
	Grade grade  // zero: none
	A, B  string // keys of the devices of a link, which the line explains
	Key   string // of what else it is about
	At    string // where that is
	Zone  *zoneButton
}

// zoneButton sets what a load states of its window zone to what the plan shows.
type zoneButton struct {
	Room, Load string
	Zone, Text string
}

// grade is a judgement as a badge: its color and its words.
type grade struct{ class, word string }

// rows gives lines as parts of the page.
func rows(list ...overlayRow) *group {
	out := &group{}
	for _, r := range list {
		r.ID = "over-" + r.ID
		*out = append(*out, entry{r.ID, asMarkup(overlayLine(r))})
	}
	return out
}

// legend says what an overlay means and what was assumed.
type legend struct {
	Steps   []legendStep
	Marks   []legendMark
	Notes   []string
	Caution domain.Caution
}

type legendStep struct {
	Hatch hatch
	Text  string
}

// legendMark explains a line or a sign by its name in overlay.templ.
type legendMark struct{ Sign, Text string }

func legendOf(p *domain.Project, l look) legend {
	switch l.show {
	case ofSight:
		return sightLegend(p, l.small)
	case ofDaylight:
		return dayLegend(p, l)
	}
	return marginLegend(p)
}

func marginLegend(p *domain.Project) legend {
	s := radio.SettingsOf(p)
	needed, byProbability := s.Needed()
	why := "the limit"
	if byProbability {
		why = fmt.Sprintf("to be up with %s %%", units.Trim(100*s.Probability, 1))
	}
	n, a := decibels(needed), decibels(s.Advice)
	out := legend{Caution: domain.CautionPrediction, Steps: []legendStep{{hatchBad, "under " + n + ", " + why + ": too weak"}}}
	if needed < s.Advice {
		out.Steps = append(out.Steps, legendStep{hatchFair, n + " to " + a + ": little reserve"})
	}
	out.Steps = append(out.Steps, legendStep{hatchGood, decibels(max(needed, s.Advice)) + " and more: good"})
	out.Marks = []legendMark{{"link-bad", "too weak a link"}, {"link-fair", "little reserve"}, {"link-good", "good"}, {"hop", "links to the gateway"}, {"off", "no way to it"}}
	out.Notes = []string{
		fmt.Sprintf("Margin of the best router to the room's weakest battery device, held %s above the floor; one whose type states no radio sends with %s dBm and hears down to %s dBm.",
			units.Nearly(units.Metres(p.Limits.Value(domain.StationHeight)), p.Units), units.Trim(s.Radio.Power, 1), units.Trim(s.Radio.Sensitivity, 1)),
		fmt.Sprintf("Free space over the straight line in space at 2450 MHz, and what the line goes through: walls by their material (unknown: %s), shut doors %s, panes %s, a ceiling %s.",
			decibels(s.Walls.Wall), decibels(s.Walls.Door), decibels(s.Walls.Pane), decibels(s.Ceiling)),
		fmt.Sprintf("Devices hang at the height that they state, else at that of their kind of mounting. Furniture, people and reflections are in a spread of %s about each loss.", decibels(s.Sigma)),
	}
	return out
}

func sightLegend(p *domain.Project, small bool) legend {
	height := func(id domain.LimitID) string { return units.Nearly(units.Metres(p.Limits.Value(id)), p.Units) }
	motion := "A person who walks counts as seen where any part of the body is, up to " + height(domain.StandingHeight) + ". Seats: small motion of a person who sits, " + height(domain.SeatedHeight) + " above the floor."
	if small {
		motion = "Small motion of a person who sits, " + height(domain.SeatedHeight) + " above the floor. Entrances: a person who walks in."
	}
	return legend{
		Caution: domain.CautionPrediction,
		Steps:   []legendStep{{hatchBad, "seen by no sensor"}, {hatchOne, "by one"}, {hatchGood, "by two or more"}, {hatchLeak, "seen beyond a door or gap"}},
		Marks:   []legendMark{{"seen", "seat or entrance, seen"}, {"unseen", "unseen"}, {"reach", "pattern, nothing in its way"}},
		Notes: []string{
			motion,
			fmt.Sprintf("Doors are shut and glass hides, but for what lies beyond a door: there it stands open. Partitions hide up to their own height, else %s. Furniture is not in it.", height(domain.PartitionHeight)),
			fmt.Sprintf("Cells of %s, each as its center; sensors at the height that they state, else at that of their kind of mounting.", height(domain.SightCell)),
		},
	}
}
