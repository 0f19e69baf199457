package intake

import (
	"context"
	"fmt"
	"io"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/store/intake/match"
	"scopewright/store/intake/roomlist"
	"scopewright/web/edits"
)

// read reads a model for the command line, where nobody can be asked.
func (f File) read(ctx context.Context) (*modelFile, error) {
	model, err := readModel(ctx, f.Name, f.Data, answers{unit: f.Unit}, nil, nil)
	if err != nil {
		return nil, err
	}
	if question := model.unsure(); question != "" {
		return nil, edits.Refusef("%s Say it with --unit: %s.", question, unitNames(model))
	}
	if !model.ready() {
		return nil, edits.Refusef("No layer of this drawing is named like rooms or walls: import it in the browser, where you can choose its layers.")
	}
	return model, nil
}

func unitNames(f *modelFile) string {
	var names []string
	for _, c := range f.unitChoices(units.SI) {
		names = append(names, c.Value)
	}
	return strings.Join(names, ", ")
}

// takeModel plans a model inside a transaction, tells what it does and does it.
func (f File) takeModel(tx *store.Tx, model *modelFile, told io.Writer) (string, error) {
	if f.Storey != "" {
		project, err := tx.ReadProject()
		if err != nil {
			return "", err
		}
		if err := model.putOn(f.Storey, project); err != nil {
			return "", err
		}
	}
	fit, project, err := model.fitIn(tx, domain.NewID)
	if err != nil {
		return "", err
	}
	fmt.Fprintln(told, model.source())
	for i := range fit.Storeys {
		tellStorey(told, model, &fit.Storeys[i], project.Units)
	}
	for _, l := range fitLines(project, fit, false) {
		tell(told, l)
	}
	for _, p := range model.model.Problems {
		fmt.Fprintln(told, p.Message)
	}
	for _, n := range model.model.Notes {
		fmt.Fprintln(told, n)
	}
	n := fit.Counts
	said := fmt.Sprintf("plan: %d new, %d changed, %d the same, %d skipped, %d not in the file, %d with another area", n.New, n.Update, n.Same, n.Skip, n.Missing, n.Differ)
	fmt.Fprintln(told, said)
	return said, carryOutFit(tx, fit, project)
}

func tellStorey(told io.Writer, model *modelFile, s *match.Storey, sys units.System) {
	to := s.Why
	if s.Into != "" {
		to = s.IntoName + " (" + s.Why + ")"
	}
	fmt.Fprintf(told, "storey %s at %s -> %s: %s\n", s.Name, s.Height(sys), to, strings.Join(storeyFacts(s, &model.model.Storeys[s.Index], sys), "; "))
}

// putOn puts the only storey of a file on a storey of the project.
func (f *modelFile) putOn(name string, project *domain.Project) error {
	only := -1
	for i := range f.model.Storeys {
		if len(f.model.Storeys[i].Spaces)+len(f.model.Storeys[i].Walls) == 0 {
			continue
		}
		if only >= 0 {
			return edits.Refusef("The file draws more than one storey, so --storey cannot say where all of them go: leave it out, or import the file in the browser.")
		}
		only = i
	}
	storey := storeyNamed(name, project)
	if storey == nil {
		return edits.Refusef("The project has no storey %q: add it first, or leave --storey out.", name)
	}
	if only >= 0 {
		f.answers.fit.Storeys = make([]string, len(f.model.Storeys))
		f.answers.fit.Storeys[only] = string(storey.ID)
	}
	return nil
}

func storeyNamed(name string, project *domain.Project) (found *domain.Storey) {
	for i := range project.Buildings {
		for j := range project.Buildings[i].Storeys {
			st := &project.Buildings[i].Storeys[j]
			if string(st.ID) == name {
				return st
			}
			if found == nil && roomlist.StoreyKey(st.Name) == roomlist.StoreyKey(name) {
				found = st
			}
		}
	}
	return found
}
