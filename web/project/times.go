package project

import (
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
)

// place is one class in the order of priority.
type place struct {
	Class    domain.Class
	Note     string // why it does not move
	Up, Down bool   // whether it may
}

func places(p *domain.Project) []place {
	order := p.Order()
	out := make([]place, len(order))
	for i, c := range order {
		out[i] = place{Class: c, Up: i > 1, Down: i < len(order)-2}
		switch c {
		case domain.ClassEmergency:
			out[i].Note = "stays first, so that locks hold"
		case domain.ClassDaylight:
			out[i].Note = "stays last: it trims what the others ask for"
		}
	}
	return out
}

func orderText(order []place) string {
	words := make([]string, len(order))
	for i := range order {
		words[i] = string(order[i].Class)
	}
	return strings.Join(words, ", ")
}

// typicalDays says what the calendar of modes makes of three kinds of day.
func typicalDays(p *domain.Project) []string {
	if len(p.Calendar) == 0 {
		return []string{"No line yet: all rooms stay in mode normal, day and night. Each line puts all rooms into a mode: normal, after hours, cleaning or event."}
	}
	const monday, saturday = 0, 5
	return []string{
		"On a Monday: " + p.DayOfModes(monday, false).String(),
		"On a Saturday: " + p.DayOfModes(saturday, false).String(),
		"On a holiday that is a Monday: " + p.DayOfModes(monday, true).String(),
	}
}

func (s Screen) classUp(w http.ResponseWriter, r *http.Request)   { s.moveClass(w, r, -1, "up") }
func (s Screen) classDown(w http.ResponseWriter, r *http.Request) { s.moveClass(w, r, 1, "down") }

func (s Screen) moveClass(w http.ResponseWriter, r *http.Request, step int, word string) {
	s.change(w, r, func(p *domain.Project) (string, error) {
		class := domain.Class(r.PostFormValue("class"))
		if err := p.MoveClass(class, step); err != nil {
			return "", edits.Refusef("%w", err)
		}
		return "moved " + string(class) + " " + word + " in the order of priority", nil
	})
}
