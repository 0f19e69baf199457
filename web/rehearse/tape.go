package rehearse

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"scopewright/domain"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// Bounds of an answer: how far beyond the shown moment it reaches, and how many
// instants it tells of. A day of the busiest room has some hundred.
const (
	horizon      = 24 * 3600 // seconds
	mostInstants = 20000
)

// tape runs a room and writes down what it gives, for the page to play.
type tape struct {
	b       *bench
	program *sequence.Program
	s       *sequence.State
	until   sequence.Time
	why     int // index of the load of which the causes are told; -1: none
	out     answer

	fresh    []sequence.Change // since the last instant
	instants int
}

// play runs a rehearsal and on from its moment, as long as nobody does anything.
func (b *bench) play(x *rehearsal) answer {
	t := b.newTape(startOf(x))
	if t.s == nil {
		return t.out
	}
	last := x.Now
	if n := len(x.Steps); n > 0 {
		last = max(last, x.Steps[n-1].At)
	}
	t.until = ms(min(last+horizon, longest))
	t.why = b.design.LoadIndex(x.Why)
	t.run(x.Steps)
	t.finish()
	return t.out
}

func startOf(x *rehearsal) sequence.Start {
	return sequence.Start{Day: x.Day, Clock: x.Start, Mode: x.Mode}
}

// newTape compiles the design and stands at the start. Its state is nil where
// the start cannot be read.
func (b *bench) newTape(at sequence.Start) *tape {
	t := &tape{b: b, why: -1, out: answer{Wall: []wallPiece{}, Tracks: []track{}, Log: []entry{}, States: []textAt{}, Why: []linesAt{}, Faults: []string{}}}
	t.program = sequence.Compile(b.project, b.design)
	for _, f := range t.program.Faults {
		t.out.Faults = append(t.out.Faults, b.faultText(f))
	}
	s := t.program.NewState()
	if err := s.Begin(at); err != nil {
		t.out.Faults = append(t.out.Faults, err.Error())
		return t
	}
	t.s = s
	s.Watch = func(c sequence.Change) { t.fresh = append(t.fresh, c) }
	for i := range b.design.Loads {
		t.out.Tracks = append(t.out.Tracks, track{Load: b.design.Loads[i].ID, Points: [][2]float64{}, Words: []textAt{}})
	}
	t.note()
	return t
}

// faultText names the intent that cannot be run.
func (b *bench) faultText(f sequence.Fault) string {
	if in := b.design.Intent(f.Intent); in != nil {
		return fmt.Sprintf("%s, intent %d: %s", in.Kind.Title(), in.Seq, f.Text)
	}
	return f.Text
}

// run carries out the steps and lets time pass to the end of the tape.
func (t *tape) run(steps []domain.ScenarioStep) {
	for i := range steps {
		e, err := t.program.EventOf(&steps[i])
		if err != nil {
			t.out.Faults = append(t.out.Faults, fmt.Sprintf("step %d: %s", i+1, err))
			continue
		}
		if e.At > t.until {
			break
		}
		t.pass(e.At, false)
		t.s.Do(e)
		t.logStep(&steps[i], e.At)
		t.note()
	}
	t.pass(t.until, true)
}

// pass lets time pass, one timer after the other. Those that end just then act
// only with the end.
func (t *tape) pass(to sequence.Time, with bool) {
	for t.instants < mostInstants {
		next := t.s.NextTimer()
		if next > to || next == to && !with {
			break
		}
		t.stretch(next)
		mode := t.s.Mode()
		t.s.AdvanceTo(next)
		t.logTimer(mode)
		t.note()
	}
	t.stretch(to)
	if with {
		t.s.AdvanceTo(to)
	}
}

