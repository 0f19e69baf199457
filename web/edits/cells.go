package edits

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
)

// mostCells is how many cells one request may set: a pasted block of 500 rows
// by 20.
const mostCells = 10000

// mostBytes bounds the form that one edit may send.
const mostBytes = 4 << 20

// Cell is one field with the text that a person typed.
type Cell struct{ Path, Text string }

// ReadCells reads the cells of a request: "edits" as JSON [[path, text], ...],
// or one "path" with its "text".
func ReadCells(r *http.Request) ([]Cell, error) {
	r.Body = http.MaxBytesReader(nil, r.Body, mostBytes)
	if err := r.ParseForm(); err != nil {
		return nil, fmt.Errorf("reading the cells: %w", err)
	}
	if path := r.PostForm.Get("path"); path != "" {
		return []Cell{{path, r.PostForm.Get("text")}}, nil
	}
	var pairs [][2]string
	if err := json.Unmarshal([]byte(r.PostForm.Get("edits")), &pairs); err != nil {
		return nil, Refusef("the cells could not be read: reload the page and try again")
	}
	if len(pairs) == 0 || len(pairs) > mostCells {
		return nil, Refusef("%d cells at once: send 1 to %d", len(pairs), mostCells)
	}
	cells := make([]Cell, len(pairs))
	for i, p := range pairs {
		cells[i] = Cell{p[0], p[1]}
	}
	return cells, nil
}

// Row reads which row a button stands in: "book/lc-4" gives "book" and "lc-4".
func Row(r *http.Request) (part string, id domain.ID) {
	part, rest, _ := strings.Cut(r.FormValue("row"), "/")
	return part, domain.ID(rest)
}

// Refusef gives an error that a person can act on.
func Refusef(format string, args ...any) error {
	return &edit.Refused{Err: fmt.Errorf(format, args...)}
}

// Refusef gives an error that stands beside the cell.
func (c Cell) Refusef(format string, args ...any) error {
	return &edit.FieldError{Path: c.Path, Text: c.Text, Err: fmt.Errorf(format, args...)}
}

// Gone says that what the cell belongs to, "this luminaire type", was removed.
func (c Cell) Gone(what string) error {
	return c.Refusef("%s is no longer there: it may have been removed in another window", what)
}

// SetEach sets cells one after the other and joins what they did for the
// journal.
func SetEach(cells []Cell, set func(Cell) (string, error)) (string, error) {
	said := make([]string, 0, len(cells))
	for _, c := range cells {
		one, err := set(c)
		if err != nil {
			return "", err
		}
		said = append(said, one)
	}
	return Told(said), nil
}

// SetField sets one field of a thing from typed text and says what changed. An
// error names the cell.
func SetField[T any](env domain.Env, fields []domain.Field[T], x *T, c Cell, name, tag string) (string, error) {
	f, ok := domain.FieldNamed(fields, name)
	if !ok {
		return "", c.Refusef("there is no field %q", name)
	}
	before := f.Show(env, x)
	if err := f.Set(env, x, c.Text); err != nil {
		return "", &edit.FieldError{Path: c.Path, Text: c.Text, Err: err}
	}
	after := f.Show(env, x)
	if before == after {
		return "", nil
	}
	return fmt.Sprintf("%s: %s %s -> %s", tag, strings.ToLower(f.Title), orNone(before), orNone(after)), nil
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	if r := []rune(text); len(r) > 40 {
		return string(r[:37]) + "..."
	}
	return text
}

// Told joins what several cells did into one line for the journal.
func Told(said []string) string {
	var real []string
	for _, s := range said {
		if s != "" {
			real = append(real, s)
		}
	}
	switch len(real) {
	case 0:
		return "nothing changed"
	case 1:
		return real[0]
	}
	return fmt.Sprintf("%s and %d more", real[0], len(real)-1)
}
