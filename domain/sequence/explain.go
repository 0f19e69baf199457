package sequence

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// What is what made a load change.
type What uint8

// The reasons.
const (
	Unknown What = iota
	ByPerson
	Entered
	Relit
	Warned
	WentVacant
	SensorLost
	ScheduleOn
	ScheduleOff
	OverrideEnds
	CalendarSays
	Commanded
	ModeEnds
	DaylightTrims
	Capped
	Locked
	PowerCameBack
)

// Cause is why something of a load is as it is: the event, the intent and its
// class. It is kept by value, so that keeping it costs nothing.
type Cause struct {
	At     Time
	Happen domain.Happening // "" where a timer ended
	What   What
	Timer  What // whose end it was, where Happen is empty
	Device int
	Button int
	Intent int // -1: none
	Class  class
	Level  float64
	Lux    float64
}

// The parts of a load's output that have causes of their own.
const (
	partLevel = iota
	partWarning
	partDaylight
	partCap
	partLock
	partEmergency
	parts
)

// Change is one change of what a load is asked for.
type Change struct {
	At       Time
	Load     int
	From, To float64 // %, without fades
	Because  Cause
}

// tell tells the watcher of a change.
func (s *State) tell(l int, from, to float64) {
	if s.Watch != nil && from != to {
		s.Watch(Change{s.now, l, from, to, s.cause})
	}
}

// Why tells why a load is as it is: the chain of causes in plain words, the
// newest last, and what comes of them.
func (s *State) Why(l int) []string {
	ld := &s.loads[l]
	tag := s.p.Design.Loads[l].Tag
	var out []string
	if c := ld.why[partLevel]; c.What == Unknown {
		out = append(out, fmt.Sprintf("Nothing has happened to %s since the start: it is off.", tag))
	} else {
		out = append(out, fmt.Sprintf("%s %s was asked for %s.", s.Because(c), tag, percent(c.Level)))
	}
	if ld.warned {
		c := ld.why[partWarning]
		out = append(out, fmt.Sprintf("%s It warns that it will go off; a press, or people moving, end that.", s.Because(c)))
	}
	if c := ld.why[partDaylight]; ld.day.to != 1 && c.Intent >= 0 {
		out = append(out, fmt.Sprintf("%s Its level counts %s of what is asked for.", s.Because(c), percent(ld.day.to*100)))
	}
	if c := ld.why[partCap]; ld.cap.to != 1 && c.Intent >= 0 {
		out = append(out, fmt.Sprintf("%s It is capped at %s of its level.", s.Because(c), percent(ld.cap.to*100)))
	}
	if ld.emergency >= 0 {
		out = append(out, fmt.Sprintf("%s It is locked at %s and nothing else counts.", s.Because(ld.why[partEmergency]), percent(ld.emergency)))
	} else if ld.lock >= 0 {
		out = append(out, fmt.Sprintf("%s It is locked at %s and only emergency counts.", s.Because(ld.why[partLock]), percent(ld.lock)))
	}
	if s.dark {
		out = append(out, "There is no power.")
	}
	now := s.Output(l, s.now)
	line := fmt.Sprintf("So its output is %s.", percent(now))
	if low := s.p.loads[l].lowest; now == low && !s.p.loads[l].switched && now > 0 && ld.locked() < 0 {
		line = fmt.Sprintf("So its output is %s, the lowest that it dims to.", percent(now))
	}
	return append(out, line)
}

func duration(t Time) string { return units.Duration(units.Seconds(float64(t) / 1000)) }

func percent(v float64) string { return units.Percent(units.Level(v)) }

// Because tells a cause in one sentence, with its time, intent and class.
func (s *State) Because(c Cause) string {
	e := domain.Env{Project: s.p.Project, Design: s.p.Design}
	at := s.Clock(c.At).Format("15:04:05")
	var what string
	switch {
	case c.Happen != "":
		st := domain.ScenarioStep{Happen: c.Happen, Button: c.Button, Lux: units.Lux(c.Lux), Text: string(s.mode)}
		if c.Device >= 0 && c.Device < len(s.p.Design.Devices) {
			st.Device = s.p.Design.Devices[c.Device].ID
		}
		if c.Happen == domain.AVCommand && c.Intent >= 0 {
			st.Text = s.p.intents[c.Intent].Command
		}
		what = st.Sentence(e)
	case c.Timer == SensorLost:
		what = s.p.Design.Devices[c.Device].Tag + " has not reported for its watchdog time and counts as occupied"
	default:
		if what = timerWords[c.What]; what == "" {
			what = timerWords[c.Timer]
		}
	}
	out := at + ": " + what
	if c.Intent >= 0 {
		out += fmt.Sprintf(" (intent %d, %s, class %s)", s.p.Design.Intents[c.Intent].Seq, s.p.Design.Intents[c.Intent].Kind.Title(), s.p.Project.Order()[c.Class])
	}
	return strings.TrimSpace(out) + "."
}

var timerWords = map[What]string{
	Warned: "the delay after the last vacant report has run out", WentVacant: "the room has been vacant for its delay and warning", ScheduleOn: "the schedule's time to come on", ScheduleOff: "the schedule's time to go off",
	OverrideEnds: "the override after the schedule's off has run out", CalendarSays: "the calendar of modes", ModeEnds: "the mode's time has run out",
}
