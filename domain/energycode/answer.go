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
	Loads    []domain.ID // of which something is short; nil: of none in particular
	Open     bool        // the pack, not the room, leaves the question open
	Outside  int         // how much of what is missing no design of a room can say, or another answer asks for
	Beside   string      // what somebody should know though the check is met
	Caution  string      // life safety comes first
	Claim    *Claim      // the exception that a person claims

	said  []tagged // of loads, not yet put together
	brief bool     // only the verdict is wanted: no words are made
	open  int      // how much is missing, where no words are made
}

// Mendable tells that the room's design can change the answer: it does not meet the
// check, or something is missing that the room can state.
func (a *Answer) Mendable() bool {
	switch a.Verdict {
	case DoesNotMeet:
		return true
	case CannotTell:
		return !a.Open && a.Outside < max(len(a.Missing), a.open)
	}
	return false
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

	Asks bool // decides whether the check is asked: not to keep it is no fault
}

// Broken gives the first number that does not keep the code's, nil where all do.
func (a *Answer) Broken() *Figure {
	for i := range a.Figures {
		if f := &a.Figures[i]; !f.Asks && !f.Keeps() && f.Margin() < 0 {
			return f
		}
	}
	return nil
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
	if a.Beside != "" {
		s += " " + a.Beside
	}
	if len(a.Missing) > 0 {
		s += " To be known first: " + a.MissingWords() + "."
	}
	return s
}

// MissingWords says what has to be known first, each thing once.
func (a *Answer) MissingWords() string {
	var out []string
	for _, m := range a.Missing {
		if !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return strings.Join(out, "; ")
}

// need adds what the code asks for to the answer's words.
func (a *Answer) need(format string, args ...any) {
	if a.brief {
		return
	}
	if a.Required != "" {
		a.Required += "; "
	}
	a.Required += fmt.Sprintf(format, args...)
}

// has adds what the room has to the answer's words.
func (a *Answer) has(format string, args ...any) {
	if a.brief {
		return
	}
	if a.Provided != "" {
		a.Provided += "; "
	}
	a.Provided += fmt.Sprintf(format, args...)
}

// hasOf says what one load has; loads of which the same is said come together:
// "L1 and L2: off ...".
func (a *Answer) hasOf(tag, text string) { a.sayOf(false, tag, text) }

// faultOf says what is short of one load.
func (a *Answer) faultOf(l *Load, text string) {
	if !a.brief && !slices.Contains(a.Loads, l.ID) {
		a.Loads = append(a.Loads, l.ID)
	}
	a.sayOf(true, l.Tag, text)
}

func (a *Answer) sayOf(fault bool, tag, text string) {
	if a.brief {
		if fault {
			a.Faults = unsaid
		}
		return
	}
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

// unsaid stands for faults of an answer that has no words.
var unsaid = []string{""}

func (a *Answer) fault(format string, args ...any) {
	if a.brief {
		a.Faults = unsaid
		return
	}
	if s := fmt.Sprintf(format, args...); !slices.Contains(a.Faults, s) {
		a.Faults = append(a.Faults, s)
	}
}

func (a *Answer) miss(format string, args ...any) {
	if a.brief {
		a.Missing, a.open = unsaid, a.open+1
		return
	}
	if s := fmt.Sprintf(format, args...); !slices.Contains(a.Missing, s) {
		a.Missing = append(a.Missing, s)
	}
}

// outside says what has to be known first and what no design of a room can say, or
// another answer asks for.
func (a *Answer) outside(format string, args ...any) {
	before := len(a.Missing)
	a.miss(format, args...)
	if a.brief || len(a.Missing) > before {
		a.Outside++
	}
}

// concern takes over which loads another answer is about.
func (a *Answer) concern(b *Answer) {
	for _, id := range b.Loads {
		if !slices.Contains(a.Loads, id) {
			a.Loads = append(a.Loads, id)
		}
	}
}

// missToo takes over what another answer misses.
func (a *Answer) missToo(b *Answer) {
	a.Missing, a.Outside, a.open = append(a.Missing, b.Missing...), a.Outside+b.Outside, a.open+b.open
}

func (a *Answer) rest(b Basis) {
	if !a.brief && !slices.Contains(a.Basis, b) {
		a.Basis = append(a.Basis, b)
	}
}

// hold notes a figure and tells whether it keeps the parameter.
func (a *Answer) hold(name string, v float64, p *Parameter) bool {
	if a.brief {
		return p.Sign.Keeps(v, p.Value)
	}
	f := Figure{Name: name, Measured: v, Sign: p.Sign, Limit: p.Value, Unit: p.Unit}
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

// tagWord gives a tag, or words for a thing that has none.
func tagWord(tag string) string {
	if strings.TrimSpace(tag) == "" {
		return "(no tag)"
	}
	return tag
}

// tagWords joins some tags: "L1, L2 and L3"; several alike are said once.
func tagWords(tags []string) string {
	if len(tags) == 1 {
		return tagWord(tags[0])
	}
	var out []string
	for _, t := range tags {
		if t = tagWord(t); !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return domain.JoinWords(out)
}
