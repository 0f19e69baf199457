package domain

import (
	"fmt"
	"reflect"
	"sort"
	"strings"

	"scopewright/domain/equipment"
)

// project says what changed in what holds for all rooms.
func (c *comparison) project() []string {
	a, b := &c.older.Project, &c.newer.Project
	was, is := Env{Project: a}, Env{Project: b}
	out := fieldLines(was, is, ProjectFields, a, b)
	out = append(out, storeyLines(a, b)...)
	out = append(out, listLines(was, is, "luminaire", LuminaireFields, a.Luminaires, b.Luminaires,
		func(l *Luminaire) (string, string) { return string(l.ID), l.Tag })...)
	out = append(out, listLines(was, is, "circuit", CircuitFields, a.Circuits, b.Circuits,
		func(k *Circuit) (string, string) { return string(k.ID), k.Name })...)
	out = append(out, worksheetLines(was, is, a, b)...)
	out = append(out, listLines(was, is, "profile of", ProfileFields, a.Profiles, b.Profiles,
		func(u *UseProfile) (string, string) { return string(u.ID), Use(u.ID).Name() })...)
	out = append(out, listLines(was, is, "rate", RateFields, a.Rates, b.Rates,
		func(r *Rate) (string, string) { return string(r.ID), r.Name() })...)
	out = append(out, listLines(was, is, "equipment", EquipmentFields, a.Book, b.Book,
		func(t *equipment.Type) (string, string) { return t.ID, t.Name })...)
	out = append(out, limitLines(was, is, a, b)...)
	if n := countDifferent(a.Checklist, b.Checklist); n > 0 {
		out = append(out, "checklist: "+Count(n, "item", "items")+" added, removed or reworded")
	}
	out = append(out, c.typicals()...)
	return append(out, c.plans()...)
}

// listLines compares two lists of things that have an ID and a tag.
func listLines[T any](was, is Env, noun string, fields []Field[T], a, b []T, name func(*T) (id, tag string)) []string {
	old := make(map[string]*T, len(a))
	for i := range a {
		id, _ := name(&a[i])
		old[id] = &a[i]
	}
	var out []string
	for i := range b {
		id, tag := name(&b[i])
		before := old[id]
		delete(old, id)
		if before == nil {
			out = append(out, noun+" "+tag+" added")
			continue
		}
		if reflect.DeepEqual(before, &b[i]) {
			continue
		}
		if lines := fieldLines(was, is, fields, before, &b[i]); len(lines) > 0 {
			out = append(out, noun+" "+tag+": "+strings.Join(lines, ", "))
		}
	}
	for i := range a {
		if id, tag := name(&a[i]); old[id] != nil {
			out = append(out, noun+" "+tag+" removed")
		}
	}
	return out
}

// countDifferent counts the checklist items that are not the same on both sides.
func countDifferent(a, b []ChecklistItem) int {
	old := map[ID]ChecklistItem{}
	for _, i := range a {
		old[i.ID] = i
	}
	n := 0
	for _, i := range b {
		before, known := old[i.ID]
		delete(old, i.ID)
		if !known || before.Subject != i.Subject || before.Text != i.Text || before.For != i.For {
			n++
		}
	}
	return n + len(old)
}

// limitLines compares the limits that hold, so that a project which never
// touched a limit and one which states the same number are alike.
func limitLines(was, is Env, a, b *Project) []string {
	var out []string
	for _, g := range genericLimits {
		x, y := a.Limits.Find(g.ID), b.Limits.Find(g.ID)
		if lines := fieldLines(was, is, LimitFields, &x, &y); len(lines) > 0 {
			out = append(out, "limit "+g.Title+": "+strings.Join(lines, ", "))
		}
	}
	return out
}

func storeyLines(a, b *Project) []string {
	names := func(p *Project) map[ID]string {
		out := map[ID]string{}
		for i := range p.Buildings {
			out[p.Buildings[i].ID] = "building " + p.Buildings[i].Name
			for _, s := range p.Buildings[i].Storeys {
				out[s.ID] = "storey " + p.Buildings[i].Name + ", " + s.Name + onNetwork(s)
			}
		}
		return out
	}
	old, now := names(a), names(b)
	var out []string
	for id, name := range now {
		switch before, known := old[id]; {
		case !known:
			out = append(out, name+" added")
		case before != name:
			out = append(out, before+" is now "+name)
		}
	}
	for id, name := range old {
		if _, known := now[id]; !known {
			out = append(out, name+" removed")
		}
	}
	sort.Strings(out)
	return out
}

func onNetwork(s Storey) string {
	text := ""
	if s.Server != "" {
		text += ", server " + s.Server
	}
	if s.Backbone != "" {
		text += ", backbone " + s.Backbone
	}
	return text
}

func (c *comparison) typicals() []string {
	var out []string
	for i := range c.newer.Typicals {
		t := &c.newer.Typicals[i]
		old := c.oldTypicals[t.ID]
		if old == nil {
			out = append(out, "typical "+t.Name+" added")
			continue
		}
		lines := fieldLines(Env{Project: &c.older.Project}, Env{Project: &c.newer.Project}, TypicalFields, old, t)
		if !reflect.DeepEqual(&old.Design, &t.Design) {
			changed, _, err := designLines(&c.older.Project, &c.newer.Project, &old.Design, &t.Design)
			if err != nil {
				changed = []string{"design changed"}
			}
			lines = append(lines, changed...)
		}
		if len(lines) > 0 {
			out = append(out, "typical "+t.Name+": "+strings.Join(lines, "; "))
		}
	}
	for i := range c.older.Typicals {
		if t := &c.older.Typicals[i]; c.newTypicals[t.ID] == nil {
			out = append(out, "typical "+t.Name+" removed")
		}
	}
	return out
}

// fieldLines tells which fields of a thing read differently, a line each.
func fieldLines[T any](was, is Env, fields []Field[T], a, b *T) []string {
	var out []string
	for _, f := range fields {
		if x, y := f.Show(was, a), f.Show(is, b); x != y {
			out = append(out, strings.ToLower(f.Title)+" "+orNone(x)+" -> "+orNone(y))
		}
	}
	return out
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// Count gives "1 room" or "12 rooms".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
