package book

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/web/edits"
)

// What an equipment file says of itself.
const (
	fileFormat  = "scopewright-equipment"
	fileVersion = 1
	mostFile    = 4 << 20 // bytes
	mostSaid    = 8       // problems that one answer lists
)

// file is a book with its limits, to carry from one project to another.
type file struct {
	Format  string         `json:"format"`
	Version int            `json:"version"`
	Book    equipment.Book `json:"book"`
	Limits  domain.Limits  `json:"limits"`
}

// writeFile writes all types and all limits, the generic ones included, so
// that the file says on its own what holds.
func writeFile(w io.Writer, p *domain.Project) error {
	out := file{Format: fileFormat, Version: fileVersion, Book: p.Book}
	for _, g := range domain.GenericLimits() {
		out.Limits = append(out.Limits, p.Limits.Find(g.ID))
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}

// readFile reads an equipment file; what it refuses, it says in sentences.
func readFile(data []byte) (*file, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, edits.Refusef("the file is empty: choose a file that was saved here with \"Save as a file\"")
	}
	var head struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	err := json.Unmarshal(data, &head)
	switch {
	case err != nil || head.Format != fileFormat:
		return nil, edits.Refusef("this is no equipment file: choose one that was saved here with \"Save as a file\" (%q must be %q)", "format", fileFormat)
	case head.Version > fileVersion:
		return nil, edits.Refusef("the file was written by a newer version of the program (file version %d, this program reads %d): update the program", head.Version, fileVersion)
	}
	var f file
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&f); err != nil {
		return nil, edits.Refusef("the file cannot be read: %s", strings.TrimPrefix(err.Error(), "json: "))
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return nil, edits.Refusef("the file has something after its end: save it again")
	}
	return &f, f.check()
}

// check refuses what could not stand in a project: values out of range, text
// that cannot be printed, IDs given twice.
func (f *file) check() error {
	if len(f.Book) > mostTypes {
		return edits.Refusef("the file has %d types; a book holds at most %d", len(f.Book), mostTypes)
	}
	probe := domain.Scope{Project: domain.Project{ID: "p", Name: "p", Units: "SI", Book: f.Book, Limits: f.Limits}}
	var said []string
	for _, problem := range probe.Check() {
		if len(said) == mostSaid {
			said = append(said, "and more")
			break
		}
		said = append(said, fmt.Sprintf("%s: %s", strings.TrimPrefix(problem.Path, "/project"), problem.Message))
	}
	if len(said) > 0 {
		return edits.Refusef("nothing was taken in, because of what the file says at %s", strings.Join(said, "; "))
	}
	return nil
}

// counts says what taking a file in did.
type counts struct{ Added, Changed, Same, Limits int }

func (c counts) String() string {
	return fmt.Sprintf("%s added, %d changed, %d the same; %s changed", edits.Count(c.Added, "type"), c.Changed, c.Same, edits.Count(c.Limits, "limit"))
}

// takeIn adds the file's types to the project's book; one with an ID that the
// book has takes its place. Types that the file does not name stay.
func (f *file) takeIn(p *domain.Project) (c counts, err error) {
	for _, t := range f.Book {
		known := p.Book.Find(t.ID)
		switch {
		case named(p.Book, t.Name, t.ID):
			return c, edits.Refusef("the book has another type named %s already (the file's has the ID %s): rename one of them first", t.Name, t.ID)
		case known == nil:
			t.Seq = nextSeq(p.Book)
			p.Book = append(p.Book, t)
			c.Added++
		default:
			t.Seq = known.Seq
			if sameType(*known, t) {
				c.Same++
				continue
			}
			*known = t
			c.Changed++
		}
	}
	if len(p.Book) > mostTypes {
		return c, edits.Refusef("the book would have %d types; at most %d fit", len(p.Book), mostTypes)
	}
	for _, l := range f.Limits {
		generic, _ := genericLimit(l.ID)
		l.Title, l.Unit = generic.Title, generic.Unit
		if p.Limits.Find(l.ID) != l {
			*p.Limits.Own(l.ID) = l
			c.Limits++
		}
	}
	return c, nil
}

func sameType(a, b equipment.Type) bool {
	x, _ := json.Marshal(a) // plain data always marshals
	y, _ := json.Marshal(b)
	return bytes.Equal(x, y)
}
