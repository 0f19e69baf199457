package ui

import (
	"time"

	"scopewright/domain"
)

// Objection is a reviewer's open objection, ready to print.
type Objection struct {
	Text     string // the question of the checklist
	By       string // "B. Reviewer, 2026-03-01"
	Comment  string
	Answer   string // the designer's, "" where there is none yet
	AnswerBy string
	Path     string // where to answer it
}

// OpenObjections gives the open objections to a room, from the steps of its
// review in the order in which they were made.
func OpenObjections(p *domain.Project, room domain.ID, steps []domain.Review) []Objection {
	var out []Objection
	for _, o := range domain.Opinions(p.Checklist, domain.AskRoom, steps) {
		if !o.Open() {
			continue
		}
		line := Objection{Text: o.Item.Text, By: o.By.Name + ", " + Day(o.By.At), Comment: o.By.Comment,
			Path: RoomReview(p.ID, room) + "#item-" + string(o.Item.ID)}
		if o.Answer != nil {
			line.Answer, line.AnswerBy = o.Answer.Answer, o.Answer.Name+", "+Day(o.Answer.At)
		}
		out = append(out, line)
	}
	return out
}

// Day gives the date of a time as the journal keeps it (RFC 3339), in the
// place where the program runs.
func Day(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Local().Format(time.DateOnly)
}

// Moment gives the date and minute of such a time.
func Moment(at string) string {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return at
	}
	return t.Local().Format("2006-01-02 15:04")
}
