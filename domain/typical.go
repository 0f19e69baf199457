package domain

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"scopewright/domain/delta"
	"scopewright/domain/geom"
)

// Resolved is a room with the design that holds for it: its own, or that of
// its typical with the room's exceptions. Rules and sheets see only this.
type Resolved struct {
	*Room
	Design  Design        // hides Room.Design on purpose
	Typical *Typical      // nil for a room with a design of its own
	Orphans delta.Changes // exceptions that the typical no longer has a place for

	// Plan holds the walls around the room, of its storey; nil where none stand
	// there, or where the plan is not at hand. See OnPlan.
	Plan *Plan
}

// Resolve settles what a room's typical gives and what the room changes. It is
// the only place that does. The typical may be nil; one that the room does not
// name is refused.
func Resolve(r *Room, t *Typical) (*Resolved, error) {
	if r.TypicalID == "" {
		return &Resolved{Room: r, Design: r.Design}, nil
	}
	if t == nil || t.ID != r.TypicalID {
		return nil, fmt.Errorf("room %s follows a typical that the project does not have", r.Number)
	}
	out := &Resolved{Room: r, Typical: t}
	if len(r.Exceptions) == 0 {
		out.Design = t.Design
		return out, nil
	}
	out.Design = t.Design.Clone()
	orphans, err := delta.Overlay(&out.Design, r.Exceptions)
	if err != nil {
		return nil, fmt.Errorf("room %s: exceptions to typical %s: %w", r.Number, t.Name, err)
	}
	out.Orphans = orphans
	return out, nil
}

// Settle takes a changed design back into the room: as the room's own, or as
// its exceptions to the typical, with every list in its order.
func (r *Resolved) Settle() error {
	delta.Sort(&r.Design)
	if r.Typical == nil {
		r.Room.Design = r.Design
		return nil
	}
	changes, err := delta.Diff(&r.Typical.Design, &r.Design)
	if err != nil {
		return err
	}
	// What the typical has no place for now may find it again: it is kept.
	r.Room.Exceptions, r.Room.Design = append(changes, r.Orphans...), Design{}
	return nil
}

// Clone gives a design that shares nothing with this one.
func (d *Design) Clone() Design {
	out := Design{
		Loads: slices.Clone(d.Loads), Devices: slices.Clone(d.Devices), Links: slices.Clone(d.Links),
		Scenes: slices.Clone(d.Scenes), Intents: slices.Clone(d.Intents), Scenarios: slices.Clone(d.Scenarios),
	}
	for i := range out.Devices {
		if at := out.Devices[i].At; at != nil {
			out.Devices[i].At = new(*at)
		}
		out.Devices[i].Buttons = slices.Clone(out.Devices[i].Buttons)
		out.Devices[i].Hears = slices.Clone(out.Devices[i].Hears)
	}
	for i := range out.Scenes {
		out.Scenes[i].Levels = slices.Clone(out.Scenes[i].Levels)
	}
	for i := range out.Intents {
		out.Intents[i].Loads = slices.Clone(out.Intents[i].Loads)
		out.Intents[i].Modes = slices.Clone(out.Intents[i].Modes)
	}
	for i := range out.Scenarios {
		out.Scenarios[i] = out.Scenarios[i].Clone()
	}
	return out
}

// Clone gives a room that shares nothing with this one.
func (r *Room) Clone() *Room {
	out := *r
	out.Design = r.Design.Clone()
	out.Exceptions = slices.Clone(r.Exceptions)
	out.Waivers = slices.Clone(r.Waivers)
	out.Outline = r.Outline.Map(func(p geom.Point) geom.Point { return p })
	out.Fixtures, out.Sitting = slices.Clone(r.Fixtures), slices.Clone(r.Sitting)
	return &out
}

// Own tells whether a change is of a kind that every room has for itself, such
// as the circuit that feeds a load, so that it is no exception to a typical.
func Own(c delta.Change) bool {
	switch field := c.Field(); {
	case strings.HasPrefix(c.Path, "loads/"):
		return field == "circuit"
	case strings.HasPrefix(c.Path, "devices/"):
		return field == "fitted" || field == "at" || field == "turn_deg"
	}
	return false
}

// RealExceptions gives the exceptions that a reader must know of, without what
// is each room's own by nature.
func (r *Room) RealExceptions() delta.Changes {
	var out delta.Changes
	for _, c := range r.Exceptions {
		if !Own(c) {
			out = append(out, c)
		}
	}
	return out
}

// Scope is a whole project with everything that its documents are made of.
type Scope struct {
	Project  Project   `json:"project"`
	Typicals []Typical `json:"typicals,omitempty"`
	Plans    []Plan    `json:"plans,omitempty"` // of storeys that have a drawing
	Rooms    []Room    `json:"rooms,omitempty"`
	Reviews  []Review  `json:"reviews,omitempty"`
	SignOffs []SignOff `json:"sign_offs,omitempty"`
}

// Typical gives the typical of that ID, nil where there is none.
func (s *Scope) Typical(id ID) *Typical {
	for i := range s.Typicals {
		if s.Typicals[i].ID == id {
			return &s.Typicals[i]
		}
	}
	return nil
}

// Plan gives the plan of a storey, nil where nothing is drawn.
func (s *Scope) Plan(storey ID) *Plan {
	for i := range s.Plans {
		if s.Plans[i].ID == storey {
			return &s.Plans[i]
		}
	}
	return nil
}

// Resolve settles a room of the scope, on its storey's plan.
func (s *Scope) Resolve(r *Room) (*Resolved, error) {
	out, err := Resolve(r, s.Typical(r.TypicalID))
	if err != nil {
		return nil, err
	}
	return out.OnPlan(s.Plan(r.StoreyID)), nil
}

// Copy gives a scope that shares nothing with this one.
func (s *Scope) Copy() (*Scope, error) {
	b, err := json.Marshal(s)
	if err != nil {
		return nil, err
	}
	var out Scope
	return &out, json.Unmarshal(b, &out)
}
