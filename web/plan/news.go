package plan

import (
	"encoding/json"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"scopewright/web/edits"
)

// news is what has changed between the state that a page shows and a later one,
// for static/js/plan/news.js.
type news struct {
	From     string             `json:"from"` // "": what the page shows does not count
	Now      string             `json:"now"`
	Sections map[string]changes `json:"sections"`
	Overlay  *overlayNews       `json:"overlay,omitempty"`
}

// changes of one section: what is put in and what is gone, or all of it anew.
type changes struct {
	Put  []put           `json:"put,omitempty"`
	Gone []string        `json:"gone,omitempty"`
	All  json.RawMessage `json:"all,omitempty"`
}

// put replaces a part, or puts it in behind another: one that has moved too.
type put struct {
	Key   string          `json:"k"`
	After *string         `json:"a,omitempty"` // "": first; nil: where it is
	Value json.RawMessage `json:"v"`
}

// since tells what has changed since an earlier state, which may be nil.
func (s *shown) since(before *shown) news {
	out := news{Now: s.name, Sections: map[string]changes{}}
	if before != nil {
		out.From = before.name
	}
	for i := range s.sections {
		to := &s.sections[i]
		if before == nil {
			out.Sections[to.name] = changes{All: to.all()}
			continue
		}
		if c := to.changes(&before.sections[i]); c.All != nil || len(c.Put)+len(c.Gone) > 0 {
			out.Sections[to.name] = c
		}
	}
	return out
}

// mostPut is the number of parts beyond which a section is sent as a whole:
// one string is sooner put in than many.
const mostPut = 200

// all gives the whole section: an array of values, the pairs of a base, markup.
func (s *section) all() json.RawMessage {
	switch {
	case s.name == "frame":
		return json.RawMessage(s.joined())
	case strings.HasPrefix(s.name, "json:"):
		return json.RawMessage(s.array())
	case s.name == "base":
		return text(s.base())
	}
	return text(s.joined())
}

// base writes revisions as edits state them.
func (s *section) base() string {
	var pairs []string
	for _, g := range s.groups {
		for _, e := range *g {
			pairs = append(pairs, e.key+"="+e.text)
		}
	}
	return strings.Join(pairs, ",")
}

func (s *section) value(e *entry) json.RawMessage {
	if strings.HasPrefix(s.name, "json:") {
		return json.RawMessage(e.text)
	}
	return text(e.text)
}

func text(s string) json.RawMessage { return json.RawMessage(jsonOf(s)) }

func (s *section) changes(before *section) changes {
	from, to, last := apart(before.groups, s.groups)
	puts, gone := differ(from, to, last)
	if len(puts) == 0 && len(gone) == 0 {
		return changes{}
	}
	if len(puts)+len(gone) > mostPut || s.single() {
		return changes{All: s.all()}
	}
	out := changes{Gone: gone}
	for _, p := range puts {
		out.Put = append(out.Put, s.put(p))
	}
	return out
}

func (s *section) put(p placed) put {
	one := put{Key: p.key, Value: s.value(&p.entry)}
	if p.moves {
		one.After = &p.after
	}
	return one
}

// single tells that the section stands for one value.
func (s *section) single() bool {
	return len(s.groups) == 1 && len(*s.groups[0]) == 1 && (*s.groups[0])[0].key == ""
}

// apart flattens what lies between the groups that both lists begin and end
// with; last is the key before it, "" at the start.
func apart(from, to []*group) (was, is []entry, last string) {
	for len(from) > 0 && len(to) > 0 && from[0] == to[0] {
		if n := len(*from[0]); n > 0 {
			last = (*from[0])[n-1].key
		}
		from, to = from[1:], to[1:]
	}
	for len(from) > 0 && len(to) > 0 && from[len(from)-1] == to[len(to)-1] {
		from, to = from[:len(from)-1], to[:len(to)-1]
	}
	return flat(from), flat(to), last
}

func flat(groups []*group) []entry {
	var out []entry
	for _, g := range groups {
		out = append(out, *g...)
	}
	return out
}

// placed is an entry with where it goes.
type placed struct {
	entry
	after string
	moves bool
}

// differ gives what makes one list of entries into another, to be done in
// order: entries that are new, that changed, that stand elsewhere; and those
// that are gone. What stands before both lists is named by last.
func differ(from, to []entry, last string) (puts []placed, gone []string) {
	at := make(map[string]int, len(from))
	for i := range from {
		at[from[i].key] = i
	}
	kept, furthest := make([]bool, len(from)), -1
	for _, e := range to {
		i, known := at[e.key]
		moves := !known || i < furthest
		if known {
			kept[i], furthest = true, max(furthest, i)
		}
		if moves || from[i].text != e.text {
			puts = append(puts, placed{e, last, moves})
		}
		last = e.key
	}
	for i := range from {
		if !kept[i] {
			gone = append(gone, from[i].key)
		}
	}
	return puts, gone
}

// since answers a page with what is new to it, nothing where nothing is.
func (s Screen) since(storey storeyKey, now *shown, have, overlay string) []templ.Component {
	before := s.kept.find(storey, have)
	if before == now {
		return nil
	}
	told := now.since(before)
	told.Overlay = s.overlayNews(storey, now, overlay)
	parts := []templ.Component{newsPart(jsonOf(told))}
	if before == nil || before.shell != now.shell {
		parts = append([]templ.Component{edits.DeskPart(now.shell)}, parts...)
	}
	return parts
}

func (s *shown) sameAs(o *shown) bool {
	return s.shell == o.shell && slices.EqualFunc(s.sections, o.sections, func(a, b section) bool {
		from, to, last := apart(a.groups, b.groups)
		puts, gone := differ(from, to, last)
		return len(puts)+len(gone) == 0
	})
}
