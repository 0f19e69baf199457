package sheets

import (
	"cmp"
	"context"
	"errors"
	"io"
	"path/filepath"
	"time"

	"scopewright/domain"
	"scopewright/export"
	"scopewright/export/exchange"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
	"scopewright/static"
	"scopewright/store"
)

// Folder is an order to write documents into a folder, as the command line
// gives it.
type Folder struct {
	Path     string
	Kind     string // of document, or a group of them, or "json" for the exchange file
	Format   string // PDF where empty
	Room     string // number of the only room; all where empty
	Revision int    // 0: as the project is now
	Paper    string
}

// Write writes what was ordered of a project, in its folder, and gives the
// paths; with an error, those of the kinds that were finished before it.
func (f Folder) Write(ctx context.Context, s *store.Store, project domain.ID, today time.Time) ([]string, error) {
	in, err := Gather(ctx, s, project, f.Revision, today, true)
	if err != nil {
		return nil, err
	}
	if f.Kind == "json" {
		return f.writeExchange(in)
	}
	kinds, err := export.KindsNamed(f.Kind)
	if err != nil {
		return nil, err
	}
	var all []string
	for _, k := range kinds {
		paths, err := f.writeKind(k, in)
		if err != nil {
			return all, err
		}
		all = append(all, paths...)
	}
	return all, nil
}

func (f Folder) writeExchange(in sheet.Input) ([]string, error) {
	if f.Room != "" || f.Format != "" && f.Format != "json" {
		return nil, errors.New("the exchange file holds the whole project, as json: leave --room and --format out")
	}
	if err := export.MakeFolder(f.Path); err != nil {
		return nil, err
	}
	p := &in.Scope.Project
	path := filepath.Join(f.Path, export.FileName(cmp.Or(p.Number, p.Name), "project", "", in.Issue.Revision, "json"))
	return []string{path}, export.Save(path, func(w io.Writer) error { return exchange.Write(w, in.Scope) })
}

func (f Folder) writeKind(k export.Kind, in sheet.Input) ([]string, error) {
	paper, err := pdf.ParsePaper(f.Paper)
	if err != nil {
		return nil, err
	}
	only, err := export.RoomNumbered(in.Scope, f.Room)
	if err != nil {
		return nil, err
	}
	format := export.Format(cmp.Or(f.Format, string(export.PDF)))
	if !k.Has(format) {
		return nil, k.NotAs(format)
	}
	if err := export.MakeFolder(f.Path); err != nil {
		return nil, err
	}
	look, _ := static.FS.ReadFile("css/sheet.css")
	size, _ := static.FS.ReadFile("css/paper-" + string(paper) + ".css")
	return export.Files(f.Path, k, format, in, only, export.Options{Paper: paper, BOM: true}, string(look)+string(size))
}
