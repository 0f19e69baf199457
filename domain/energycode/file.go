package energycode

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// The worksheet file: one JSON document.
const (
	FileFormat  = "scopewright-energy-code"
	FileVersion = 1
	MaxBytes    = 8 << 20
	maxDepth    = 8
	mostFaults  = 12 // told of one file
)

// document is the file as it is written.
type document struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	Pack    *Pack  `json:"pack"`
}

// Refused says why a worksheet file is not taken: every reason found, up to a dozen,
// each with its place. Nothing of such a file is kept.
type Refused struct{ Faults []string }

func (e *Refused) Error() string { return strings.Join(e.Faults, "; ") }

func refuse(format string, args ...any) error {
	return &Refused{[]string{fmt.Sprintf(format, args...)}}
}

// Write writes a pack as a worksheet file.
func Write(w io.Writer, p *Pack) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(document{FileFormat, FileVersion, p})
}

// Read reads a worksheet file whole or not at all: its errors are *Refused, or those
// of the reader.
func Read(r io.Reader) (*Pack, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading the worksheet: %w", err)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	switch {
	case len(data) > MaxBytes:
		return nil, refuse("the file is larger than %d MB: no worksheet is", MaxBytes>>20)
	case len(bytes.TrimSpace(data)) == 0:
		return nil, refuse("the file is empty: choose the file that export wrote")
	case !utf8.Valid(data):
		return nil, refuse("the file holds bytes that are not UTF-8: save it as UTF-8")
	}
	if err := scan(data); err != nil {
		return nil, err
	}
	p, err := decode(data)
	if err != nil {
		return nil, err
	}
	p.own = true
	if faults := p.faults(); len(faults) > 0 {
		return nil, &Refused{faults}
	}
	p.reindex()
	return p, nil
}

// decode makes the document's values, once what the file says of itself is right.
func decode(data []byte) (*Pack, error) {
	var head struct {
		Format  string          `json:"format"`
		Version json.RawMessage `json:"version"`
		Pack    json.RawMessage `json:"pack"`
	}
	err := json.Unmarshal(data, &head)
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &kind):
		return nil, typeFault(data, kind)
	case err != nil:
		return nil, refuse("the file is no worksheet: %v", err)
	case head.Format != FileFormat:
		return nil, refuse("this is no energy-code worksheet: \"format\" must be %q", FileFormat)
	case string(head.Version) != fmt.Sprint(FileVersion):
		return nil, refuse("\"version\" is %s, this program reads %d: update the program, or export the worksheet again", short(string(head.Version)), FileVersion)
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	var doc document
	err = dec.Decode(&doc)
	switch {
	case errors.As(err, &kind):
		return nil, typeFault(data, kind)
	case err != nil:
		return nil, refuse("line %d: %s: take it out or mend its spelling", lineOf(data, int(dec.InputOffset())), strings.TrimPrefix(err.Error(), "json: "))
	case doc.Pack == nil:
		return nil, refuse("\"pack\" is missing")
	}
	return doc.Pack, nil
}

func typeFault(data []byte, e *json.UnmarshalTypeError) error {
	want := map[string]string{"string": "a text in quotes", "float64": "a number", "int": "a whole number", "slice": "a list", "struct": "an object"}[e.Type.Kind().String()]
	if want == "" {
		want = e.Type.Kind().String()
	}
	if e.Field == "" {
		return refuse("the file is no worksheet: the document is no JSON object")
	}
	return refuse("line %d: %q is a %s and must be %s", lineOf(data, int(e.Offset)), e.Field, e.Value, want)
}

func lineOf(data []byte, offset int) int {
	return 1 + bytes.Count(data[:max(0, min(offset, len(data)))], []byte("\n"))
}

