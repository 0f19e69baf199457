package plan

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

// FixtureOutside looks for luminaires and seats outside of their room.
var FixtureOutside = rule.Rule{
	ID: "plan-fixture-outside", Title: "Luminaire or seat outside of its room", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "What hangs or sits in another room is lit, counted and wired there.",
	Source:  commonPractice,
	Example: "A luminaire on the wall of its room passes; one 4 in outside of the outline does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		if !f.Drawn() {
			return nil
		}
		var luminaires, seats []geom.Point
		for i := range f.Room.Fixtures {
			if at := f.Room.Fixtures[i].At; !f.Room.Outline.Contains(at) {
				luminaires = append(luminaires, at)
			}
		}
		for i := range f.Room.Sitting {
			if at := f.Room.Sitting[i].At; !f.Room.Outline.Contains(at) {
				seats = append(seats, at)
			}
		}
		var out []rule.Finding
		for _, what := range []struct {
			name   string
			places []geom.Point
		}{{"luminaire", luminaires}, {"seat", seats}} {
			if n := len(what.places); n > 0 {
				one := rule.AtMost(float64(n), 0, what.name+"s")
				one.Key, one.Subjects, one.Places = what.name+"s", []rule.Subject{rule.RoomSubject(f.Room.Room)}, what.places[:min(n, mostFindings)]
				one.Message = fmt.Sprintf("Outside of the outline of room %s: %s. Move %s in, or redraw the room.", f.Room.Number, rule.Many(n, what.name), them(n))
				out = append(out, one)
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return withLuminaireAt(geom.Pt(-0.1016, 1)) },
	Quiet: func() *domaintest.Builder { return withLuminaireAt(geom.Pt(0, 1)) },
}

func withLuminaireAt(at geom.Point) *domaintest.Builder {
	b := drawn()
	b.R.Fixtures[0] = domain.Fixture{ID: b.R.Fixtures[0].ID, Load: b.R.Fixtures[0].Load, At: at}
	return b
}

func them(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}
