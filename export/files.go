package export

import (
	"errors"
	"fmt"
	"html"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"scopewright/domain"
	"scopewright/export/sheet"
)

// Save writes a file whole or not at all: beside its place first, then moved
// there. A file that is there is replaced.
func Save(path string, write func(io.Writer) error) (err error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return fmt.Errorf("%s is a folder: name a file in it", path)
	}
	half, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.part")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w: check that its folder is there and may be written to", path, reason(err))
	}
	defer func() {
		if err != nil {
			_ = os.Remove(half.Name())
			err = fmt.Errorf("%s was not written: %w", path, reason(err))
		}
	}()
	if err = write(half); err == nil {
		err = half.Sync()
	}
	if closed := half.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Chmod(half.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(half.Name(), path)
	}
	return err
}

// reason gives what the system said, without the name of the file beside the
// place that nobody asked for.
func reason(err error) error {
	var onPath *fs.PathError
	var onLink *os.LinkError
	switch {
	case errors.As(err, &onPath):
		return onPath.Err
	case errors.As(err, &onLink):
		return onLink.Err
	}
	return err
}

// MakeFolder makes the folder that files are written to, where it is not there.
func MakeFolder(path string) error {
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		return fmt.Errorf("%s is a file: name a folder to write to", path)
	}
	if err := os.MkdirAll(path, 0o755); err != nil {
		return fmt.Errorf("the folder %s cannot be made: %w: name another one", path, reason(err))
	}
	return nil
}

// groups are names for several kinds at once.
var groups = map[string][]string{"sheets": {"scope"}, "schedule": {"loads", "devices", "bill"}}

// KindsNamed gives the kind of that ID, or those of a group: "sheets" is the
// room scope sheets, "schedule" the load and device schedules and the bill.
func KindsNamed(name string) ([]Kind, error) {
	ids := groups[name]
	if ids == nil {
		ids = []string{name}
	}
	var out []Kind
	for _, id := range ids {
		k, err := KindByID(id)
		if err != nil {
			return nil, fmt.Errorf("%w, or sheets, schedule or json", err)
		}
		out = append(out, k)
	}
	return out, nil
}

// RoomNumbered picks the rooms of a number; an empty one picks all.
func RoomNumbered(scope *domain.Scope, number string) (sheet.Only, error) {
	var only sheet.Only
	if number == "" {
		return only, nil
	}
	for i := range scope.Rooms {
		if r := &scope.Rooms[i]; domain.CompareNumbers(r.Number, number) == 0 {
			only.Rooms = append(only.Rooms, r.ID)
		}
	}
	if only.Rooms == nil {
		return only, fmt.Errorf("the project has no room %s", number)
	}
	return only, nil
}

// Files makes a document and saves it in a folder: one file, but for CSV one a
// table and for SVG and DXF one a drawing. It gives the paths of what it wrote. Styles are for HTML, which must
// stand by itself.
func Files(folder string, k Kind, f Format, in sheet.Input, only sheet.Only, opt Options, styles string) ([]string, error) {
	if !k.Has(f) {
		return nil, k.NotAs(f)
	}
	doc, err := Build(k.ID, in, only)
	if err != nil {
		return nil, err
	}
	opt.BigType = opt.BigType || k.BigType
	copies := 1
	if f == CSV {
		if copies = len(doc.Tables()); copies == 0 {
			return nil, fmt.Errorf("%s holds no table: there is nothing for a CSV file yet", k.Title)
		}
	}
	if f == SVG || f == DXF {
		if copies = len(doc.Drawings()); copies == 0 {
			return nil, fmt.Errorf("%s hold no drawing: no storey has been drawn yet", k.Title)
		}
	}
	var paths []string
	for n := range copies {
		opt.Table = n
		path := filepath.Join(folder, fileName(k, f, in, only, n))
		err := Save(path, func(w io.Writer) error {
			if f == HTML {
				return page(w, doc, opt, styles)
			}
			return Write(w, f, doc, opt)
		})
		if err != nil {
			return paths, err
		}
		paths = append(paths, path)
	}
	return paths, nil
}

func fileName(k Kind, f Format, in sheet.Input, only sheet.Only, table int) string {
	p, kind, room := &in.Scope.Project, k.ID, ""
	if len(only.Rooms) == 1 {
		for i := range in.Scope.Rooms {
			if r := &in.Scope.Rooms[i]; r.ID == only.Rooms[0] {
				room = r.Number
			}
		}
	}
	if table > 0 {
		kind += " " + strconv.Itoa(table+1)
	}
	name := p.Number
	if name == "" {
		name = p.Name
	}
	return FileName(name, kind, room, in.Issue.Revision, string(f))
}

func page(w io.Writer, doc sheet.Document, opt Options, styles string) error {
	_, err := fmt.Fprintf(w, "<!doctype html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>%s</title><style>\n%s</style></head>\n<body>\n", html.EscapeString(doc.Title), styles)
	if err == nil {
		err = Write(w, HTML, doc, opt)
	}
	if err == nil {
		_, err = io.WriteString(w, "\n</body>\n</html>\n")
	}
	return err
}
