// Package exchange writes and reads the exchange file: one JSON document that
// holds a whole project, described by schema.json. What is read and written
// again has the same bytes.
package exchange

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// The words by which a file says what it is.
const (
	Format  = "scopewright-project"
	Version = 1
)

// Write writes a project as an exchange file: lists in their order, two spaces
// of indent, a line break at the end. It leaves the scope as it is, and holds
// one room at a time besides it.
func Write(w io.Writer, s *domain.Scope) error {
	out := &writer{w: bufio.NewWriterSize(w, 1<<16)}
	out.text("{\n  \"format\": \"" + Format + "\",\n  \"version\": " + fmt.Sprint(Version) + ",\n  \"project\": ")
	project, err := sortedProject(&s.Project)
	if err != nil {
		return err
	}
	out.value(project, "  ")
	list(out, "typicals", inOrder(s.Typicals, bySeq), sortedTypical)
	list(out, "plans", inOrder(s.Plans, func(a, b *domain.Plan) int { return cmp.Compare(a.ID, b.ID) }), sortedPlan)
	list(out, "rooms", inOrder(s.Rooms, func(a, b *domain.Room) int { return cmp.Compare(a.ID, b.ID) }), sortedRoom)
	list(out, "reviews", asTheyCame(s.Reviews), func(r *domain.Review) any { return r })
	list(out, "sign_offs", asTheyCame(s.SignOffs), func(o *domain.SignOff) any { return o })
	out.text("\n}\n")
	if out.err != nil {
		return fmt.Errorf("writing the exchange file: %w", out.err)
	}
	return out.w.Flush()
}

func bySeq(a, b *domain.Typical) int {
	return cmp.Or(cmp.Compare(a.Seq, b.Seq), cmp.Compare(a.ID, b.ID))
}

func sortedProject(p *domain.Project) (*domain.Project, error) {
	b, err := json.Marshal(p)
	if err != nil {
		return nil, fmt.Errorf("writing the exchange file: %w", err)
	}
	var own domain.Project
	if err := json.Unmarshal(b, &own); err != nil {
		return nil, fmt.Errorf("writing the exchange file: %w", err)
	}
	delta.Sort(&own)
	return &own, nil
}

func sortedTypical(t *domain.Typical) any {
	own := *t
	own.Design = t.Design.Clone()
	delta.Sort(&own)
	return &own
}

func sortedPlan(p *domain.Plan) any {
	own := *p
	own.Walls = slices.Clone(p.Walls)
	for i := range own.Walls {
		own.Walls[i].Openings = slices.Clone(own.Walls[i].Openings)
	}
	delta.Sort(&own)
	return &own
}

func sortedRoom(r *domain.Room) any {
	own := r.Clone()
	delta.Sort(own)
	return own
}

// inOrder gives pointers to the elements, sorted, and moves nothing.
func inOrder[T any](elements []T, compare func(a, b *T) int) []*T {
	out := asTheyCame(elements)
	slices.SortStableFunc(out, compare)
	return out
}

// asTheyCame is for what was said one after the other: the newest verdict and
// the newest sign-off hold.
func asTheyCame[T any](elements []T) []*T {
	out := make([]*T, len(elements))
	for i := range elements {
		out[i] = &elements[i]
	}
	return out
}

// writer keeps the first error.
type writer struct {
	w   *bufio.Writer
	buf bytes.Buffer
	err error
}

func (o *writer) text(s string) {
	if o.err == nil {
		_, o.err = o.w.WriteString(s)
	}
}

func (o *writer) value(v any, prefix string) {
	if o.err != nil {
		return
	}
	o.buf.Reset()
	enc := json.NewEncoder(&o.buf)
	enc.SetEscapeHTML(false)
	enc.SetIndent(prefix, "  ")
	if o.err = enc.Encode(v); o.err == nil {
		_, o.err = o.w.Write(bytes.TrimSuffix(o.buf.Bytes(), []byte("\n")))
	}
}

func list[T any](o *writer, name string, elements []*T, sorted func(*T) any) {
	if len(elements) == 0 {
		return
	}
	o.text(",\n  \"" + name + "\": [")
	for i, e := range elements {
		if i > 0 {
			o.text(",")
		}
		o.text("\n    ")
		o.value(sorted(e), "    ")
	}
	o.text("\n  ]")
}
