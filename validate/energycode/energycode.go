// Package energycode says where a room does not meet a check of its project's energy
// code, and what the room has to state before that can be told. It is one of the
// families of rules under validate; what the code asks is data of domain/energycode.
//
// A finding is a design aid: it gives clause and mark of the figures and never says
// that a room complies. What the code itself leaves open gives no finding, nor what no
// design of a room can say: the energy-code sheet prints both.
package energycode

import (
	"strings"

	"scopewright/domain"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

const (
	source = "the energy code chosen for the project; clause and mark stand in the finding and on the energy-code sheet"
)

// about tells which answers a rule speaks of: those on some controls that stand by
// themselves in the code's row.
func about(controls ...code.Control) func(*code.Answer) bool {
	return func(a *code.Answer) bool {
		if a.Duty == code.OneOfA || a.Duty == code.OneOfB {
			return false
		}
		for _, c := range controls {
			if a.Control == c {
				return true
			}
		}
		return false
	}
}

// anyOf tells the answers of a group of which one is enough.
func anyOf(group code.Duty) func(*code.Answer) bool {
	return func(a *code.Answer) bool { return a.Duty == group }
}

// check gives the findings of a rule: one for each answer that it speaks of and that
// the room can mend. A fix is offered for what does not meet the check.
func check(f *rule.Facts, speaks func(*code.Answer) bool, mend func(*mending)) []rule.Finding {
	c := f.Code()
	if c == nil {
		return nil
	}
	var out []rule.Finding
	for i := range c.Answers {
		a := &c.Answers[i]
		if !speaks(a) {
			continue
		}
		found := finding(f, c, a)
		if mend != nil && a.Verdict == code.DoesNotMeet {
			m := mending{f: f, c: c, a: a}
			mend(&m)
			found.Fix = m.fix()
		}
		out = append(out, found)
	}
	return out
}

// finding puts an answer into a finding: the first number that breaks the code's, what
// is short or missing, and on what that rests.
func finding(f *rule.Facts, c *rule.Code, a *code.Answer) rule.Finding {
	var out rule.Finding
	if n := a.Broken(); n != nil && (a.Verdict == code.DoesNotMeet || a.Control == code.PowerDensity) {
		out = rule.Finding{Numbers: true, Measured: n.Measured, Limit: n.Limit, Margin: n.Margin(), Unit: n.Unit}
		if n.Unit == "" {
			out.Unit = n.Name
		}
	}
	if a.Verdict == code.CannotTell {
		out.Severity = rule.Info
	}
	out.Subjects, out.Message = subjects(f, a), message(c, a)
	return out
}

func message(c *rule.Code, a *code.Answer) string {
	var said []string
	switch {
	case a.Control == code.PowerDensity && a.Beside != "": // the room is one of many that share a sum
		said = append(said, a.Title+": "+a.Beside+" Whether other rooms make up for it the building's sum says, on the energy-code page and its sheet.")
	case a.Verdict == code.CannotTell:
		said = append(said, a.Title+": cannot tell. To be known first: "+a.MissingWords()+".")
		if len(a.Faults) > 0 {
			said = append(said, "Where it is asked: "+strings.Join(a.Faults, " "))
		}
	default:
		said = append(said, a.Title+": "+strings.Join(a.Faults, " "))
	}
	if a.Caution != "" {
		said = append(said, a.Caution)
	}
	return strings.Join(append(said, basis(c, a)), " ")
}

// basis says which code speaks, where, and how sure its figures are.
func basis(c *rule.Code, a *code.Answer) string {
	s := "(" + c.Pack.Key()
	if clause := a.Clause(); clause != "" {
		s += ", " + clause
	}
	if mark := a.MarkWords(); mark != "" {
		s += ": " + mark
	}
	return s + ")"
}

// subjects names the loads of which something is short, else all that the check is
// about.
func subjects(f *rule.Facts, a *code.Answer) []rule.Subject {
	var out []rule.Subject
	for _, id := range a.Loads {
		if l := f.Load(id); l != nil {
			out = append(out, l.Subject())
		}
	}
	if len(out) > 0 {
		return out
	}
	if a.Control == code.Receptacles {
		return outlets(f)
	}
	all := a.Control == code.PowerDensity || a.Control == code.LocalControl || a.Control == code.ManualOn
	for i := range f.Loads {
		if l := &f.Loads[i]; l.Kind != domain.Receptacle && (all || general(l)) {
			out = append(out, l.Subject())
		}
	}
	if len(out) == 0 {
		out = append(out, rule.Subject{Part: "facts", ID: "space_type", Tag: "Kind of space"})
	}
	return out
}

// outlets names the receptacle loads, else the room's count of them.
func outlets(f *rule.Facts) []rule.Subject {
	var out []rule.Subject
	for i := range f.Loads {
		if l := &f.Loads[i]; l.Kind == domain.Receptacle {
			out = append(out, l.Subject())
		}
	}
	if len(out) == 0 {
		out = append(out, rule.Subject{Part: "facts", ID: "receptacles", Tag: "Receptacles"})
	}
	return out
}

func general(l *rule.Load) bool { return l.Layer == domain.General || l.Layer == "" }
