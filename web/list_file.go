package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/store/intake/luminaires"
	"scopewright/store/intake/roomlist"
	"scopewright/store/intake/table"
)

var errPlanOnly = errors.New("nothing was stored")

// TakeList tells what a room list or a luminaire schedule, CSV or XLSX, does to
// a project line by line, and carries it out where keep is set. Plan and edit
// share one transaction.
func TakeList(ctx context.Context, s *store.Store, id domain.ID, name string, data []byte, keep bool, out io.Writer) error {
	t, err := table.Read(name, data, table.Options{})
	if err != nil {
		return err
	}
	var told bytes.Buffer
	_, err = s.Edit(ctx, store.Request{ProjectID: id, Who: "import", Scope: store.ProjectSubject(id)}, func(tx *store.Tx) (string, error) {
		told.Reset()
		said, err := applyList(tx, t, &told)
		if err == nil && !keep {
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

// applyList takes the table for a room list, and where it is none for a
// luminaire schedule.
func applyList(tx *store.Tx, t *table.Table, told io.Writer) (string, error) {
	project, err := tx.Project()
	if err != nil {
		return "", err
	}
	rooms, noRooms := roomlist.Parse(t, roomlist.Options{Units: project.Units})
	if noRooms == nil {
		return applyRooms(tx, project, rooms, told)
	}
	types, noTypes := luminaires.Parse(t)
	if noTypes != nil {
		return "", fmt.Errorf("this is neither a room list (%w) nor a luminaire schedule (%w)", noRooms, noTypes)
	}
	return applyTypes(tx, project, types.Plan(project, domain.NewID), told)
}

func applyRooms(tx *store.Tx, project *domain.Project, list *roomlist.List, told io.Writer) (string, error) {
	resolved, err := tx.Rooms(store.Pick{})
	if err != nil {
		return "", err
	}
	existing := make([]*domain.Room, len(resolved))
	for i, r := range resolved {
		existing[i] = r.Room
	}
	shared, err := tx.Typicals()
	if err != nil {
		return "", err
	}
	var typicals []domain.Typical
	for _, t := range shared {
		typicals = append(typicals, *t)
	}
	plan := list.Plan(project, typicals, existing, domain.NewID)
	if n := len(existing) + plan.Counts.New; n > domain.MaxRooms {
		return "", fmt.Errorf("the project would have %d rooms; at most %d fit: split it into several projects", n, domain.MaxRooms)
	}
	project.Buildings = plan.Buildings(project)
	if err := tx.PutProject(project); err != nil {
		return "", err
	}
	for _, s := range plan.Steps {
		tell(told, s.Line, string(s.Action), s.Number+" "+s.Name, s.Changes, s.Problem)
		switch s.Action {
		case roomlist.New:
			err = tx.AddRoom(s.Room)
		case roomlist.Update:
			err = tx.PutBareRoom(s.Room)
		}
		if err != nil {
			return "", err
		}
	}
	n := plan.Counts
	return summed(told, append(list.Notes, plan.Notes...), fmt.Sprintf("room list: %d new, %d changed, %d the same, %d skipped", n.New, n.Update, n.Same, n.Skip)), nil
}

func applyTypes(tx *store.Tx, project *domain.Project, plan *luminaires.Plan, told io.Writer) (string, error) {
	for _, s := range plan.Steps {
		tell(told, s.Line, string(s.Action), s.Tag+" "+s.Description, s.Changes, s.Problem)
		switch known := project.Luminaire(s.LuminaireID); {
		case s.Luminaire == nil:
		case known != nil:
			*known = *s.Luminaire
		default:
			project.Luminaires = append(project.Luminaires, *s.Luminaire)
		}
	}
	n := plan.Counts
	said := summed(told, plan.Notes, fmt.Sprintf("luminaire schedule: %d new, %d changed, %d the same, %d skipped", n.New, n.Update, n.Same, n.Skip))
	return said, tx.PutProject(project)
}

func tell(w io.Writer, line int, action, what string, changes []string, problem string) {
	if action == "same" && problem == "" {
		return
	}
	fmt.Fprintf(w, "line %-6d %-7s %s", line, action, strings.TrimSpace(what))
	for i, c := range changes {
		fmt.Fprintf(w, "%s%s", []string{"; ", ": "}[max(0, 1-i)], c)
	}
	if problem != "" {
		fmt.Fprintf(w, " (%s)", problem)
	}
	fmt.Fprintln(w)
}

func summed(w io.Writer, notes []string, said string) string {
	for _, n := range notes {
		fmt.Fprintln(w, n)
	}
	fmt.Fprintln(w, said)
	return said
}
