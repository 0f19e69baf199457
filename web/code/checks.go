package code

import (
	"strings"

	"scopewright/domain/energycode"
	"scopewright/web/edits"
)

// checkView is one answer, ready to print.
type checkView struct {
	Title, Duty, Required, Provided string
	Verdict, Class                  string
	Why, Caution, Exception         string
	Clause, Sure, Mark, Notes       string
}

func newCheck(r *energycode.Row) checkView {
	return checkView{Title: r.Requirement, Duty: r.Duty, Required: orWords(r.Required), Provided: orWords(r.Provided), Verdict: r.Answer(), Class: verdictClass(r),
		Why: r.Why, Caution: r.Caution, Exception: r.Exception, Clause: r.Clause, Sure: sure(r.Mark), Mark: edits.SentenceOf(sentence(r.Mark)), Notes: edits.SentenceOf(sentence(r.Notes))}
}

// sure shortens how sure a figure is; the long words name where it was seen.
func sure(words string) string {
	first, _, _ := strings.Cut(words, " ")
	switch {
	case first == "from":
		return "from memory, confirm"
	case first == "seen":
		return "seen, confirm"
	}
	return first
}

// orWords sets the parts of a group, of which one is enough, apart by a word.
func orWords(text string) string { return strings.ReplaceAll(text, " | ", "; or ") }

func verdictClass(r *energycode.Row) string {
	switch r.Verdict {
	case energycode.Meets:
		return "ok"
	case energycode.DoesNotMeet:
		return "unmet"
	case energycode.CannotTell:
		if r.Open {
			return "open"
		}
		return "untold"
	}
	return "free"
}
