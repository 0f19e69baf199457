package plan

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

// cautionDaylight stands with everything that is said of daylight.
var cautionDaylight = domain.Caution{Title: "Daylight is predicted", Text: "Reckoned for an overcast sky from what the plan and the limits state. Furniture, people, blinds, trees and dirt beyond the limits' are not in it, and real skies differ from this one by half or double. Measure on site before a level or a saving rests on it."}

// cautionZones stands with zones of an energy code.
var cautionZones = domain.Caution{Title: "Energy code", Text: energycode.Notice}

func dayLegend(p *domain.Project, l look) legend {
	switch l.aspect {
	case ofFactor:
		return factorLegend(p)
	case ofSensors:
		return sensorLegend(p)
	}
	return zoneLegend(p, l.code)
}

func zoneLegend(p *domain.Project, chosen string) legend {
	code, own := zoneRules(p, chosen)
	by := "chosen here, as the project names no energy code with such rules"
	if own {
		by = "as the project's energy code has them"
	}
	return legend{
		Caution: cautionZones,
		Steps:   []legendStep{{hatchPrimary, "primary zone"}, {hatchSecondary, "secondary zone"}, {hatchToplit, "toplit zone"}},
		Marks:   []legendMark{{"lamp-in", "luminaire within one zone"}, {"lamp-half", "straddles an edge"}, {"lamp-out", "outside"}, {"glass", "glass that counts"}},
		Notes: []string{
			"Rules of " + code.Name + ", " + by + ". " + code.Basis,
			"A luminaire counts with all of its watts to one zone: " + counting(&code.Rules) + " Only general lighting counts.",
			assumedNote(p, domain.WindowSill, domain.WindowHead, domain.PartitionHeight, domain.CeilingHeight),
		},
	}
}

func counting(r *daylight.ZoneRules) string {
	if r.HalfCounts {
		return "where at least half of it hangs."
	}
	if r.SideFirst {
		return "where any part of it is, the primary one first, then toplit, then secondary."
	}
	return "where any part of it is, toplit first, then primary, then secondary."
}

func factorLegend(p *domain.Project) legend {
	out := legend{Caution: cautionDaylight, Marks: []legendMark{{"glass", "glass that counts"}}}
	for i, b := range bands {
		text := b.text
		switch {
		case i == 0:
			text += ", under " + lightOf(bands[1].from, p.Units)
		default:
			text += ", from " + lightOf(b.from, p.Units)
		}
		out.Steps = append(out.Steps, legendStep{b.hatch, text})
	}
	out.Notes = []string{
		"Daylight factor: what the work plane gets of the light outdoors, under the CIE overcast sky. Light beside it: under " + units.Light(outdoors, p.Units) + " outdoors, a round figure of such a sky. Guide values for a room's mean: 2 % looks lit by day for the most part, 5 % needs no lamps by day (BS 8206-2, from memory).",
		"Straight from the sky, point by point; from what stands outside, by the altitude that a window states; reflected inside as one mean of the room (split flux, from memory). Glass that gives on other rooms brings no daylight.",
		assumedNote(p, domain.GlassTransmittance, domain.GlazedShare, domain.GlassMaintenance, domain.WindowSill, domain.WindowHead, domain.ReflectanceCeiling, domain.ReflectanceWalls, domain.ReflectanceFloor,
			domain.ReflectanceGlass, domain.ReflectanceGround, domain.OutsideLuminance, domain.PartitionHeight, domain.CeilingHeight, domain.WorkPlane, domain.DaylightGrid),
	}
	return out
}

func sensorLegend(p *domain.Project) legend {
	l := daylight.PlaceLimitsOf(p)
	return legend{
		Caution: cautionDaylight,
		Marks:   []legendMark{{"seen", "sensor, placed well"}, {"unseen", "badly placed"}, {"look", "glass in its view"}, {"away", "hidden, or out of its view"}, {"facing", "faces that way"}, {"reach", "what a closed loop sees of the work plane"}, {"glass", "glass that counts"}},
		Notes: []string{
			fmt.Sprintf("An open loop hangs %s to %s from the glass, faces it within %s\u00b0, and has no lamps before it. A closed loop has no glass in its view (%s\u00b0 where its type states none) and a task within %s of it.",
				units.Length(l.OpenNearest, p.Units), units.Length(l.OpenFarthest, p.Units), units.Trim(l.OpenAside, 0), units.Trim(l.ClosedView, 0), units.Length(l.ClosedTask, p.Units)),
			fmt.Sprintf("Either acts on loads that one facade lights and that lie within %s of depth: a closed loop on all as one, an open one on each.", units.Length(l.RowDepth, p.Units)),
			assumedNote(p, domain.OpenLoopNearest, domain.OpenLoopFarthest, domain.OpenLoopAside, domain.ClosedLoopView, domain.ClosedLoopTask, domain.DaylightRowDepth),
		},
	}
}

// assumedNote lists the limits that were read, each with its source.
func assumedNote(p *domain.Project, ids ...domain.LimitID) string {
	var parts []string
	for _, id := range ids {
		l := p.Limits.Find(id)
		parts = append(parts, strings.ToLower(l.Title[:1])+l.Title[1:]+" "+l.Text(p.Units)+" ("+l.Source+")")
	}
	return "Limits of the project that hold here: " + strings.Join(parts, "; ") + "."
}
