package building

import (
	"context"
	"net/http"
	"strconv"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// shownChanges is how many rooms a plan names before it is carried out.
const shownChanges = 8

// bulkView is the dialog of one edit of many rooms, ready to print.
type bulkView struct {
	Path      string
	Operation operation
	Rooms     []domain.ID // that are selected; none where all match
	All       bool
	Selected  string
	Form      formView
	Plan      planView
	Stamp     string
}

// planView is what an edit will do, ready to print.
type planView struct {
	Button string
	Lines  []change
	More   string
	Notes  []string
	Wrong  string
	Ready  bool
}

// formView is the fields of the dialog with what they may hold.
type formView struct {
	Value                           map[string]string
	Typicals, Storeys, Fields, Uses []domain.Choice
	Kinds                           []domain.Choice
	Field                           string
}

// ask says what an edit of many rooms will do, before it does it.
func (s Screen) ask(w http.ResponseWriter, r *http.Request) {
	b, op, err := s.asked(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	first := r.PostForm.Get("stamp") == ""
	if first {
		suggest(b)
	}
	p := op.plan(b)
	if err := s.readShown(r.Context(), b, p.Changes[:min(shownChanges, len(p.Changes))]); err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	s.say(w, r, http.StatusOK, b, newBulkView(b, op, p), first)
}

// asked reads which rooms are selected and what is to be done with them.
func (s Screen) asked(r *http.Request) (*bulk, operation, error) {
	b, err := s.selected(r)
	if err != nil {
		return nil, operation{}, err
	}
	op, known := operationNamed(b.Do)
	if !known {
		return nil, operation{}, edits.Refusef("choose what to do with the rooms")
	}
	return b, op, nil
}

// readShown reads what the rooms that the dialog names hold now, where a list
// does not tell.
func (s Screen) readShown(ctx context.Context, b *bulk, shown []change) error {
	f, ok := domain.FieldNamed(domain.RoomFields, b.value("field"))
	for i := range shown {
		if shown[i].unknown == "" || !ok {
			continue
		}
		state, err := s.Store.Room(ctx, shown[i].unknown)
		if err != nil {
			return err
		}
		shown[i].Was = f.Show(domain.Env{Project: b.Project}, state.Resolved.Room)
	}
	return nil
}

// say answers with the dialog, its changed parts or, without script, a page.
func (s Screen) say(w http.ResponseWriter, r *http.Request, status int, b *bulk, v bulkView, open bool) {
	page, err := s.desk().Page(r, b.Project, v.Operation.Title, "Rooms")
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: v.Operation.Title})
	switch {
	case !ui.IsFragment(r):
		edits.Render(w, r, s.Log, status, bulkPage(page, v))
	case open:
		edits.Render(w, r, s.Log, status, ui.Notice("", ""), bulkDialog(v), ui.EditStatePart(page))
	default:
		edits.Render(w, r, s.Log, status, bulkPart(v), ui.EditStatePart(page))
	}
}

// apply carries out what was asked, on rooms that are still as they were when
// it was said.
func (s Screen) apply(w http.ResponseWriter, r *http.Request) {
	b, op, err := s.asked(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	p := op.plan(b)
	status := 0
	switch {
	case r.PostForm.Get("stamp") != b.stamp():
		p.Notes, status = append([]string{"The selected rooms changed meanwhile, by someone else or in another window. Nothing was stored: this is what it would do now."}, p.Notes...), http.StatusConflict
	case p.Wrong != "":
		status = http.StatusUnprocessableEntity
	}
	if status != 0 {
		s.say(w, r, status, b, newBulkView(b, op, p), false)
		return
	}
	request := s.request(r)
	request.Base = b.base()
	outcome, err := s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) { return p.Said, p.apply(tx) })
	s.desk().Done(w, r, outcome, err, outcome.Said)
}

// suggest fills in what an operation most likely wants, so that the first look
// already says something.
func suggest(b *bulk) {
	set := func(name, text string) { b.Form[name] = []string{text} }
	switch b.Do {
	case "typical":
		if len(b.Typicals) > 0 {
			set("typical", string(b.Typicals[0].Typical.ID))
		}
	case "field":
		set("field", "use")
		set("use", string(b.Lines[0].Use))
	case "kind":
		set("kind", asProposed)
	case "duplicate":
		set("count", "1")
	case "renumber":
		first := b.Lines[0].Number
		end := len(first)
		for end > 0 && isDigit(rune(first[end-1])) {
			end--
		}
		set("prefix", first[:end])
		set("start", first[end:])
		if end == len(first) {
			set("start", "1")
		}
		set("step", "1")
	case "move":
		set("storey", string(b.Lines[0].StoreyID))
	case "model":
		set("name", "T-"+strconv.Itoa(len(b.Typicals)+1))
		set("title", b.Lines[0].Name)
	}
}

func newBulkView(b *bulk, op operation, p plan) bulkView {
	v := bulkView{
		Path: ui.Project(b.Project.ID), Operation: op, All: b.All, Selected: edits.Count(len(b.Lines), "room") + " selected", Stamp: b.stamp(),
		Form: newFormView(b), Plan: planView{Button: p.Button, Notes: p.Notes, Wrong: p.Wrong, Ready: p.Wrong == "" && len(p.Changes) > 0},
	}
	if !b.All {
		v.Rooms = b.ids()
	}
	v.Plan.Lines = p.Changes[:min(shownChanges, len(p.Changes))]
	if rest := len(p.Changes) - len(v.Plan.Lines); rest > 0 {
		v.Plan.More = "and " + strconv.Itoa(rest) + " more, to " + p.Changes[len(p.Changes)-1].Number
	}
	if p.Wrong == "" && len(p.Changes) == 0 {
		v.Plan.Notes = append(v.Plan.Notes, "Nothing would change.")
	}
	return v
}

func newFormView(b *bulk) formView {
	v := formView{Value: map[string]string{}, Uses: useChoices(), Kinds: kindChoices(), Storeys: ui.StoreyChoices(b.Project), Field: b.value("field")}
	for _, name := range []string{"typical", "field", "text", "use", "windows", "count", "prefix", "start", "step", "storey", "name", "title", "kind"} {
		v.Value[name] = b.value(name)
	}
	for _, t := range b.Typicals {
		v.Typicals = append(v.Typicals, domain.Choice{Value: string(t.Typical.ID), Label: t.Typical.Name})
	}
	v.Typicals = append(v.Typicals, domain.Choice{Value: noTypical, Label: "none: stand alone"})
	for _, name := range bulkFields {
		f, _ := domain.FieldNamed(domain.RoomFields, name)
		v.Fields = append(v.Fields, domain.Choice{Value: name, Label: f.Title})
	}
	return v
}
