package domain

import (
	"fmt"
	"reflect"
)

// ChangeKind tells what happened to a room between two states of a project.
type ChangeKind string

// The kinds of change.
const (
	RoomAdded   ChangeKind = "added"
	RoomRemoved ChangeKind = "removed"
	RoomChanged ChangeKind = "changed"
)

// RoomChange says in words how one room changed. Parts names what changed in
// its design, as "devices/d7", so that a sheet can mark the rows.
type RoomChange struct {
	RoomID ID         `json:"room"`
	Label  string     `json:"label"`
	Kind   ChangeKind `json:"kind"`
	Lines  []string   `json:"lines,omitempty"`
	Parts  []string   `json:"parts,omitempty"`
}

// Difference is what changed between two states of a project: in what holds
// for all rooms, and room by room.
type Difference struct {
	Project []string     `json:"project,omitempty"`
	Rooms   []RoomChange `json:"rooms,omitempty"`
}

// Empty tells that nothing changed that a sheet prints.
func (d *Difference) Empty() bool { return d == nil || len(d.Project)+len(d.Rooms) == 0 }

// Room gives the change of one room, nil where it did not change.
func (d *Difference) Room(id ID) *RoomChange {
	if d == nil {
		return nil
	}
	for i := range d.Rooms {
		if d.Rooms[i].RoomID == id {
			return &d.Rooms[i]
		}
	}
	return nil
}

// Compare says what changed from one state of a project to the next. Rooms are
// compared as they resolve, so that an edit of a typical shows in each room
// that follows it. Rooms come in the order of the newer state, removed ones
// last. It fails where a room names a typical that its state does not have.
func Compare(older, newer *Scope) (*Difference, error) {
	c := comparison{older: older, newer: newer, oldTypicals: typicalsByID(older), newTypicals: typicalsByID(newer)}
	out := &Difference{Project: c.project()}
	was := make(map[ID]*Room, len(older.Rooms))
	for i := range older.Rooms {
		was[older.Rooms[i].ID] = &older.Rooms[i]
	}
	for i := range newer.Rooms {
		r := &newer.Rooms[i]
		old := was[r.ID]
		delete(was, r.ID)
		if old == nil {
			out.Rooms = append(out.Rooms, RoomChange{RoomID: r.ID, Label: r.Label(), Kind: RoomAdded, Lines: []string{"room added"}})
			continue
		}
		change, err := c.room(old, r)
		if err != nil {
			return nil, err
		}
		if len(change.Lines) > 0 {
			out.Rooms = append(out.Rooms, change)
		}
	}
	for i := range older.Rooms {
		if r := &older.Rooms[i]; was[r.ID] == r {
			out.Rooms = append(out.Rooms, RoomChange{RoomID: r.ID, Label: r.Label(), Kind: RoomRemoved, Lines: []string{"room removed"}})
		}
	}
	return out, nil
}

type comparison struct {
	older, newer             *Scope
	oldTypicals, newTypicals map[ID]*Typical
	same                     map[ID]bool // typicals that did not change, as asked for
}

func typicalsByID(s *Scope) map[ID]*Typical {
	out := make(map[ID]*Typical, len(s.Typicals))
	for i := range s.Typicals {
		out[s.Typicals[i].ID] = &s.Typicals[i]
	}
	return out
}

func (c *comparison) room(old, now *Room) (RoomChange, error) {
	out := RoomChange{RoomID: now.ID, Label: now.Label(), Kind: RoomChanged}
	out.Lines = fieldLines(Env{Project: &c.older.Project}, Env{Project: &c.newer.Project}, RoomFields, old, now)
	if a, b := storeyName(&c.older.Project, old.StoreyID), storeyName(&c.newer.Project, now.StoreyID); a != b {
		out.Lines = append(out.Lines, "storey "+a+" -> "+b)
	}
	if a, b := typicalName(c.oldTypicals, old.TypicalID), typicalName(c.newTypicals, now.TypicalID); a != b {
		out.Lines = append(out.Lines, "typical "+a+" -> "+b)
	}
	out.Lines = append(out.Lines, c.shapeLines(old, now)...)
	if !c.sameDesign(old, now) {
		lines, parts, err := c.design(old, now)
		if err != nil {
			return out, err
		}
		out.Lines, out.Parts = append(out.Lines, lines...), parts
	}
	out.Lines = append(out.Lines, waiverLines(old.Waivers, now.Waivers)...)
	return out, nil
}

// sameDesign is the short way past rooms that cannot have changed.
func (c *comparison) sameDesign(old, now *Room) bool {
	if old.TypicalID != now.TypicalID || !reflect.DeepEqual(old.Exceptions, now.Exceptions) {
		return false
	}
	if now.TypicalID == "" {
		return reflect.DeepEqual(&old.Design, &now.Design)
	}
	same, known := c.same[now.TypicalID]
	if !known {
		a, b := c.oldTypicals[now.TypicalID], c.newTypicals[now.TypicalID]
		same = a != nil && b != nil && reflect.DeepEqual(&a.Design, &b.Design)
		if c.same == nil {
			c.same = map[ID]bool{}
		}
		c.same[now.TypicalID] = same
	}
	return same
}

func (c *comparison) design(old, now *Room) (lines, parts []string, err error) {
	a, err := Resolve(old, c.oldTypicals[old.TypicalID])
	if err != nil {
		return nil, nil, fmt.Errorf("the older state: %w", err)
	}
	b, err := Resolve(now, c.newTypicals[now.TypicalID])
	if err != nil {
		return nil, nil, fmt.Errorf("the newer state: %w", err)
	}
	return designLines(&c.older.Project, &c.newer.Project, &a.Design, &b.Design)
}

func storeyName(p *Project, id ID) string {
	b, s := p.FindStorey(id)
	if s == nil {
		return "none"
	}
	if len(p.Buildings) > 1 {
		return b.Name + ", " + s.Name
	}
	return s.Name
}

func typicalName(byID map[ID]*Typical, id ID) string {
	if t := byID[id]; t != nil {
		return t.Name
	}
	return "none"
}

func waiverLines(old, now []Waiver) []string {
	var out []string
	was := map[ID]Waiver{}
	for _, w := range old {
		was[w.ID] = w
	}
	for _, w := range now {
		before, known := was[w.ID]
		delete(was, w.ID)
		switch {
		case !known:
			out = append(out, fmt.Sprintf("waiver of %s by %s: %s", w.Rule, w.Name, w.Reason))
		case before.Reason != w.Reason || before.Name != w.Name || before.Date != w.Date || !reflect.DeepEqual(before.Margin, w.Margin):
			out = append(out, fmt.Sprintf("waiver of %s renewed by %s: %s", w.Rule, w.Name, w.Reason))
		}
	}
	for _, w := range old {
		if _, gone := was[w.ID]; gone {
			out = append(out, fmt.Sprintf("waiver of %s withdrawn", w.Rule))
		}
	}
	return out
}
