package domain

import (
	"fmt"
	"slices"
	"strings"
)

// Mode is how a room is being used. It changes by the project's calendar, by a
// schedule, a contact or a command.
type Mode string

// The modes; a room starts in the normal one.
const (
	NormalMode   Mode = "normal"
	AfterHours   Mode = "after hours"
	CleaningMode Mode = "cleaning"
	EventMode    Mode = "event"
)

// Modes lists all modes.
func Modes() []Mode { return []Mode{NormalMode, AfterHours, CleaningMode, EventMode} }

// PartitionState is whether a divisible room is one; empty says nothing.
type PartitionState string

// The states of a partition.
const (
	PartitionOpen   PartitionState = "open"
	PartitionClosed PartitionState = "closed"
)

// People is what is known of people in the room; empty says nothing.
type People string

// What is known of people.
const (
	PeopleIn   People = "occupied"
	PeopleGone People = "vacant"
)

// Class is the kind of source that a command to a load has. Between classes the
// higher one wins for as long as its claim lives; within one the newest does.
type Class string

// The classes.
const (
	ClassEmergency Class = "emergency"
	ClassDemand    Class = "demand response"
	ClassManual    Class = "manual"
	ClassSchedule  Class = "schedule"
	ClassOccupancy Class = "occupancy"
	ClassDaylight  Class = "daylight"
)

// DefaultPriority is the order of classes, highest first (common practice, no
// published source). Emergency stays first, so that locks hold; daylight
// stays last, since it only trims what the others ask for.
func DefaultPriority() []Class {
	return []Class{ClassEmergency, ClassDemand, ClassManual, ClassSchedule, ClassOccupancy, ClassDaylight}
}

// Order gives the project's order of classes, highest first.
func (p *Project) Order() []Class {
	if len(p.Priority) == 0 {
		return DefaultPriority()
	}
	return p.Priority
}

// CheckPriority says what is wrong with an order of classes.
func CheckPriority(order []Class) error {
	want := DefaultPriority()
	for _, c := range want {
		n := 0
		for _, o := range order {
			if o == c {
				n++
			}
		}
		if n != 1 {
			return fmt.Errorf("the order of priority must name %s once", c)
		}
	}
	switch {
	case len(order) != len(want):
		return fmt.Errorf("the order of priority has classes that are not known: use %s", classWords(want))
	case order[0] != ClassEmergency:
		return fmt.Errorf("emergency must come first: nothing may override emergency and egress locks")
	case order[len(order)-1] != ClassDaylight:
		return fmt.Errorf("daylight must come last: it trims what the others ask for and asks for nothing itself")
	}
	return nil
}

// MoveClass lets a class change places with its neighbor in the order of
// priority, up (-1) or down (1).
func (p *Project) MoveClass(c Class, step int) error {
	order := slices.Clone(p.Order())
	at := slices.Index(order, c)
	if at < 0 || at+step < 0 || at+step >= len(order) {
		return fmt.Errorf("%q cannot move there in the order of priority", c)
	}
	order[at], order[at+step] = order[at+step], order[at]
	if err := CheckPriority(order); err != nil {
		return err
	}
	if p.Priority = order; slices.Equal(order, DefaultPriority()) {
		p.Priority = nil
	}
	return nil
}

func classWords(order []Class) string {
	words := make([]string, len(order))
	for i, c := range order {
		words[i] = string(c)
	}
	return strings.Join(words, ", ")
}

func priorityField() Field[Project] {
	return Field[Project]{Name: "priority", Title: "Order of priority", Wide: true, Hint: "highest first, separated by commas; emergency stays first, daylight last",
		Empty: classWords(DefaultPriority()),
		Show:  func(_ Env, p *Project) string { return classWords(p.Priority) },
		Set: func(_ Env, p *Project, text string) error {
			var order []Class
			for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == '>' || r == ';' || r == '\n' }) {
				if w = strings.Join(strings.Fields(strings.ToLower(w)), " "); w != "" {
					order = append(order, Class(w))
				}
			}
			if len(order) > 0 {
				if err := CheckPriority(order); err != nil {
					return err
				}
			}
			if slices.Equal(order, DefaultPriority()) {
				order = nil
			}
			p.Priority = order
			return nil
		}}
}