// scan walks the document and refuses what a decoder would let pass: names given
// twice or in other letters, depth without end, something after the end.
func scan(data []byte) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	var names []map[string]bool // of the open objects; nil for a list
	key := false                // a name comes next
	for {
		token, err := dec.Token()
		line := lineOf(data, int(dec.InputOffset()))
		switch {
		case err == io.EOF:
			if len(names) > 0 {
				return refuse("the file ends in the middle: it was cut off, fetch it again")
			}
			return refuse("the file is no worksheet: it holds no document")
		case err != nil:
			return refuse("line %d is not JSON: %v", line, err)
		}
		if text, ok := token.(string); ok && key {
			if err := nameFault(names[len(names)-1], text, line); err != nil {
				return err
			}
			key = false
			continue
		}
		switch token {
		case json.Delim('{'):
			names, key = append(names, map[string]bool{}), true
		case json.Delim('['):
			names, key = append(names, nil), false
		case json.Delim('}'), json.Delim(']'):
			names = names[:len(names)-1]
		}
		if len(names) > maxDepth {
			return refuse("line %d: the document nests deeper than %d levels", line, maxDepth)
		}
		if len(names) == 0 {
			return endFault(dec, data)
		}
		if token != json.Delim('{') {
			key = names[len(names)-1] != nil
		}
	}
}

func nameFault(seen map[string]bool, text string, line int) error {
	if text != strings.ToLower(text) {
		return refuse("line %d: %q is not a name of the worksheet: names are in small letters", line, short(text))
	}
	if seen[text] {
		return refuse("line %d: %q is given twice: take one out", line, short(text))
	}
	seen[text] = true
	return nil
}

func endFault(dec *json.Decoder, data []byte) error {
	if _, err := dec.Token(); err != io.EOF {
		return refuse("line %d: something follows after the end of the document: take it out", lineOf(data, int(dec.InputOffset())))
	}
	return nil
}

// faults lists what is wrong with a pack's content, each with its place.
func (p *Pack) faults() []string {
	var out []string
	tell := func(place string, err error) {
		if err == nil {
			return
		}
		for line := range strings.SplitSeq(err.Error(), "\n") {
			if len(out) < mostFaults {
				out = append(out, place+": "+line)
			}
		}
	}
	tell("pack", errors.Join(p.checkHead()...))
	p.checkSpaces(tell)
	seen := map[string]int{}
	twice := func(list string, i int, key string) string {
		place := fmt.Sprintf("%s, row %d (%s)", list, i+1, short(key))
		if first, again := seen[list+key]; again {
			tell(place, fmt.Errorf("row %d says the same thing: take one out", first))
		} else {
			seen[list+key] = i + 1
		}
		return place
	}
	for i := range p.Parameters {
		q := &p.Parameters[i]
		tell(twice("parameters", i, string(q.Control)+" "+q.Name), q.check())
	}
	for i := range p.Requirements {
		r := &p.Requirements[i]
		tell(twice("requirements", i, r.Space+" "+string(r.Control)), r.check(p))
	}
	for i := range p.Densities {
		d := &p.Densities[i]
		tell(twice("densities", i, d.Space), d.check(p))
	}
	return out
}

func (p *Pack) checkSpaces(tell func(string, error)) {
	if len(p.Spaces) == 0 {
		tell("spaces", errors.New("there is none: list the kinds of space"))
	}
	if n := max(len(p.Spaces), len(p.Parameters), len(p.Requirements), len(p.Densities)); n > mostRows {
		tell("pack", fmt.Errorf("a list has %d rows, at most %d are taken", n, mostRows))
	}
	seen := map[string]bool{}
	for i, s := range p.Spaces {
		place := fmt.Sprintf("spaces, row %d (%s)", i+1, short(s.ID))
		if !name.MatchString(s.ID) {
			tell(place, errors.New("id must be small letters, digits and underlines"))
		}
		if strings.TrimSpace(s.Name) == "" {
			tell(place, errors.New("name is missing: say how it is called"))
		}
		tell(place, errors.Join(plain("name", s.Name)...))
		if seen[s.ID] {
			tell(place, errors.New("the id is given twice: take one out"))
		}
		seen[s.ID] = true
	}
}
