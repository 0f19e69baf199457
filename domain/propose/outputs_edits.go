package propose

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
)

// Nothing tells that there is nothing to do, or nothing that helps.
func (s *Spread) Nothing() bool { return len(s.Moves) == 0 }

// Touches tells that the answer moves or divides a load.
func (s *Spread) Touches(load domain.ID) bool {
	return slices.ContainsFunc(s.Moves, func(m Move) bool { return m.Load == load })
}

// Edits gives the answer as edits of the room. fresh gives IDs for what is
// added, told apart by a word.
func (s *Spread) Edits(d *domain.Design, fresh func(what string) domain.ID) []edit.Edit {
	var out []edit.Edit
	added := make([]domain.ID, len(s.Added))
	for i, typ := range s.Added {
		added[i] = fresh(fmt.Sprint("controller ", i+1))
		out = append(out, edit.AddDevice{ID: added[i], Type: typ})
	}
	part := func(load domain.ID, n int) domain.ID {
		if n == 0 {
			return load
		}
		return fresh(fmt.Sprintf("part %d of %s", n+1, load))
	}
	for _, div := range s.Divided {
		for n := range div.Parts {
			id := part(div.Load, n)
			if n > 0 {
				out = append(out, edit.Duplicate{Part: "loads", ID: div.Load, New: id})
			}
			out = append(out, edit.SetField{Path: "loads/" + string(id) + "/count", Text: strconv.Itoa(div.Parts[n])})
		}
		out = append(out, joinIntents(d, div, part)...)
	}
	for _, m := range s.Moves {
		controller := m.Controller
		if controller == "" {
			controller = added[m.Added]
		}
		path := "loads/" + string(part(m.Load, m.Part))
		out = append(out, edit.SetField{Path: path + "/controller", Text: string(controller)}, edit.SetField{Path: path + "/output", Text: strconv.Itoa(m.Output)})
	}
	return out
}

// joinIntents lets intents that name a divided load name all of its parts. What an
// intent names and cannot act on, or what is gone, it no longer names then.
func joinIntents(d *domain.Design, div Divided, part func(domain.ID, int) domain.ID) []edit.Edit {
	var out []edit.Edit
	for i := range d.Intents {
		in := &d.Intents[i]
		fits := func(id domain.ID) bool {
			l := d.Load(id)
			return l != nil && (l.Kind == domain.Receptacle) == (in.Kind == domain.ForReceptacles)
		}
		if !slices.Contains(in.Loads, div.Load) || !fits(div.Load) {
			continue
		}
		var ids []string
		for _, id := range in.Loads {
			if fits(id) {
				ids = append(ids, string(id))
			}
		}
		for n := 1; n < len(div.Parts); n++ {
			ids = append(ids, string(part(div.Load, n)))
		}
		out = append(out, edit.SetField{Path: "intents/" + string(in.ID) + "/loads", Text: strings.Join(ids, ", ")})
	}
	return out
}

// Title says the answer in a few words: "Add Room controller, 1 dimmed output;
// divide L1 into 16 and 15".
func (s *Spread) Title(p *domain.Project, d *domain.Design) string {
	var parts []string
	if len(s.Added) > 0 {
		parts = append(parts, "add "+namesOfTypes(p, s.Added))
	}
	for _, div := range s.Divided {
		sizes := make([]string, len(div.Parts))
		for i, n := range div.Parts {
			sizes[i] = strconv.Itoa(n)
		}
		parts = append(parts, "divide "+d.Load(div.Load).Tag+" into "+domain.JoinWords(sizes))
	}
	var there, new []string
	for _, m := range s.Moves {
		if m.Part > 0 {
			continue
		}
		tag := d.Load(m.Load).Tag
		if m.Controller == "" {
			new = append(new, tag)
			continue
		}
		there = append(there, fmt.Sprintf("%s to %s output %d", tag, d.Device(m.Controller).Tag, m.Output))
	}
	if len(there) > 0 {
		parts = append(parts, "move "+domain.JoinWords(there))
	}
	if len(new) > 0 {
		parts = append(parts, "put "+domain.JoinWords(new)+" there")
	}
	return domain.UpperFirst(strings.Join(parts, "; "))
}

// namesOfTypes gives "2 of Room controller, 1 dimmed output".
func namesOfTypes(p *domain.Project, types []string) string {
	var names []string
	for i, id := range types {
		if slices.Contains(types[:i], id) {
			continue
		}
		n := 0
		for _, other := range types {
			if other == id {
				n++
			}
		}
		name := id
		if t := p.Book.Find(id); t != nil {
			name = t.Name
		}
		if n > 1 {
			name = fmt.Sprintf("%d of %s", n, name)
		}
		names = append(names, name)
	}
	return domain.JoinWords(names)
}
