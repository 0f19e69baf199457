package findings

import (
	"bufio"
	"fmt"
	"io"

	"scopewright/domain"
	"scopewright/validate/rule"
)

// Text writes the report for people: a line a finding under its room, and the
// count at the end. Severity is a word, never a color.
func (r *Report) Text(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintln(out, name(r.Project))
	var room *domain.Room
	for i := range r.Lines {
		l := &r.Lines[i]
		if i == 0 || l.Room != room {
			room = l.Room
			fmt.Fprintf(out, "\n%s\n", place(room))
		}
		fmt.Fprintf(out, "  %-8s %s: %s\n", word(&l.Finding), l.Rule, l.Message)
		if l.Waiver != nil {
			fmt.Fprintf(out, "           waived by %s on %s: %s\n", l.Waiver.Name, l.Waiver.Date, l.Waiver.Reason)
		}
		if l.Lapsed != nil {
			fmt.Fprintf(out, "           the waiver by %s on %s has lapsed: the numbers got worse\n", l.Lapsed.Name, l.Lapsed.Date)
		}
	}
	fmt.Fprintf(out, "\n%s\n", r.Summary())
	if x := r.Explored; x != nil {
		fmt.Fprintf(out, "Explored: %s of what rooms can come to.\n", rule.Many(x.States, "state"))
		for _, room := range x.Unended {
			fmt.Fprintf(out, "%s has more states than were looked at: what is not found in it may yet be there.\n", room.Label())
		}
	}
	return out.Flush()
}

func name(p *domain.Project) string {
	if p.Number == "" {
		return p.Name
	}
	return p.Number + " " + p.Name
}

func place(r *domain.Room) string {
	if r == nil {
		return "The project as a whole"
	}
	return r.Label()
}

func word(f *rule.Finding) string {
	if f.Waived() {
		return "waived"
	}
	return f.Severity.Word()
}
