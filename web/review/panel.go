package review

import (
	"net/http"
	"strings"
	"time"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/ui"
)

// panel is what stands beside a room's checklist: its findings and its
// sign-offs.
type panel struct {
	Room     bool // false on the project's page, which has none
	Path     string
	Findings []finding
	Errors   int // neither mended nor waived
	Warnings int
	Signed   []signature
	Hash     string
	Doubts   []string // what speaks against signing now
	Who      string
	Roles    []string

	// After a refusal: why, and what was typed.
	Error               string
	Name, Role, Comment string
}

type finding struct{ Class, Word, Rule, Text, Waiver string }

// signature is one sign-off with what it is worth now.
type signature struct {
	ID              domain.ID
	Who, When, Note string
	State           string // "ok", "warning" or "waived": the class of its badge
	Word            string
	Since           []change // what happened after it, where it is stale
	More            string
	CanWithdraw     bool
}

type change struct{ When, Who, Said string }

// roles are those under which people sign (common practice, no published
// source); any other may be typed.
var roles = []string{"Reviewer", "Designer", "Checker", "Project manager", "Commissioning"}

// mostChanges is how many edits since a sign-off are listed.
const mostChanges = 12

func (s Screen) roomPanel(r *http.Request, p *place) (panel, error) {
	v := panel{Room: p.room != nil, Path: p.path(), Who: ui.Who(r), Roles: roles}
	if !v.Room {
		return v, nil
	}
	v.Hash, v.Name = p.hash, v.Who
	for i := range p.findings {
		v.Findings = append(v.Findings, newFinding(&p.findings[i]))
	}
	v.Errors, v.Warnings, _, _, _ = validate.Count(p.findings)
	v.Doubts = doubts(p, v.Errors)
	standing := map[string]bool{} // roles that a newer sign-off stands for
	for i := len(p.signOffs) - 1; i >= 0; i-- {
		o := p.signOffs[i]
		one, err := s.newSignature(r, p, o, standing[o.Role])
		if err != nil {
			return v, err
		}
		standing[o.Role] = standing[o.Role] || o.Withdrawn == ""
		v.Signed = append(v.Signed, one)
	}
	return v, nil
}

func newFinding(f *rule.Finding) finding {
	out := finding{Class: string(f.Severity), Word: f.Severity.Word(), Rule: f.Rule, Text: f.Message}
	if f.Waiver != nil {
		out.Class, out.Word = "waived", "waived "+f.Severity.Word()
		out.Waiver = f.Waiver.Reason + " (" + f.Waiver.Name + ", " + f.Waiver.Date + ")"
	}
	return out
}

// doubts says what a person who signs now signs in spite of.
func doubts(p *place, errors int) []string {
	t := newTally(p)
	var out []string
	add := func(n int, one, many string) {
		if n > 0 {
			out = append(out, domain.Count(n, one, many))
		}
	}
	add(errors, "error that is neither mended nor waived", "errors that are neither mended nor waived")
	add(t.Objected-t.Unanswered, "objection that is answered but not settled", "objections that are answered but not settled")
	add(t.Unanswered, "objection without an answer", "objections without an answer")
	add(t.Left, "question not looked at", "questions not looked at")
	return out
}

func (s Screen) newSignature(r *http.Request, p *place, o domain.SignOff, replaced bool) (signature, error) {
	out := signature{ID: o.ID, Who: o.Name + ", " + o.Role, When: ui.Moment(o.At), Note: o.Comment}
	switch {
	case o.Withdrawn != "":
		out.State, out.Word = "waived", "withdrawn "+ui.Day(o.Withdrawn)
	case replaced:
		out.State, out.Word = "waived", "replaced by a newer one"
	case o.Hash == p.hash:
		out.State, out.Word, out.CanWithdraw = "ok", "valid", true
	default:
		out.State, out.Word, out.CanWithdraw = "warning", "stale: the room changed since", true
		var err error
		if out.Since, err = s.since(r, p, o); err != nil {
			return out, err
		}
		if len(out.Since) > mostChanges {
			out.Since, out.More = out.Since[:mostChanges], "and earlier edits, in the history"
		}
	}
	return out, nil
}

// since lists the edits after a sign-off of what the room's sheet prints: of
// the room, of its typical and of the project, the newest first.
func (s Screen) since(r *http.Request, p *place, o domain.SignOff) ([]change, error) {
	signed, err := time.Parse(timeFormat, o.At)
	if err != nil {
		return nil, nil
	}
	subjects := []string{store.RoomSubject(p.roomID()), store.ProjectSubject(p.project.ID)}
	if t := p.room.Resolved.Typical; t != nil {
		subjects = append(subjects, store.TypicalSubject(t.ID))
	}
	var out []change
	seen := map[int64]bool{}
	for _, subject := range subjects {
		entries, err := s.Store.History(r.Context(), p.project.ID, store.HistoryFilter{Subject: subject, Limit: mostChanges + 1})
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if !e.At.After(signed) || e.State != store.Done || seen[e.ID] || !prints(e, p) {
				continue
			}
			seen[e.ID] = true
			out = append(out, change{e.At.Local().Format("2006-01-02 15:04"), e.Who, e.Said})
		}
	}
	return out, nil
}

// prints tells that an edit changed something that may stand on the room's
// sheet. Edits made on a project's page may be of other rooms alone.
func prints(e store.Entry, p *place) bool {
	for _, c := range e.Changes {
		part := c.Part(2)
		if strings.HasPrefix(part, "project/") || part == "rooms/"+string(p.roomID()) {
			return true
		}
		if t := p.room.Resolved.Typical; t != nil && part == "typicals/"+string(t.ID) {
			return true
		}
	}
	return false
}