// stretch draws the levels from now to a time before which nothing happens.
func (t *tape) stretch(to sequence.Time) {
	from := t.s.Now()
	if to <= from {
		return
	}
	settled := from
	for l := range t.out.Tracks {
		end := min(t.s.Settles(l), to)
		settled = max(settled, end)
		points := &t.out.Tracks[l].Points
		if end > from {
			level := func(at float64) float64 { return t.s.Output(l, sequence.Time(at*1000)) }
			*points = append(*points, bends(level, secondsOf(from), secondsOf(end))...)
		}
		if end < to {
			t.point(l, to, t.s.Output(l, end))
		}
	}
	if settled > from && settled < to {
		t.s.AdvanceTo(settled)
		t.say()
	}
}

// note writes down the levels of an instant, after what happened at it.
func (t *tape) note() {
	t.instants++
	for l := range t.out.Tracks {
		t.point(l, t.s.Now(), t.s.Output(l, t.s.Now()))
	}
	t.say()
}

// point adds a point that tells something new.
func (t *tape) point(l int, at sequence.Time, level float64) {
	points := &t.out.Tracks[l].Points
	p := [2]float64{secondsOf(at), round(level, 100)}
	n := len(*points)
	switch {
	case n > 0 && (*points)[n-1] == p:
		return
	case n > 1 && (*points)[n-1][1] == p[1] && (*points)[n-2][1] == p[1]:
		(*points)[n-1][0] = p[0] // the level has stood still
		return
	}
	*points = append(*points, p)
}

// say writes down what changed in words: of loads, of the room, of the causes
// that are asked for.
func (t *tape) say() {
	now := secondsOf(t.s.Now())
	for l := range t.out.Tracks {
		sayAt(&t.out.Tracks[l].Words, now, t.loadWord(l))
	}
	sayAt(&t.out.States, now, t.roomWords())
	if t.why < 0 {
		return
	}
	lines := t.s.Why(t.why)
	if t.s.Settles(t.why) > t.s.Now() && len(lines) > 0 {
		lines[len(lines)-1] = "It is on its way there."
	}
	if n := len(t.out.Why); n == 0 || !slices.Equal(t.out.Why[n-1].Lines, lines) {
		t.out.Why = append(t.out.Why, linesAt{now, lines})
	}
}

func sayAt(list *[]textAt, at float64, text string) {
	n := len(*list)
	switch {
	case n > 0 && (*list)[n-1].Text == text:
	case n > 0 && (*list)[n-1].At == at:
		(*list)[n-1].Text = text
	case n > 0 || text != "":
		*list = append(*list, textAt{at, text})
	}
}

// loadWord is what there is to say of a load besides its level.
func (t *tape) loadWord(l int) string {
	v := t.s.Load(l)
	switch {
	case !t.s.Powered():
		return "no power"
	case v.Lock >= 0:
		return "locked"
	case v.Warned:
		return "warning"
	case v.Cap < 1 && v.Requested > 0:
		return "capped"
	case v.Daylight < 1 && v.Requested > 0:
		return "daylight"
	}
	return ""
}

// roomWords is the state of the room as a whole: "Normal, people in".
func (t *tape) roomWords() string {
	words := []string{"mode " + string(t.s.Mode())}
	senses, in := false, false
	for i := range t.b.design.Devices {
		if ty := t.b.project.Book.Find(t.b.design.Devices[i].Type); ty != nil && ty.Kind.Traits().Presence {
			senses, in = true, in || t.s.Sensor(i) == domain.PeopleIn
		}
	}
	switch {
	case in:
		words = append(words, "occupied")
	case senses:
		words = append(words, "vacant")
	}
	if t.b.design.Divisible() {
		words = append(words, "partition "+string(t.s.Partition()))
	}
	for _, w := range []struct {
		on   bool
		text string
	}{{!t.s.Powered(), "no power"}, {!t.s.Online(), "no building network"}, {t.s.Demand(), "demand response"}, {t.s.Emergency(), "emergency"}} {
		if w.on {
			words = append(words, w.text)
		}
	}
	return upper(strings.Join(words, ", "))
}

