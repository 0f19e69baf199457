package review

import (
	"fmt"
	"strings"
	"time"

	"scopewright/domain"
	"scopewright/web/ui"
)

const timeFormat = time.RFC3339

// talk is the checklist of one place, ready to print.
type talk struct {
	Path     string // of the page: verdicts and answers are posted below it
	Subjects []subject
	Tally    tally
	Named    bool // the person has said who they are
	Empty    string
}

type subject struct {
	Title string
	Items []item
}

// item is one question.
type item struct {
	ID, DOM, Path string
	Number        int
	Text          string
	Verdict       domain.Verdict
	Comment       string
	Said, By      string // "agreed", and by whom
	Answer        string
	AnswerBy      string
	Open          bool
	Steps         []step
	Seen          domain.ID

	// After a refusal: why, and what was typed.
	Error                     string
	TypedComment, TypedAnswer string
}

type step struct{ When, Name, Text string }

func newTalk(p *place, named bool) talk {
	t := talk{Path: p.path(), Tally: newTally(p), Named: named}
	for i := range p.opinions {
		line := newItem(p, &p.opinions[i])
		line.Number = i + 1
		title := p.opinions[i].Item.Subject
		if n := len(t.Subjects); n == 0 || t.Subjects[n-1].Title != title {
			t.Subjects = append(t.Subjects, subject{Title: title})
		}
		s := &t.Subjects[len(t.Subjects)-1]
		s.Items = append(s.Items, line)
	}
	return t
}

func newItem(p *place, o *domain.Opinion) item {
	line := item{
		ID: string(o.Item.ID), DOM: "item-" + string(o.Item.ID), Path: p.path(), Text: o.Item.Text,
		Verdict: o.Verdict, Open: o.Open(), Seen: o.Last(), Number: p.number(o),
	}
	if o.By != nil {
		line.Comment, line.Said, line.By = o.By.Comment, saidWords[o.Verdict], o.By.Name+", "+ui.Day(o.By.At)
	}
	if o.Answer != nil {
		line.Answer, line.AnswerBy = o.Answer.Answer, o.Answer.Name+", "+ui.Day(o.Answer.At)
	}
	for _, s := range o.Steps {
		line.Steps = append(line.Steps, step{ui.Moment(s.At), s.Name, stepText(s)})
	}
	line.TypedComment = line.Comment
	return line
}

func (p *place) number(o *domain.Opinion) int {
	for i := range p.opinions {
		if &p.opinions[i] == o {
			return i + 1
		}
	}
	return 0
}

var saidWords = map[domain.Verdict]string{domain.Agree: "agreed", domain.Object: "objected", domain.NotApplicable: "called not applicable"}

func stepText(s domain.Review) string {
	if s.Answer != "" {
		return "answered: " + s.Answer
	}
	text := saidWords[s.Verdict]
	if s.Comment != "" {
		text += ": " + s.Comment
	}
	return text
}

// tally is how far the review of a place is.
type tally struct {
	Agreed, Objected, NotApplicable, Left, Of int
	Unanswered                                int // objections without an answer
}

func newTally(p *place) tally {
	c := domain.CountOpinions(p.opinions)
	t := tally{c.Agreed, c.Objected, c.NotApplicable, c.Open, len(p.opinions), 0}
	for i := range p.opinions {
		if o := &p.opinions[i]; o.Open() && o.Answer == nil {
			t.Unanswered++
		}
	}
	return t
}

func (t tally) done() int { return t.Of - t.Left }

func (t tally) words() string {
	list := []string{fmt.Sprintf("%d of %d looked at", t.done(), t.Of)}
	for _, part := range []struct {
		n    int
		word string
	}{{t.Agreed, "agreed"}, {t.Objected, "objected to"}, {t.NotApplicable, "not applicable"}} {
		if part.n > 0 {
			list = append(list, fmt.Sprintf("%d %s", part.n, part.word))
		}
	}
	return strings.Join(list, ", ")
}

// verdictID gives the id of a radio button.
func (i item) verdictID(v domain.Verdict) string {
	return i.DOM + "-" + strings.ReplaceAll(string(v), " ", "-")
}
