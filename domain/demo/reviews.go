package demo

import (
	"fmt"
	"strings"

	"scopewright/domain"
)

// said is one step of the talk between reviewer and designer, who are invented
// and have roles for names.
type said struct {
	room    string // its number; empty: the project
	item    string // words of the checklist's question
	at      string
	name    string
	verdict domain.Verdict
	comment string
	answer  string
}

const (
	designer = "A. Designer"
	reviewer = "R. Reviewer"
)

// talk has an objection that was settled, one that is open with an answer, and
// one that is open without.
var talk = []said{
	{"", "brief from the owner", "2026-03-02T09:10:00Z", reviewer, domain.Agree, "Brief of 2026-02-12, three pages.", ""},
	{"", "code, its edition", "2026-03-02T09:12:00Z", reviewer, domain.Object, "The edition is still open. Nothing can be permitted on it.", ""},
	{"", "code, its edition", "2026-03-04T15:30:00Z", designer, "", "", "Asked the designer of record on 2026-03-04. All numbers here are placeholders until then."},
	{"", "like buttons in like order", "2026-03-02T09:20:00Z", reviewer, domain.Agree, "", ""},
	{"201", "small movements", "2026-03-02T10:05:00Z", reviewer, domain.Object, "One sensor does not see the last row when people write.", ""},
	{"201", "small movements", "2026-03-05T08:40:00Z", designer, "", "", "Second sensor added in the rear third, in typical CR-1: all classrooms have it now."},
	{"201", "small movements", "2026-03-06T11:00:00Z", reviewer, domain.Agree, "Seen, thank you.", ""},
	{"201", "button's label", "2026-03-02T10:08:00Z", reviewer, domain.Agree, "", ""},
	{"201", "room divides", "2026-03-02T10:09:00Z", reviewer, domain.NotApplicable, "", ""},
	{"205", "delay what use", "2026-03-02T10:30:00Z", reviewer, domain.Agree, "30 min suits written exams.", ""},
	{"301", "inside the limits", "2026-03-02T11:15:00Z", reviewer, domain.Object, "40 devices in one area. Where will it be split?", ""},
	{"301", "inside the limits", "2026-03-05T09:05:00Z", designer, "", "", "Along column 4, into an east and a west area. Waiting for the furniture plan."},
	{"106", "each state of the partition", "2026-03-02T11:40:00Z", reviewer, domain.Object, "What happens to half B when the wall closes again?", ""},
}

func reviews(p *domain.Project) []domain.Review {
	var out []domain.Review
	for i, s := range talk {
		r := domain.Review{ID: domain.ID(fmt.Sprintf("review-%02d", i+1)), ItemID: itemAsking(p.Checklist, s.item), At: s.at, Name: s.name, Verdict: s.verdict, Comment: s.comment, Answer: s.answer}
		if s.room != "" {
			r.RoomID = roomID(s.room)
		}
		out = append(out, r)
	}
	return out
}

func itemAsking(list []domain.ChecklistItem, words string) domain.ID {
	for i := range list {
		if strings.Contains(list[i].Text, words) {
			return list[i].ID
		}
	}
	panic("demo: no question of the checklist holds the words " + words)
}

// Sign puts the reviewer's name under two classrooms as they are now, and under
// a third as it was before a sensor was added to it, so that it is stale. hash
// is what sign-offs bind to.
func Sign(s *domain.Scope, hash func(*domain.Project, *domain.Resolved) string) {
	for i, number := range []string{"201", "203", "208"} {
		r := roomNumbered(s, number).Clone()
		if number == "208" {
			r.Exceptions = nil
		}
		resolved, err := s.Resolve(r)
		if err != nil {
			panic(fmt.Sprintf("demo: %v", err))
		}
		s.SignOffs = append(s.SignOffs, domain.SignOff{ID: domain.ID(fmt.Sprintf("sign-off-%d", i+1)), RoomID: r.ID, Name: reviewer, Role: "Reviewer",
			At: fmt.Sprintf("2026-03-09T14:%02d:00Z", 10+i), Hash: hash(&s.Project, resolved)})
	}
}

func roomNumbered(s *domain.Scope, number string) *domain.Room {
	for i := range s.Rooms {
		if s.Rooms[i].Number == number {
			return &s.Rooms[i]
		}
	}
	panic("demo: there is no room " + number)
}

func roomID(number string) domain.ID { return domain.ID("room-" + strings.ToLower(number)) }
