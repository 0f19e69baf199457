package paperwork

import (
	"fmt"

	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// RoomFacts asks for the area and use of a room that has a design.
var RoomFacts = rule.Rule{
	ID: "paperwork-room-facts", Title: "Room without area or use", Severity: rule.Info, Scope: rule.OfRoom,
	Why:     "Without its area nothing can be checked against the size of the room; without its use nobody can tell what the code asks.",
	Source:  commonPractice,
	Example: "A designed room with area and use passes; with one of the two missing it is noted. Rooms with no design yet are left out.",
	Check: func(f *rule.Facts) []rule.Finding {
		if f.Design.Empty() || f.Room.Area > 0 && f.Room.Use != "" {
			return nil
		}
		out := rule.Finding{}
		lacks := "area"
		switch {
		case f.Room.Area > 0:
			lacks = "use"
		case f.Room.Use == "":
			lacks = "area and use"
		}
		if f.Room.Area == 0 {
			out.Subjects = append(out.Subjects, rule.Subject{Part: "facts", ID: "area_m2", Tag: "Area"})
		}
		if f.Room.Use == "" {
			out.Subjects = append(out.Subjects, rule.Subject{Part: "facts", ID: "use", Tag: "Use"})
		}
		out.Key = lacks
		out.Message = fmt.Sprintf("Room %s has no %s: fill it in, so that it can be checked.", f.Room.Number, lacks)
		return []rule.Finding{out}
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("facts/area_m2", "") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}
