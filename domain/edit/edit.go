// Package edit holds every change that a person can make to a room or a
// typical. An edit changes a design in memory and says in words what it did;
// what it takes to undo it is found by comparing before and after.
package edit

import (
	"errors"
	"fmt"

	"scopewright/domain"
)

// Subject is what an edit changes: the design of a room or of a typical, with
// the facts around it. Exactly one of Room and Typical is set.
type Subject struct {
	Project *domain.Project // read only
	Design  *domain.Design
	Room    *domain.Room
	Typical *domain.Typical

	resolved *domain.Resolved // of a room: which typical it follows
}

// Env gives what fields need to be read and written.
func (s *Subject) Env() domain.Env { return domain.Env{Project: s.Project, Design: s.Design} }

// Edit is one change. Apply either carries it out and says what it did, or
// gives an error that a person can act on; the subject may then be half
// changed, so it works on a copy.
type Edit interface {
	Apply(*Subject) (said string, err error)
}

// OfRoom gives a subject over a resolved room; what Apply changes in the
// design must be taken back with Resolved.Settle.
func OfRoom(p *domain.Project, r *domain.Resolved) *Subject {
	return &Subject{Project: p, Design: &r.Design, Room: r.Room, resolved: r}
}

// OfTypical gives a subject over a typical.
func OfTypical(p *domain.Project, t *domain.Typical) *Subject {
	return &Subject{Project: p, Design: &t.Design, Typical: t}
}

// FieldError is an error that belongs beside one field.
type FieldError struct {
	Path string // "devices/d7/delay_s"
	Text string // what was typed
	Err  error
}

func (e *FieldError) Error() string { return e.Err.Error() }
func (e *FieldError) Unwrap() error { return e.Err }

// Refused is an error of an edit that a person can act on.
type Refused struct{ Err error }

func (e *Refused) Error() string { return e.Err.Error() }
func (e *Refused) Unwrap() error { return e.Err }

// All carries out edits in order and joins what they say. Its errors are
// *FieldError or *Refused.
func All(s *Subject, edits []Edit) (string, error) {
	var said string
	for _, e := range edits {
		did, err := e.Apply(s)
		var field *FieldError
		if err != nil && !errors.As(err, &field) {
			err = &Refused{err}
		}
		if err != nil {
			return "", err
		}
		if said == "" {
			said = did
		}
	}
	if len(edits) > 1 {
		said = fmt.Sprintf("%s and %d more", said, len(edits)-1)
	}
	return said, nil
}

func gone(what string) error {
	return fmt.Errorf("%s is no longer in this room: it may have been removed in another window", what)
}