// logStep writes down a step with what it sent where.
func (t *tape) logStep(st *domain.ScenarioStep, at sequence.Time) {
	e := entry{At: secondsOf(at), What: upper(st.Sentence(t.b.env())), Own: true, Levels: []change{}}
	for _, c := range t.fresh {
		if !t.b.ramps(st, t.b.design.Loads[c.Load].ID) { // how far it goes shows when it is let go
			e.take(t, c)
		}
	}
	if len(t.fresh) > 0 {
		e.Why = t.because(t.fresh[0].Because).why
	}
	if len(t.fresh) == 0 && st.Happen != domain.HoldEnded {
		e.Why = "no load changes"
	}
	t.fresh = t.fresh[:0]
	t.out.Log = append(t.out.Log, e)
}

// ramps tells that a step holds a button which raises or lowers the load.
func (b *bench) ramps(st *domain.ScenarioStep, load domain.ID) bool {
	if st.Happen != domain.HoldStarted {
		return false
	}
	for _, g := range []domain.Gesture{domain.Press, domain.Hold} {
		l := b.design.Link(domain.Input{Device: st.Device, Button: st.Button, On: g}, load)
		if l != nil && (l.Do.Verb == domain.Raise || l.Do.Verb == domain.Lower) {
			return true
		}
	}
	return false
}

// logTimer writes down what timers did, one line a cause; before is the mode
// that the room was in.
func (t *tape) logTimer(before domain.Mode) {
	var told []toldCause
	if now := t.s.Mode(); now != before {
		told = append(told, toldCause{entry: entry{At: secondsOf(t.s.Now()), What: "The mode becomes " + string(now), Why: "the calendar, or the mode's time has run out", Levels: []change{}}})
	}
	for _, c := range t.fresh {
		words := t.because(c.Because)
		i := slices.IndexFunc(told, func(x toldCause) bool { return x.words == words })
		if i < 0 {
			told = append(told, toldCause{words, entry{At: secondsOf(c.At), What: upper(words.what), Why: words.why, Levels: []change{}}})
			i = len(told) - 1
		}
		told[i].take(t, c)
	}
	for i := range told {
		t.out.Log = append(t.out.Log, told[i].entry)
	}
	t.fresh = t.fresh[:0]
}

type toldCause struct {
	words causeWords
	entry
}

// take adds a load that a line sends somewhere, with the level at which its
// fade ends.
func (e *entry) take(t *tape, c sequence.Change) {
	id := t.b.design.Loads[c.Load].ID
	if !slices.ContainsFunc(e.Levels, func(x change) bool { return x.Load == id }) {
		e.Levels = append(e.Levels, change{id, round(t.s.Output(c.Load, t.s.Settles(c.Load)), 10)})
	}
}

// causeWords is a cause: what happened, and by which intent and class it counts.
type causeWords struct{ what, why string }

func (t *tape) because(c sequence.Cause) causeWords {
	_, text, _ := strings.Cut(strings.TrimSuffix(t.s.Because(c), "."), ": ") // less its time
	what, why, _ := strings.Cut(text, " (intent ")
	if why != "" {
		why = "intent " + strings.TrimSuffix(why, ")")
	}
	return causeWords{what, why}
}

// finish adds the clock.
func (t *tape) finish() {
	t.out.Until = secondsOf(t.until)
	start := t.s.Clock(0)
	piece := func(at time.Time) wallPiece {
		y, m, d := at.Date()
		return wallPiece{at.Sub(start).Seconds(), time.Date(y, m, d, at.Hour(), at.Minute(), at.Second(), at.Nanosecond(), time.UTC).UnixMilli()}
	}
	t.out.Wall = append(t.out.Wall, piece(start))
	for at := start; ; {
		_, end := at.ZoneBounds()
		if end.IsZero() || end.Sub(start).Milliseconds() > int64(t.until) {
			return
		}
		at = end
		t.out.Wall = append(t.out.Wall, piece(at))
	}
}

func ms(s units.Seconds) sequence.Time { return sequence.Time(round(float64(s), 1000) * 1000) }

func secondsOf(t sequence.Time) float64 { return float64(t) / 1000 }

func upper(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[size:]
}
