package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// WindowIndoors looks for windows whose mark does not fit the rooms beside them.
var WindowIndoors = rule.Rule{
	ID: "plan-window-indoors", Title: "Window that gives on another room, or does not", Severity: rule.Warning, Scope: rule.OfStorey,
	Limits: []domain.LimitID{domain.RoomBesideWindow},
	Why:    "Daylight comes in from outdoors alone: a window between two rooms that is taken for an outer one makes them bright where they are dark, and the other way round.",
	Source: commonPractice,
	Example: "A window in a wall of 0.12 m between two rooms is to be marked where the second room begins 0.36 m from the wall's middle, 0.3 m from its face; where it begins 0.362 m from it there is no room beside it. " +
		"Where no room is drawn on either side the rule says nothing; a room whose ceiling lies no higher than the sill is not beside the window, which looks out above it.",
	CheckStorey: func(f *rule.StoreyFacts) []rule.Finding {
		rooms := make([]domain.Footprint, len(f.Rooms))
		for i, r := range f.Rooms {
			rooms[i] = r.Footprint()
		}
		ground := domain.GroundOf(rooms...)
		var out []rule.Finding
		for i := range f.Plan.Walls {
			w := &f.Plan.Walls[i]
			for j := range w.Openings {
				if len(out) == mostFindings {
					return out
				}
				if o := &w.Openings[j]; o.Kind == domain.Window {
					out = append(out, windowMark(f, ground, w, o)...)
				}
			}
		}
		return out
	},
	FiresStorey: func() *rule.StoreyFacts { return besideWindow(0.36) },
	QuietStorey: func() *rule.StoreyFacts { return besideWindow(0.362) },
}

// besideWindow gives a window of a room whose neighbor begins so far from the
// middle of the wall.
func besideWindow(from float64) *rule.StoreyFacts {
	return storey([]domain.Wall{wallTo(6, window())}, geom.Rectangle(0, 0, 6, 4), geom.Rectangle(0, -4-from, 6, 4))
}

func windowMark(f *rule.StoreyFacts, ground *domain.Ground, w *domain.Wall, o *domain.Opening) []rule.Finding {
	beyond := units.Metres(f.Limit(domain.RoomBesideWindow))
	message, fix := "", ""
	switch stands := w.Stands(o, beyond, ground); {
	case stands == domain.BetweenRooms && !o.Indoors:
		message = fmt.Sprintf("A window in wall %d %s stands %s and is not marked: say that it gives on another room, so that no daylight is reckoned through it.", w.Seq, onPlan(f), between(f, ground, w, o))
		fix = "Mark it as giving on another room"
	case stands == domain.OnOneRoom && o.Indoors:
		message = fmt.Sprintf("A window in wall %d %s is marked as giving on another room, but a room lies %s alone: take the mark away, or draw the room on the other side.", w.Seq, onPlan(f), between(f, ground, w, o))
		fix = "Let daylight in through it"
	default:
		return nil
	}
	mark := edit.SetWall{Thing: edit.Thing{Kind: edit.OpeningThing, Wall: w.ID, ID: o.ID}, Field: "indoors", Text: map[bool]string{true: "no", false: "yes"}[o.Indoors]}
	return []rule.Finding{{Key: string(f.Storey.ID) + "/" + string(w.ID) + "/" + string(o.ID), Subjects: []rule.Subject{rule.WallSubject(w)}, Places: []geom.Point{w.Span(o).Middle()},
		Message: message, Fix: &rule.Fix{Title: fix, Gestures: []edit.Gesture{mark}}}}
}

// between names the rooms on the sides of a window: "between rooms 101 and 102",
// "within room 101", "on the side of room 101".
func between(f *rule.StoreyFacts, ground *domain.Ground, w *domain.Wall, o *domain.Opening) string {
	i, j := ground.Beside(w, o, units.Metres(f.Limit(domain.RoomBesideWindow)))
	switch {
	case i < 0:
		return "on the side of room " + f.Rooms[j].Number
	case j < 0:
		return "on the side of room " + f.Rooms[i].Number
	case i == j:
		return "within room " + f.Rooms[i].Number
	}
	return "between rooms " + f.Rooms[i].Number + " and " + f.Rooms[j].Number
}
