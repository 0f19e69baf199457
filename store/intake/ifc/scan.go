package ifc

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"scopewright/store/intake/building"
)

// instance is one #n=KIND(...); of the file, its attributes still as text.
type instance struct {
	id       int
	kind     string
	from, to int // of the attributes, without the brackets
}

// file is the index of a STEP file. Attributes are read when they are asked
// for: most of a model (furniture, styles, properties) never is.
type file struct {
	data       []byte
	schema     string
	instances  []instance // sorted by id
	byKind     map[string][]int
	ctx        context.Context
	values     int // attributes read so far
	calls      int // instances read so far
	repeated   int
	repeatedID int
}

// scanner walks the bytes of a STEP file.
type scanner struct {
	ctx      context.Context
	progress building.Progress
	data     []byte
	at       int
	f        *file
	kinds    map[string]string
}

func scan(ctx context.Context, data []byte, progress building.Progress) (*file, error) {
	s := &scanner{ctx: ctx, progress: progress, data: data, f: &file{ctx: ctx, data: data, byKind: map[string][]int{}}, kinds: map[string]string{}}
	if err := s.header(); err != nil {
		return nil, err
	}
	if err := s.sections(); err != nil {
		return nil, err
	}
	s.f.sort()
	if progress != nil {
		progress(int64(len(data)), int64(len(data)))
	}
	return s.f, nil
}

func (s *scanner) line(at int) string {
	return "line " + building.Count(bytes.Count(s.data[:min(at, len(s.data))], []byte("\n"))+1)
}

func (s *scanner) incomplete(what string) error {
	return fmt.Errorf("the file ends inside %s (%s): it is incomplete; export or copy it again", what, s.line(len(s.data)))
}

// blank moves over white space and comments.
func (s *scanner) blank() { s.at += blanks(s.data[s.at:]) }

// blanks counts the bytes of white space and comments at the start of a text.
func blanks(text []byte) int {
	at := 0
	for at < len(text) {
		switch c := text[at]; {
		case c == ' ' || c == '\t' || c == '\r' || c == '\n':
			at++
		case c == '/' && at+1 < len(text) && text[at+1] == '*':
			end := bytes.Index(text[at+2:], []byte("*/"))
			if end < 0 {
				return len(text)
			}
			at += end + 4
		default:
			return at
		}
	}
	return at
}

// statement moves behind the next semicolon outside strings and comments, and
// gives what stands before it. Brackets deeper than maxDepth are refused.
func (s *scanner) statement() (from, to int, err error) {
	from = s.at
	depth := 0
	for s.at < len(s.data) {
		switch s.data[s.at] {
		case '\'':
			end := bytes.IndexByte(s.data[s.at+1:], '\'')
			if end < 0 {
				s.at = len(s.data)
				return from, s.at, s.incomplete("a text")
			}
			s.at += end + 2 // a doubled quote opens the next piece at once
			continue
		case '/':
			if before := s.at; s.at+1 < len(s.data) && s.data[s.at+1] == '*' {
				s.blank()
				if s.at > before {
					continue
				}
			}
		case '(':
			if depth++; depth > maxDepth {
				return from, s.at, fmt.Errorf("lists are nested more than %d deep (%s): this is no building model", maxDepth, s.line(s.at))
			}
		case ')':
			depth--
		case ';':
			s.at++
			return from, s.at - 1, nil
		}
		s.at++
	}
	what := "a statement"
	if head := bytes.TrimSpace(s.data[from:min(len(s.data), from+40)]); len(head) > 0 && head[0] == '#' {
		what = string(head[:max(1, bytes.IndexAny(append(head, '='), "= ("))])
	}
	return from, s.at, s.incomplete(what)
}

// header reads up to DATA; for the schema.
func (s *scanner) header() error {
	for {
		s.blank()
		if s.at >= len(s.data) {
			return s.incomplete("the header")
		}
		from, to, err := s.statement()
		if err != nil {
			return err
		}
		text := strings.TrimSpace(string(s.data[from:min(to, from+2000)]))
		upper := strings.ToUpper(text)
		switch {
		case strings.HasPrefix(upper, "FILE_SCHEMA"):
			if s.f.schema = schemaOf(text); !strings.HasPrefix(s.f.schema, "IFC") {
				return fmt.Errorf("this STEP file follows the schema '%s', which is no building model (IFC): export it as IFC", cut(s.f.schema, 40))
			}
		case strings.HasPrefix(upper, "DATA"):
			if s.f.schema == "" {
				return fmt.Errorf("the header names no schema (FILE_SCHEMA), so this cannot be read as IFC: export it again")
			}
			return nil
		}
	}
}

