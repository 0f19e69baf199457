package energycode

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/units"
)

// ZonesOf draws a room's daylight areas on its plan by the zone rules of the pack's
// code, and counts its general lighting to them. It gives nil where there is nothing
// to draw from: no rules, no outline, or no walls on the plan. What is assumed of the
// windows, and luminaires without a place, stand as a doubt in the result. Where the
// plan shows no rooflight over the room, the toplit area is taken from the loads that
// state it.
func ZonesOf(p *Pack, project *domain.Project, r *domain.Resolved, assumed daylight.Assumed) (*Zones, error) {
	return ZonesIn(p, project, r, daylight.NewSpace(project, r, assumed))
}

// ZonesIn is ZonesOf for a room that has been read already; a nil space is one without
// an outline.
func ZonesIn(p *Pack, project *domain.Project, r *domain.Resolved, space *daylight.Space) (*Zones, error) {
	code, ok := daylight.FindZoneCode(p.ZoneRules)
	if !ok || space == nil || r.Plan == nil || len(r.Plan.Walls)+len(r.Plan.Rooflights) == 0 {
		return nil, nil
	}
	drawn, err := code.Rules.Measured(space)
	if err != nil {
		return nil, err
	}
	tally := code.Rules.Tally(&drawn, space.Luminaires)
	out := &Zones{From: "the plan, by the rules of " + code.Name}
	out.Primary, out.Secondary = zoneOf(&drawn.Primary, &tally.Primary), zoneOf(&drawn.Secondary, &tally.Secondary)
	if out.Toplit = zoneOf(&drawn.Toplit, &tally.Toplit); len(space.Rooflights) == 0 {
		out.Toplit = statedRoof(project, r)
	}
	var doubts []string
	guessed := false
	for i := range space.Windows {
		w := &space.Windows[i]
		guessed = guessed || w.Assumed
		out.Glazing += units.SquareMetres(w.A.Distance(w.B)) * units.SquareMetres(max(0, min(w.Head, space.Ceiling)-w.Sill))
	}
	if guessed {
		out.Glazing = 0
		doubts = append(doubts, "sill and head height of the windows, which the plan does not state")
	}
	if len(space.Windows) == 0 && r.Windows {
		doubts = append(doubts, "where the windows are that the room states: its plan shows none")
	}
	if loads := unhung(r); len(loads) > 0 && len(space.Windows)+len(space.Rooflights) > 0 {
		doubts = append(doubts, "where the luminaires of "+tagWords(loads)+" hang")
	}
	out.Doubt = strings.Join(doubts, "; ")
	return out, nil
}

func zoneOf(z *daylight.Zone, c *daylight.Counted) Zone {
	return Zone{Area: z.Area, Watts: c.Watts, Loads: c.Loads, Cut: z.Cut}
}

// statedRoof is the toplit area by the loads that say they hang under rooflights.
func statedRoof(p *domain.Project, r *domain.Resolved) (z Zone) {
	g := gatherer{p: p, d: &r.Design}
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if l.Kind == domain.Receptacle || l.Zone != domain.ZoneRoof || l.Layer != domain.General && l.Layer != "" {
			continue
		}
		w, _ := g.watts(l)
		z.Watts, z.Loads = z.Watts+w, append(z.Loads, l.ID)
	}
	return z
}

// unhung gives the tags of the loads whose luminaires the plan does not show.
func unhung(r *domain.Resolved) []string {
	var tags []string
	for _, id := range daylight.Unhung(r) {
		if l := r.Design.Load(id); l != nil {
			tags = append(tags, l.Tag)
		}
	}
	return tags
}

// zoneCodes lists the IDs of the zone rules that are known.
func zoneCodes() string {
	var ids []string
	for _, c := range daylight.ZoneCodes() {
		ids = append(ids, c.ID)
	}
	return strings.Join(ids, ", ")
}
