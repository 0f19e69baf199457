package energycode

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
)

// judge holds what the checks of one room look at.
type judge struct {
	p     *Pack
	f     *Facts
	space string
	brief bool // verdicts are wanted, and no words

	daylit *DaylightAsked // worked out once
	room   [3]Answer      // to answer in where no words are made: one check may run another
	depth  int
}

// check fills an answer's words, figures and faults.
type check func(j *judge, r *Requirement, a *Answer)

// checkOf gives the check of a kind of control that a space's row may ask for. It is
// a function and no table, since a check may run another.
func checkOf(c Control) check {
	switch c {
	case LocalControl:
		return localControl
	case ManualOn:
		return manualOn
	case PartialAutoOn:
		return partialAutoOn
	case Bilevel:
		return bilevel
	case LightReduction:
		return lightReduction
	case Multilevel:
		return multilevel
	case DaylightSide:
		return daylightSide
	case DaylightTop:
		return daylightTop
	case SmallZones:
		return smallZones
	case PartialOff:
		return partialOff
	case FullOff:
		return fullOff
	case ScheduledShutoff:
		return scheduledShutoff
	case ShutoffAny:
		return shutoffAny
	case Receptacles:
		return receptacles
	case SeparateControl:
		return separateControl
	case DemandResponse:
		return demandOfRoom
	case GuestRoom:
		return guestRoom
	case ParkingGarage:
		return parkingGarage
	}
	return nil
}

// Judge answers all that a pack asks of a room in a kind of space, in the order of
// Controls, the lighting power density last. A pack without a word on the kind of
// space gives one answer that says so.
func Judge(p *Pack, space string, f *Facts) []Answer {
	if p.Space(space) == nil {
		a := Answer{Control: LocalControl, Title: "Kind of space", Duty: Unknown, Verdict: CannotTell, Required: "the kind of space picks the code's row",
			Missing: []string{"the kind of space: confirm or choose one"}}
		return []Answer{a}
	}
	j := &judge{p: p, f: f, space: space}
	var room [mostAsked]asked
	rows := j.rows(room[:0])
	out := make([]Answer, 0, len(rows)+1)
	for i := range rows {
		out = append(out, j.row(&rows[i]))
	}
	if len(out) == 1 {
		nothing := Answer{Control: LocalControl, Title: "Controls", Duty: Unknown, Verdict: CannotTell, Open: true,
			Missing: []string{fmt.Sprintf("what %s asks of this kind of space: the pack says nothing", p.Key())}}
		out = []Answer{nothing, out[0]}
	}
	return out
}

// SomeMendable tells that the room can mend some answer of Judge. It makes no words, and
// takes a fraction of the time; facts may be Brief.
func SomeMendable(p *Pack, space string, f *Facts) bool {
	if p.Space(space) == nil {
		return false
	}
	j := &judge{p: p, f: f, space: space, brief: true}
	var room [mostAsked]asked
	rows := j.rows(room[:0])
	for i := range rows {
		if a := j.row(&rows[i]); a.Mendable() {
			return true
		}
	}
	return false
}

// Mendable gives those answers of Judge that the room can mend.
func Mendable(p *Pack, space string, f *Facts) (out []Answer) {
	if p.Space(space) == nil {
		return nil
	}
	brief, full := &judge{p: p, f: f, space: space, brief: true}, &judge{p: p, f: f, space: space}
	var room [mostAsked]asked
	rows := full.rows(room[:0])
	for i := range rows {
		if a := brief.row(&rows[i]); a.Mendable() {
			out = append(out, full.row(&rows[i]))
		}
	}
	return out
}

// Unmet tells that a room does not meet what an answer is about, by other facts of the
// same room; facts may be Brief. It asks whether a way out is one.
func Unmet(p *Pack, space string, f *Facts, a *Answer) bool {
	j := &judge{p: p, f: f, space: space, brief: true}
	switch {
	case a.Duty == OneOfA || a.Duty == OneOfB:
		now := j.oneOf(a.Duty)
		return now.Verdict == DoesNotMeet
	case p.Requirement(space, a.Control) == nil:
		return false
	}
	now := j.answer(p.Requirement(space, a.Control))
	return now.Verdict == DoesNotMeet
}

