package energycode

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
)

// Answer is what one check says of a room.
type Answer struct {
	Control  Control
	Title    string
	Duty     Duty
	Verdict  Verdict
	Required string   // what the code asks for
	Provided string   // what the room has, by which device and intent
	Faults   []string // what is short, and what to do
	Missing  []string // what has to be known first
	Figures  []Figure
	Basis    []Basis
	Open     bool   // the pack, not the room, leaves the question open
	Caution  string // life safety comes first
	Claim    *Claim // the exception that a person claims

	said []tagged // of loads, not yet put together
}

// tagged is one thing said of several loads.
type tagged struct {
	fault bool
	text  string
	tags  []string
}

// Figure is one number held against one of the code's.
type Figure struct {
	Name     string
	Measured float64
	Sign     Sign
	Limit    float64
	Unit     string
}

// Keeps tells whether the number keeps the code's.
func (f Figure) Keeps() bool { return f.Sign.Keeps(f.Measured, f.Limit) }

// Margin is what is left to the limit, below 0 where it is broken.
func (f Figure) Margin() float64 {
	if f.Sign == AtMost || f.Sign == LessThan {
		return f.Limit - f.Measured
	}
	return f.Measured - f.Limit
}

// Clause gives the clauses that the answer rests on.
func (a *Answer) Clause() string { return clauses(a.Basis) }

// Mark gives the weakest mark of what the answer rests on.
func (a *Answer) Mark() Mark { return weakest(a.Basis).Mark }

// MarkWords says how sure the answer's figures are.
func (a *Answer) MarkWords() string { return weakest(a.Basis).Words() }

// Notes gives what was noted beside the figures.
func (a *Answer) Notes() []string { return notes(a.Basis) }

// Sentence says the answer in full: the verdict, then why.
func (a *Answer) Sentence() string {
	s := a.Title + ": " + string(a.Verdict) + "."
	for _, why := range a.Faults {
		s += " " + why
	}
	if len(a.Missing) > 0 {
		s += " To be known first: " + strings.Join(a.Missing, "; ") + "."
	}
	return s
}

// need adds what the code asks for to the answer's words.
func (a *Answer) need(format string, args ...any) {
	if a.Required != "" {
		a.Required += "; "
	}
	a.Required += fmt.Sprintf(format, args...)
}

// has adds what the room has to the answer's words.
func (a *Answer) has(format string, args ...any) {
	if a.Provided != "" {
		a.Provided += "; "
	}
	a.Provided += fmt.Sprintf(format, args...)
}

// hasOf says what one load has; loads of which the same is said come together:
// "L1 and L2: off ...".
func (a *Answer) hasOf(tag, text string) { a.sayOf(false, tag, text) }

// faultOf says what is short of one load.
func (a *Answer) faultOf(tag, text string) { a.sayOf(true, tag, text) }

func (a *Answer) sayOf(fault bool, tag, text string) {
	at := slices.IndexFunc(a.said, func(t tagged) bool { return t.fault == fault && t.text == text })
	if at < 0 {
		a.said, at = append(a.said, tagged{fault: fault, text: text}), len(a.said)
	}
	a.said[at].tags = append(a.said[at].tags, tag)
}

// gather puts what was said of loads into the answer's words.
func (a *Answer) gather() {
	for _, t := range a.said {
		if t.fault {
			a.fault("%s: %s", tagWords(t.tags), t.text)
		} else {
			a.has("%s: %s", tagWords(t.tags), t.text)
		}
	}
	a.said = nil
}

func (a *Answer) fault(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !slices.Contains(a.Faults, s) {
		a.Faults = append(a.Faults, s)
	}
}

func (a *Answer) miss(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !slices.Contains(a.Missing, s) {
		a.Missing = append(a.Missing, s)
	}
}

func (a *Answer) rest(b Basis) {
	if !slices.Contains(a.Basis, b) {
		a.Basis = append(a.Basis, b)
	}
}

// hold notes a figure and tells whether it keeps the parameter.
func (a *Answer) hold(name string, v float64, p *Parameter) bool {
	f := Figure{name, v, p.Sign, p.Value, p.Unit}
	a.Figures = append(a.Figures, f)
	return f.Keeps()
}

// settle gives the verdict: a fault outweighs what is missing.
func (a *Answer) settle() {
	a.gather()
	switch {
	case a.Verdict != "":
	case len(a.Faults) > 0:
		a.Verdict = DoesNotMeet
	case len(a.Missing) > 0:
		a.Verdict = CannotTell
	default:
		a.Verdict = Meets
	}
}

// skip says that the check does not apply.
func (a *Answer) skip(format string, args ...any) {
	a.Verdict = NotAsked
	a.has(format, args...)
}

// many gives "1 zone", "3 zones".
func many(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// tagWords joins some tags: "L1, L2 and L3"; several alike are said once.
func tagWords(tags []string) string {
	var out []string
	for _, t := range tags {
		if strings.TrimSpace(t) == "" {
			t = "(no tag)"
		}
		if !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return domain.JoinWords(out)
}
