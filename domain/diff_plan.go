package domain

import (
	"encoding/json"
	"reflect"
	"strings"

	"scopewright/domain/delta"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// shapeLines says how a room's shape and what it shows on the plan changed.
func (c *comparison) shapeLines(old, now *Room) []string {
	var out []string
	if line := outlineLine(c.newer.Project.Units, old.Outline, now.Outline); line != "" {
		out = append(out, line)
	}
	out = append(out, placeLine("luminaires", old.Fixtures, now.Fixtures, func(f *Fixture) ID { return f.ID })...)
	return append(out, placeLine("seats", old.Sitting, now.Sitting, func(s *Seat) ID { return s.ID })...)
}

func outlineLine(sys units.System, old, now geom.Polygon) string {
	before, after := units.Area(units.SquareMetres(old.Area()), sys), units.Area(units.SquareMetres(now.Area()), sys)
	switch {
	case sameShape(old, now):
		return ""
	case old.Empty():
		return "outline drawn: " + after
	case now.Empty():
		return "outline removed: was " + before
	case before == after:
		return "outline changed, still " + after
	}
	return "outline changed: " + before + " -> " + after
}

// sameShape compares outlines as they are written, to a tenth of a millimeter.
func sameShape(a, b geom.Polygon) bool {
	if reflect.DeepEqual(a, b) || a.IsZero() && b.IsZero() {
		return true
	}
	x, errX := json.Marshal(a)
	y, errY := json.Marshal(b)
	return errX == nil && errY == nil && string(x) == string(y)
}

// placeLine gives "luminaires on the plan: 2 added, 1 moved".
func placeLine[T any](what string, old, now []T, id func(*T) ID) []string {
	told := comings(old, now, id, "moved")
	if told == "" {
		return nil
	}
	return []string{what + " on the plan: " + told}
}

// comings counts what came, went and changed between two lists: "2 added, 1
// removed, 3 moved", empty for nothing.
func comings[T any](old, now []T, id func(*T) ID, changed string) string {
	was := make(map[ID]*T, len(old))
	for i := range old {
		was[id(&old[i])] = &old[i]
	}
	added, other := 0, 0
	for i := range now {
		before := was[id(&now[i])]
		delete(was, id(&now[i]))
		switch {
		case before == nil:
			added++
		case !reflect.DeepEqual(before, &now[i]):
			other++
		}
	}
	var told []string
	for _, part := range []struct {
		n    int
		verb string
	}{{added, "added"}, {len(was), "removed"}, {other, changed}} {
		if part.n > 0 {
			told = append(told, units.Trim(float64(part.n), 0)+" "+part.verb)
		}
	}
	return strings.Join(told, ", ")
}

// plans says how the drawings of storeys changed, a line each.
func (c *comparison) plans() []string {
	was := make(map[ID]*Plan, len(c.older.Plans))
	for i := range c.older.Plans {
		was[c.older.Plans[i].ID] = &c.older.Plans[i]
	}
	var out []string
	tell := func(p *Project, old, now *Plan) {
		if told := planChange(old, now); told != "" {
			out = append(out, "plan of "+storeyName(p, now.ID)+": "+told)
		}
	}
	for i := range c.newer.Plans {
		now := &c.newer.Plans[i]
		old := was[now.ID]
		delete(was, now.ID)
		if old == nil {
			old = &Plan{ID: now.ID}
		}
		tell(&c.newer.Project, old, now)
	}
	for i := range c.older.Plans {
		if old := &c.older.Plans[i]; was[old.ID] != nil {
			tell(&c.older.Project, old, &Plan{ID: old.ID})
		}
	}
	return out
}

func planChange(old, now *Plan) string {
	var told []string
	if walls := comings(old.Walls, now.Walls, func(w *Wall) ID { return w.ID }, "changed"); walls != "" {
		told = append(told, "walls "+walls)
	}
	if lights := comings(old.Rooflights, now.Rooflights, func(l *Rooflight) ID { return l.ID }, "changed"); lights != "" {
		told = append(told, "rooflights "+lights)
	}
	if old.North != now.North {
		told = append(told, "north "+units.Trim(old.North, 1)+" -> "+units.Trim(now.North, 1)+" degrees")
	}
	switch a, b := old.Underlay, now.Underlay; {
	case a == nil && b != nil:
		told = append(told, "picture added")
	case a != nil && b == nil:
		told = append(told, "picture removed")
	case a != nil && a.Picture != b.Picture:
		told = append(told, "other picture")
	case !reflect.DeepEqual(a, b):
		told = append(told, "picture moved or faded")
	}
	return strings.Join(told, "; ")
}

// movedFromTo gives "placed on the plan", "taken off the plan" or "moved 1.2 m".
func movedFromTo(e Env, c delta.Change) string {
	var a, b geom.Point
	switch {
	case c.Added():
		return "placed on the plan"
	case c.Removed():
		return "taken off the plan"
	case json.Unmarshal(c.Before, &a) != nil || json.Unmarshal(c.After, &b) != nil:
		return "moved"
	}
	return "moved " + units.Length(units.Metres(a.Distance(b)), e.Project.Units)
}