// asked is one thing that a code asks of a room: a row by itself, a group of which one
// is enough, or with neither the lighting power density.
type asked struct {
	row   *Requirement
	group Duty
}

// mostAsked is how many things a code may ask of a room, power among them.
const mostAsked = 24

// rows adds what the code asks of the room, in order.
func (j *judge) rows(out []asked) []asked {
	doneA, doneB := false, false
	for _, c := range controlsOfRooms {
		switch r := j.p.Requirement(j.space, c); {
		case r == nil || r.Duty == OneOfA && doneA || r.Duty == OneOfB && doneB:
		case r.Duty == OneOfA || r.Duty == OneOfB:
			doneA, doneB = doneA || r.Duty == OneOfA, doneB || r.Duty == OneOfB
			out = append(out, asked{group: r.Duty})
		default:
			out = append(out, asked{row: r})
		}
	}
	return append(out, asked{})
}

func (j *judge) row(a *asked) Answer {
	switch {
	case a.row != nil:
		return j.answer(a.row)
	case a.group != "":
		return j.oneOf(a.group)
	}
	return j.density()
}

// answer judges one row that stands by itself.
func (j *judge) answer(r *Requirement) Answer {
	if r.Duty == NotListed && j.brief {
		return Answer{Control: r.Control, Duty: r.Duty, Verdict: NotAsked}
	}
	if r.Duty == NotListed {
		return Answer{Control: r.Control, Title: r.Control.Title(), Duty: r.Duty, Verdict: NotAsked, Basis: []Basis{r.Basis}, Provided: "not asked in this kind of space", Claim: j.claim(r.Control)}
	}
	if r.Duty == Unknown && j.brief {
		return Answer{Control: r.Control, Duty: r.Duty, Verdict: CannotTell, Open: true}
	}
	a := j.run(r)
	unstated := r.Duty == Unknown && a.Verdict == Meets && !j.p.states(r.Control)
	if unstated {
		a.Missing = append(a.Missing, "what the code asks of "+lowerFirst(r.Control.Title())+": the pack gives no figure of it")
	}
	if r.Duty == Unknown && (a.Verdict == DoesNotMeet || a.Verdict == CannotTell || unstated) {
		a.Verdict, a.Open = CannotTell, true
		a.Missing = append(a.Missing, "whether the code asks for this here: the data that was seen is blank, which is no exemption")
		a.Faults = nil
	}
	a.Claim = j.claim(r.Control)
	return a
}

// run judges what a row's control is, whatever the duty; where the row names
// another control that meets it as well, that one counts too.
func (j *judge) run(r *Requirement) Answer {
	a := j.plain(r)
	if r.Also == "" || a.Verdict == Meets {
		return a
	}
	other := *r
	other.Control, other.Also = r.Also, ""
	b := j.plain(&other)
	switch b.Verdict {
	case Meets:
		a.Outside, a.open = 0, 0
		a.Verdict, a.Faults, a.Missing, a.Figures = Meets, nil, nil, b.Figures
		a.Provided = b.Title + " instead: " + b.Provided
	case CannotTell:
		a.Verdict, a.Open = CannotTell, a.Open || b.Open
		a.missToo(&b)
	}
	if j.brief {
		return a
	}
	a.need("or %s: %s", lowerFirst(b.Title), b.Required)
	for _, x := range b.Basis {
		a.rest(x)
	}
	return a
}

func (j *judge) plain(r *Requirement) Answer {
	if j.brief && j.depth < len(j.room) {
		a := &j.room[j.depth]
		j.depth++
		*a = Answer{Control: r.Control, Duty: r.Duty, brief: true}
		j.fill(r, a)
		j.depth--
		return *a
	}
	a := Answer{Control: r.Control, Title: r.Control.Title(), Duty: r.Duty, brief: j.brief}
	a.rest(r.Basis)
	j.fill(r, &a)
	return a
}

