package exchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/delta"
)

// Read reads an exchange file. A file that it does not take in whole gives a
// *Refused with every reason it found; other errors are those of r.
func Read(r io.Reader) (*domain.Scope, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading the exchange file: %w", err)
	}
	if len(data) > MaxBytes {
		return nil, refuse("", "the file is larger than %d MB: split the project", MaxBytes>>20)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if err := checkBytes(data); err != nil {
		return nil, err
	}
	top, err := openDocument(data)
	if err != nil {
		return nil, err
	}
	return readParts(top)
}

// LooksLike tells whether a file is meant to be an exchange file, by its start.
func LooksLike(data []byte) bool {
	data = bytes.TrimLeft(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), " \t\r\n")
	return bytes.HasPrefix(data, []byte("{"))
}

// openDocument reads what the file says of itself, before what a newer version
// may have added is called unknown.
func openDocument(data []byte) (map[string]json.RawMessage, error) {
	var top map[string]json.RawMessage
	if err := json.Unmarshal(data, &top); err != nil || top == nil {
		return nil, refuse("", "this is not an exchange file: the document is no JSON object")
	}
	var format string
	if err := json.Unmarshal(top["format"], &format); err != nil || format != Format {
		return nil, refuse("/format", "this is not an exchange file of Scopewright: \"format\" must be %q", Format)
	}
	version, err := strconv.ParseInt(string(top["version"]), 10, 64)
	switch {
	case err != nil || version < 1:
		return nil, refuse("/version", "\"version\" must be %d", Version)
	case version > Version:
		return nil, refuse("/version", "the file was written by a newer version of the program (file version %d, this program reads %d): update the program", version, Version)
	}
	if top["project"] == nil {
		return nil, refuse("/project", "\"project\" is missing")
	}
	for name := range top {
		if !slices.Contains([]string{"format", "version", "project", "typicals", "plans", "rooms", "reviews", "sign_offs"}, name) {
			return nil, refuse("/"+escaped(name), "%q is not a field of the exchange file: take it out or mend its spelling", short(name))
		}
	}
	return top, nil
}

func readParts(top map[string]json.RawMessage) (*domain.Scope, error) {
	in := &reader{}
	var s domain.Scope
	in.part("project", "/project", top["project"], &s.Project)
	s.Typicals = readList[domain.Typical](in, "typical", "typicals", top, domain.MaxTypicals)
	s.Plans = readList[domain.Plan](in, "plan", "plans", top, domain.MaxPlans)
	s.Rooms = readList[domain.Room](in, "room", "rooms", top, domain.MaxRooms)
	s.Reviews = readList[domain.Review](in, "review", "reviews", top, 2000000)
	s.SignOffs = readList[domain.SignOff](in, "sign_off", "sign_offs", top, 200000)
	if in.err != nil {
		return nil, in.err
	}
	if len(in.problems) == 0 {
		in.problems = s.Check()
	}
	if len(in.problems) > 0 {
		return nil, &Refused{in.problems}
	}
	return &s, settle(&s)
}

// settle puts everything as Write would put it, so that what was read compares
// equal to what the program itself holds.
func settle(s *domain.Scope) error {
	for i := range s.Rooms {
		r := &s.Rooms[i]
		for j, e := range r.Exceptions {
			fixed, err := e.Canonical(&domain.Design{})
			if err != nil {
				return refuse(fmt.Sprintf("/rooms/%d/exceptions/%d", i, j), "%v", err)
			}
			r.Exceptions[j] = fixed
		}
	}
	reviews, signOffs := slices.Clone(s.Reviews), slices.Clone(s.SignOffs)
	delta.Sort(s)
	s.Reviews, s.SignOffs = reviews, signOffs
	return nil
}

// reader gathers problems over the parts of a document.
type reader struct {
	problems []domain.Problem
	err      error
}

func (in *reader) add(path, format string, args ...any) {
	in.problems = append(in.problems, domain.Problem{Path: path, Message: fmt.Sprintf(format, args...)})
}

func (in *reader) stop() bool { return in.err != nil || len(in.problems) >= domain.MostProblems }

// part checks one part against its schema and decodes it.
func (in *reader) part(name, path string, raw json.RawMessage, into any) {
	if in.stop() {
		return
	}
	var plain any
	if err := json.Unmarshal(raw, &plain); err != nil {
		in.add(path, "%s", decoding(err))
		return
	}
	problems, err := fits(name, path, plain)
	if err != nil {
		in.err = err
		return
	}
	if len(problems) > 0 {
		in.problems = append(in.problems, problems...)
		return
	}
	if err := json.Unmarshal(raw, into); err != nil {
		in.add(path, "%s", decoding(err))
	}
}

func decoding(err error) string {
	var wrong *json.UnmarshalTypeError
	if !errors.As(err, &wrong) {
		return err.Error()
	}
	where := ""
	if wrong.Field != "" {
		where = wrong.Field + ": "
	}
	return fmt.Sprintf("%s%s cannot be read here: write a smaller number, and whole numbers without point or exponent", where, short(wrong.Value))
}

func readList[T any](in *reader, part, name string, top map[string]json.RawMessage, most int) []T {
	raw, given := top[name]
	if !given || in.stop() {
		return nil
	}
	delete(top, name) // a large list is in memory often enough
	var parts []json.RawMessage
	if err := json.Unmarshal(raw, &parts); err != nil || parts == nil {
		in.add("/"+name, "this must be a list")
		return nil
	}
	if len(parts) > most {
		in.add("/"+name, "the list has %d elements; at most %d can be read", len(parts), most)
		return nil
	}
	out := make([]T, len(parts))
	for i, raw := range parts {
		in.part(part, fmt.Sprintf("/%s/%d", name, i), raw, &out[i])
		parts[i] = nil
	}
	return out
}