func schemaOf(text string) string {
	_, rest, _ := strings.Cut(text, "'")
	name, _, _ := strings.Cut(rest, "'")
	return strings.ToUpper(strings.TrimSpace(name))
}

// sections reads the instances of DATA sections up to the end mark.
func (s *scanner) sections() error {
	inside := true
	for n := 0; ; n++ {
		if n%4096 == 0 {
			if err := s.ctx.Err(); err != nil {
				return err
			}
			if s.progress != nil {
				s.progress(int64(s.at), int64(len(s.data)))
			}
		}
		s.blank()
		if s.at >= len(s.data) {
			if inside {
				return s.incomplete("the section DATA")
			}
			return nil // without its end mark, but with all of its data
		}
		from, to, err := s.statement()
		if err != nil {
			return err
		}
		if s.data[from] == '#' {
			if err := s.instance(from, to); err != nil {
				return err
			}
			continue
		}
		switch word := strings.ToUpper(strings.TrimSpace(string(s.data[from:min(to, from+40)]))); {
		case word == "ENDSEC":
			inside = false
		case strings.HasPrefix(word, "DATA"):
			inside = true
		case word == "END-ISO-10303-21":
			if inside {
				return s.incomplete("the section DATA")
			}
			return nil
		default:
			return fmt.Errorf("%s holds %q where an instance (#1=...) should stand: the file is damaged", s.line(from), cut(word, 30))
		}
	}
}

// instance notes #n = KIND ( ... ). Instances of several kinds at once (they
// start with a bracket) have no kind here.
func (s *scanner) instance(from, to int) error {
	text := s.data[from+1 : to]
	id, n := 0, 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' && n < 15 {
		id = id*10 + int(text[n]-'0')
		n++
	}
	rest := text[n:]
	rest = rest[blanks(rest):]
	if n == 0 || len(rest) == 0 || rest[0] != '=' {
		return fmt.Errorf("%s: %q is no instance: the file is damaged", s.line(from), cut(string(s.data[from:min(to, from+30)]), 30))
	}
	rest = rest[1:]
	rest = rest[blanks(rest):]
	open, shut := bytes.IndexByte(rest, '('), bytes.LastIndexByte(rest, ')')
	if open < 0 || shut < open {
		return fmt.Errorf("%s: instance #%d has no attributes in brackets: the file is damaged", s.line(from), id)
	}
	if len(s.f.instances) >= MaxInstances {
		return fmt.Errorf("the file has more than %s instances (stopped at %s): export spaces, storeys, walls and windows only", building.Count(MaxInstances), s.line(from))
	}
	name := bytes.TrimSpace(rest[:open])
	kind, ok := s.kinds[string(name)]
	if !ok {
		if len(name) > 100 || len(s.kinds) > 5000 {
			name = nil
		}
		kind = strings.ToUpper(string(name))
		s.kinds[kind] = kind
	}
	start := to - len(rest)
	s.f.instances = append(s.f.instances, instance{id, kind, start + open + 1, start + shut})
	return nil
}

// sort orders the instances by id, in which writers mostly give them, and
// keeps the first of those with one id.
func (f *file) sort() {
	byID := func(a, b instance) int { return a.id - b.id }
	if !slices.IsSortedFunc(f.instances, byID) {
		slices.SortStableFunc(f.instances, byID)
	}
	f.instances = slices.CompactFunc(f.instances, func(a, b instance) bool {
		if a.id == b.id {
			if f.repeated++; f.repeated == 1 {
				f.repeatedID = a.id
			}
			return true
		}
		return false
	})
	for _, in := range f.instances {
		f.byKind[in.kind] = append(f.byKind[in.kind], in.id)
	}
}

// find gives the instance with an id.
func (f *file) find(id int) (instance, bool) {
	i, ok := slices.BinarySearchFunc(f.instances, id, func(in instance, id int) int { return in.id - id })
	if !ok {
		return instance{}, false
	}
	return f.instances[i], true
}

// all gives the ids of the instances of some kinds, in ascending order.
func (f *file) all(kinds ...string) []int {
	var out []int
	for _, k := range kinds {
		out = append(out, f.byKind[k]...)
	}
	slices.Sort(out)
	return out
}

func cut(text string, n int) string {
	if r := []rune(text); len(r) > n {
		return string(r[:n]) + "..."
	}
	return text
}

// were prints "1 wall was", "2 walls were".
func were(n int, what string) string {
	if n == 1 {
		return "1 " + what + " was"
	}
	return building.Count(n) + " " + what + "s were"
}