func (j *judge) fill(r *Requirement, a *Answer) {
	if c := checkOf(r.Control); c != nil {
		c(j, r, a)
	} else {
		a.miss("how to check it: see the clause")
	}
	a.settle()
}

// oneOf judges a group of which one is enough.
func (j *judge) oneOf(d Duty) Answer {
	var all []Answer
	for _, c := range controlsOfRooms {
		r := j.p.Requirement(j.space, c)
		if r == nil || r.Duty != d {
			continue
		}
		a := j.run(r)
		if all = append(all, a); j.brief && a.Verdict == Meets {
			return Answer{Control: all[0].Control, Duty: d, Verdict: Meets}
		}
	}
	out := Answer{Control: all[0].Control, Duty: d, brief: j.brief}
	var titles, required, provided []string
	for i := range all {
		a := &all[i]
		titles, required = append(titles, lowerFirst(a.Title)), append(required, a.Required)
		if a.Provided != "" && !slices.Contains(provided, a.Provided) {
			provided = append(provided, a.Provided)
		}
		for _, b := range a.Basis {
			out.rest(b)
		}
		out.Faults, out.Figures = append(out.Faults, a.Faults...), append(out.Figures, a.Figures...)
		out.missToo(a)
		out.concern(a)
		out.Open = out.Open || a.Verdict == CannotTell && a.Open
		if a.Caution != "" {
			out.Caution = a.Caution
		}
		if c := j.claim(a.Control); c != nil {
			out.Claim = c
		}
	}
	out.Title, out.Required, out.Provided = domain.UpperFirst(strings.Join(titles, ", or ")), strings.Join(required, " | "), strings.Join(provided, " | ")
	if len(all) > 1 {
		out.Required = "one of: " + out.Required
	}
	if i := slices.IndexFunc(all, func(a Answer) bool { return a.Verdict == Meets }); i >= 0 {
		out.Open, out.Outside = false, 0
		out.Verdict, out.Provided, out.Figures, out.Faults, out.Missing = Meets, all[i].Provided, all[i].Figures, nil, nil
		return out
	}
	out.Verdict = DoesNotMeet
	if slices.ContainsFunc(all, func(a Answer) bool { return a.Verdict == CannotTell }) {
		out.Verdict = CannotTell
	}
	if len(all) == 1 && out.Verdict == DoesNotMeet {
		out.Verdict, out.Open = CannotTell, true
		out.Missing = append(out.Missing, "what else of its group would do: the pack gives this control alone")
	}
	return out
}

// parameter gives a figure that a check needs, and notes on what the answer then
// rests. Where the pack has none, the answer cannot be told.
func (j *judge) parameter(a *Answer, c Control, name string) *Parameter {
	q := j.p.Parameter(c, name)
	if q == nil && j.brief {
		a.miss("")
		a.Open = true
		return nil
	}
	if q == nil {
		a.miss("the code's figure for %q of %s: the pack gives none", FigureWords(name), lowerFirst(c.Title()))
		a.Open = true
		return nil
	}
	a.rest(q.Basis)
	return q
}

// option gives a figure that a check uses where the pack has it.
func (j *judge) option(a *Answer, c Control, name string) *Parameter {
	q := j.p.Parameter(c, name)
	if q != nil {
		a.rest(q.Basis)
	}
	return q
}

// roomArea gives the room's area in ft2, and says what is missing where it has none. To
// ask for it once is enough: the answer on power does.
func (j *judge) roomArea(a *Answer) (ft2 float64, known bool) {
	switch {
	case j.f.Area > 0:
	case a.Control == PowerDensity:
		a.miss("the room's area")
		return 0, false
	default:
		a.outside("the room's area")
		return 0, false
	}
	return squareFeet(j.f.Area), true
}

func (j *judge) claim(c Control) *Claim {
	for i := range j.f.Claims {
		if j.f.Claims[i].Control == c {
			return &j.f.Claims[i]
		}
	}
	return nil
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
