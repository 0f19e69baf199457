package findings

import (
	"encoding/json"
	"io"

	"scopewright/domain"
	"scopewright/validate/rule"
)

// Format and Version name the JSON. Fields may be added under a version; none
// is taken away or changes its meaning.
const (
	Format  = "scopewright-findings"
	Version = 1
)

type document struct {
	Format   string    `json:"format"`
	Version  int       `json:"version"`
	Project  project   `json:"project"`
	Rooms    int       `json:"rooms"`
	Errors   int       `json:"errors"`
	Warnings int       `json:"warnings"`
	Infos    int       `json:"infos"`
	Waived   int       `json:"waived"`
	Findings []finding `json:"findings"`

	States  int      `json:"states_explored,omitempty"`        // in all rooms; absent: not explored
	Unended []string `json:"rooms_not_all_explored,omitempty"` // numbers of rooms with more states than were looked at
}

type project struct {
	ID     domain.ID `json:"id"`
	Number string    `json:"number"`
	Name   string    `json:"name"`
}

// finding is one finding. Room is its number and RoomID its ID, both empty for
// a finding of the project. Measured, limit and margin are null where the
// finding is not about numbers; margin is negative beyond the limit. Errors,
// warnings and infos of the document do not count waived findings.
type finding struct {
	Rule     string         `json:"rule"`
	Severity rule.Severity  `json:"severity"`
	Room     string         `json:"room"`
	RoomID   domain.ID      `json:"room_id"`
	Key      string         `json:"key"`
	Subjects []rule.Subject `json:"subjects"`
	Measured *float64       `json:"measured"`
	Limit    *float64       `json:"limit"`
	Margin   *float64       `json:"margin"`
	Unit     string         `json:"unit"`
	Message  string         `json:"message"`
	Waived   bool           `json:"waived"`
	Waiver   *waiver        `json:"waiver,omitempty"`
	Fix      string         `json:"fix,omitempty"` // what a click in the room would do
}

type waiver struct {
	Reason string `json:"reason"`
	Name   string `json:"name"`
	Date   string `json:"date"`
}

// JSON writes the report for other programs.
func (r *Report) JSON(w io.Writer) error {
	doc := document{Format: Format, Version: Version, Project: project{r.Project.ID, r.Project.Number, r.Project.Name}, Rooms: r.Rooms,
		Errors: r.Errors, Warnings: r.Warnings, Infos: r.Infos, Waived: r.Waived, Findings: make([]finding, 0, len(r.Lines))}
	for i := range r.Lines {
		doc.Findings = append(doc.Findings, plain(&r.Lines[i]))
	}
	if x := r.Explored; x != nil {
		doc.States = x.States
		for _, room := range x.Unended {
			doc.Unended = append(doc.Unended, room.Number)
		}
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(doc)
}

func plain(l *Line) finding {
	f := finding{Rule: l.Rule, Severity: l.Severity, Key: l.Key, Subjects: l.Subjects, Unit: l.Unit, Message: l.Message, Waived: l.Waived()}
	if l.Room != nil {
		f.Room, f.RoomID = l.Room.Number, l.Room.ID
	}
	if f.Subjects == nil {
		f.Subjects = []rule.Subject{}
	}
	if l.Numbers {
		f.Measured, f.Limit, f.Margin = &l.Measured, &l.Finding.Limit, &l.Margin
	}
	if l.Waiver != nil {
		f.Waiver = &waiver{l.Waiver.Reason, l.Waiver.Name, l.Waiver.Date}
	}
	if l.Fix != nil {
		f.Fix = l.Fix.Title
	}
	return f
}
