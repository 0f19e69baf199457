package edit

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// GiveBack gives up a room's exceptions to its typical at a path and below:
// "devices/d7/delay_s", "devices/d7", or "" for all. Where devices stand on the
// plan is no decision against the typical and stays.
type GiveBack struct{ Path string }

// Apply gives the exceptions back.
func (e GiveBack) Apply(s *Subject) (string, error) {
	if s.Room == nil || s.resolved.Typical == nil {
		return "", fmt.Errorf("this room follows no typical")
	}
	var kept delta.Changes
	if e.Path != "" {
		kept = s.Room.Exceptions.Without(e.Path)
	}
	for _, c := range s.Room.Exceptions {
		if domain.IsPlace(c) && (e.Path == "" || strings.HasPrefix(c.Path, e.Path+"/")) {
			kept = append(kept, c)
		}
	}
	n := len(s.Room.Exceptions) - len(kept)
	if n == 0 {
		return "", fmt.Errorf("this exception is already given back")
	}
	fresh := s.resolved.Typical.Design.Clone()
	if _, err := delta.Overlay(&fresh, kept); err != nil {
		return "", err
	}
	*s.Design, s.Room.Exceptions, s.resolved.Orphans = fresh, kept, nil
	if n == 1 {
		return "gave back an exception to typical " + s.resolved.Typical.Name, nil
	}
	return fmt.Sprintf("gave back %d exceptions to typical %s", n, s.resolved.Typical.Name), nil
}

// Follow lets a room follow a typical; its own design gives way to it. Devices
// that both have keep their places on the plan.
type Follow struct{ Typical *domain.Typical }

// Apply lets the room follow.
func (e Follow) Apply(s *Subject) (string, error) {
	if s.Room == nil {
		return "", fmt.Errorf("a typical cannot follow another")
	}
	was := *s.Design
	s.Room.TypicalID, s.Room.Exceptions, s.Room.Design = e.Typical.ID, nil, domain.Design{}
	s.resolved.Typical, s.resolved.Orphans = e.Typical, nil
	*s.Design = e.Typical.Design.Clone()
	s.Design.PlaceAs(&was)
	if s.Room.Use == "" {
		s.Room.Use = e.Typical.Use
	}
	return fmt.Sprintf("%s follows typical %s", s.Room.Number, e.Typical.Name), nil
}

// StandAlone makes the design that a room has from its typical its own.
type StandAlone struct{}

// Apply parts the room from its typical.
func (e StandAlone) Apply(s *Subject) (string, error) {
	if s.Room == nil || s.resolved.Typical == nil {
		return "", fmt.Errorf("this room follows no typical")
	}
	name := s.resolved.Typical.Name
	s.Room.Space = s.resolved.KindOfSpace()
	s.Room.TypicalID, s.Room.Exceptions = "", nil
	s.resolved.Typical, s.resolved.Orphans = nil, nil
	return fmt.Sprintf("%s no longer follows typical %s", s.Room.Number, name), nil
}

// SetParents assigns battery devices to routers.
type SetParents struct{ Parents map[domain.ID]domain.ID }

// Apply assigns the parents.
func (e SetParents) Apply(s *Subject) (string, error) {
	for child, parent := range e.Parents {
		dev := s.Design.Device(child)
		if dev == nil {
			return "", gone("a battery device")
		}
		if s.Design.Device(parent) == nil {
			return "", gone("a router")
		}
		dev.Parent = parent
	}
	return fmt.Sprintf("assigned parents to %d battery devices", len(e.Parents)), nil
}

// Waive accepts a finding for a reason.
type Waive struct{ Waiver domain.Waiver }

// Apply waives the finding.
func (e Waive) Apply(s *Subject) (string, error) {
	if s.Room == nil {
		return "", fmt.Errorf("waive the finding in the room that has it: a typical has no waivers")
	}
	w := e.Waiver
	var err error
	if w.Reason, err = domain.CleanLine(w.Reason, 600); err != nil {
		return "", err
	}
	if w.Name, err = domain.CleanLine(w.Name, domain.MaxName); err != nil {
		return "", err
	}
	if w.Reason == "" || w.Name == "" {
		return "", fmt.Errorf("a waiver needs a reason and a name")
	}
	s.Room.Waivers = append(without(s.Room.Waivers, func(o domain.Waiver) bool { return o.Rule == w.Rule && o.Key == w.Key }), w)
	return "waived " + w.Rule + ": " + short(w.Reason), nil
}

// Unwaive takes a waiver back.
type Unwaive struct{ ID domain.ID }

// Apply takes the waiver back.
func (e Unwaive) Apply(s *Subject) (string, error) {
	if s.Room == nil {
		return "", gone("the waiver")
	}
	kept := without(s.Room.Waivers, func(w domain.Waiver) bool { return w.ID == e.ID })
	if len(kept) == len(s.Room.Waivers) {
		return "", gone("the waiver")
	}
	s.Room.Waivers = kept
	return "took back a waiver", nil
}

// CopyDesign takes over a design from another room.
type CopyDesign struct {
	From   string // number of the room, for the journal
	Design domain.Design
}

// Apply takes the design over.
func (e CopyDesign) Apply(s *Subject) (string, error) {
	if s.Room != nil && s.Room.TypicalID != "" {
		return "", fmt.Errorf("this room follows a typical: let it stand alone first")
	}
	was := *s.Design
	*s.Design = e.Design.Clone()
	s.Design.PlaceAs(&was)
	return "copied the design of room " + e.From, nil
}
