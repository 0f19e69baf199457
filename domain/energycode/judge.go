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
	j := &judge{p, f, space}
	var out []Answer
	if p.Space(space) == nil {
		a := Answer{Control: LocalControl, Title: "Kind of space", Duty: Unknown, Verdict: CannotTell, Required: "the kind of space picks the code's row",
			Missing: []string{"the kind of space: confirm or choose one"}}
		return []Answer{a}
	}
	grouped := map[Duty]bool{}
	for _, c := range ofRooms() {
		r := p.Requirement(space, c)
		switch {
		case r == nil:
		case r.Duty == OneOfA || r.Duty == OneOfB:
			if !grouped[r.Duty] {
				grouped[r.Duty] = true
				out = append(out, j.oneOf(r.Duty))
			}
		default:
			out = append(out, j.answer(r))
		}
	}
	if len(out) == 0 {
		out = append(out, Answer{Control: LocalControl, Title: "Controls", Duty: Unknown, Verdict: CannotTell, Open: true,
			Missing: []string{fmt.Sprintf("what %s asks of this kind of space: the pack says nothing", p.Key())}})
	}
	return append(out, j.density())
}

// answer judges one row that stands by itself.
func (j *judge) answer(r *Requirement) Answer {
	a := j.run(r)
	switch r.Duty {
	case NotListed:
		a = Answer{Control: r.Control, Title: r.Control.Title(), Duty: r.Duty, Verdict: NotAsked, Basis: []Basis{r.Basis}, Provided: "not asked in this kind of space"}
	case Unknown:
		if a.Verdict == DoesNotMeet || a.Verdict == CannotTell {
			a.Verdict, a.Open = CannotTell, true
			a.Missing = append(a.Missing, "whether the code asks for this here: the data that was seen is blank, which is no exemption")
			a.Faults = nil
		}
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
		a.Verdict, a.Faults, a.Missing, a.Figures = Meets, nil, nil, b.Figures
		a.Provided = b.Title + " instead: " + b.Provided
	case CannotTell:
		a.Verdict, a.Missing = CannotTell, append(a.Missing, b.Missing...)
	}
	a.need("or %s: %s", lowerFirst(b.Title), b.Required)
	for _, x := range b.Basis {
		a.rest(x)
	}
	return a
}

func (j *judge) plain(r *Requirement) Answer {
	a := Answer{Control: r.Control, Title: r.Control.Title(), Duty: r.Duty}
	a.rest(r.Basis)
	if c := checkOf(r.Control); c != nil {
		c(j, r, &a)
	} else {
		a.miss("how to check it: see the clause")
	}
	a.settle()
	return a
}

// oneOf judges a group of which one is enough.
func (j *judge) oneOf(d Duty) Answer {
	var all []Answer
	for _, c := range ofRooms() {
		if r := j.p.Requirement(j.space, c); r != nil && r.Duty == d {
			all = append(all, j.run(r))
		}
	}
	out := Answer{Control: all[0].Control, Duty: d}
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
		out.Faults, out.Missing, out.Figures = append(out.Faults, a.Faults...), append(out.Missing, a.Missing...), append(out.Figures, a.Figures...)
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
	if q == nil {
		a.miss("the code's figure for %q of %s: the pack gives none", strings.ReplaceAll(name, "_", " "), lowerFirst(c.Title()))
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

// roomArea gives the room's area in ft2, and says what is missing where it has none.
func (j *judge) roomArea(a *Answer) (ft2 float64, known bool) {
	if j.f.Area <= 0 {
		a.miss("the room's area")
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
