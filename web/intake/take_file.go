package intake

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"scopewright/domain"
	"scopewright/store"
)

var errPlanOnly = errors.New("nothing was stored")

// File is a file that the command line takes in, with what has to be said of
// it where it leaves something open.
type File struct {
	Name   string
	Data   []byte
	Storey string // of the project, by name or ID, that a drawing shows; "": where it fits
	Unit   string // of length: m, mm, cm, ft, in; "": as the file says
	Keep   bool   // carry it out; else only tell
}

// TakeFile tells what a room list or a luminaire schedule, CSV or XLSX, or a
// model or drawing does to a project line by line, and carries it out where Keep
// is set. Plan and edit share one transaction.
func TakeFile(ctx context.Context, s *store.Store, project domain.ID, f File, out io.Writer) error {
	take := func(tx *store.Tx, told io.Writer) (string, error) {
		return takeIn(tx, &parcel{project: project, name: f.Name, data: f.Data}, told)
	}
	if isModelKind(kindOf(f.Data)) {
		model, err := f.read(ctx)
		if err != nil {
			return err
		}
		take = func(tx *store.Tx, told io.Writer) (string, error) { return f.takeModel(tx, model, told) }
	} else if err := notAModel(kindOf(f.Data)); err != nil {
		return err
	}
	var told bytes.Buffer
	_, err := s.Edit(ctx, store.Request{ProjectID: project, Who: "import", Scope: store.ProjectSubject(project)}, func(tx *store.Tx) (string, error) {
		told.Reset()
		said, err := take(tx, &told)
		if err == nil && !f.Keep {
			err = errPlanOnly
		}
		return said, err
	})
	if err != nil && !errors.Is(err, errPlanOnly) {
		return err
	}
	_, err = told.WriteTo(out)
	return err
}

func takeIn(tx *store.Tx, p *parcel, told io.Writer) (string, error) {
	project, err := tx.Project()
	if err != nil {
		return "", err
	}
	if err := p.readList(project.Units); err != nil {
		return "", err
	}
	todo, err := planIn(tx, p, domain.NewID)
	if err != nil {
		return "", err
	}
	for _, l := range todo.lines() {
		tell(told, l)
	}
	for _, n := range notes(p, todo) {
		fmt.Fprintln(told, n)
	}
	made, changed, same, skipped := todo.counts()
	said := fmt.Sprintf("%s: %d new, %d changed, %d the same, %d skipped", todo.what(), made, changed, same, skipped)
	fmt.Fprintln(told, said)
	return said, todo.carryOut(tx)
}

func tell(w io.Writer, l line) {
	if l.Action == missing || l.Action == isSame && l.Problem == "" {
		return
	}
	if l.Place != "" {
		fmt.Fprintf(w, "%-7s %s, %s", l.Action, l.Place, l.Label)
	} else {
		fmt.Fprintf(w, "line %-6d %-7s %s", l.Number, l.Action, l.Label)
	}
	for i, c := range l.Changes {
		fmt.Fprintf(w, "%s%s", []string{"; ", ": "}[max(0, 1-i)], c)
	}
	if l.Problem != "" {
		fmt.Fprintf(w, " (%s)", l.Problem)
	}
	fmt.Fprintln(w)
}

func notes(p *parcel, todo *listPlan) []string {
	if todo.rooms != nil {
		return slices.Concat(p.rooms.Notes, todo.rooms.Notes)
	}
	return todo.luminaires.Notes
}
