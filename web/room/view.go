package room

import (
	"net/http"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/energycode"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/validate/rule"
	"scopewright/web/ui"
)

// page is the frame around the workbench.
func (s Screen) page(r *http.Request, b *bench) ui.Page {
	p := ui.NewPage(r, b.heading())
	p.Project, p.Tab = b.project, "Rooms"
	p.Edits, p.EditsPath, p.Undo, p.Redo = true, b.path(), b.undo, b.redo
	p.Crumbs = []ui.Crumb{{Name: b.project.Name, Path: ui.Project(b.projectID)}}
	if b.isTypical() {
		p.Crumbs = append(p.Crumbs, ui.Crumb{Name: "Typical " + b.typical.Name})
		return p
	}
	if building, storey := b.project.FindStorey(b.room.StoreyID); storey != nil {
		p.Crumbs = append(p.Crumbs, ui.Crumb{Name: building.Name + ", " + storey.Name, Path: ui.Project(b.projectID) + "?storey=" + string(storey.ID)})
	}
	p.Crumbs = append(p.Crumbs, ui.Crumb{Name: b.room.Label()})
	return p
}

func (b *bench) heading() string {
	if b.isTypical() {
		return strings.TrimSpace("Typical " + b.typical.Name + " " + b.typical.Title)
	}
	return b.room.Label()
}

// fact is one labelled field of the room or typical.
type fact struct {
	ID, Name, Path, Value, Hint string
	Choices                     []domain.Choice
	Wide                        bool
}

func (b *bench) facts() []fact {
	if b.isTypical() {
		return factsOf(b.env(), domain.TypicalFields, b.typical)
	}
	out := factsOf(b.env(), domain.RoomFields, b.room.Room)
	for i := range out {
		if out[i].Path == "facts/space_type" {
			b.sayKind(&out[i])
		}
	}
	return out
}

// sayKind says in the first choice which kind of space holds where the room states
// none: that of its typical, or what use and area suggest.
func (b *bench) sayKind(f *fact) {
	first, states := &f.Choices[0].Label, b.room.Space != ""
	if b.typical != nil && b.typical.Space != "" {
		*first = "as typical " + b.typical.Name + " has it: " + b.typical.Space.Name()
	} else if kinds := energycode.KindsOf(b.project); !states {
		kind, _ := kinds.KindOf(b.room)
		if s := kinds.Space(kind.Space); s != nil {
			*first = "as proposed: " + s.Name
		}
	}
	if !states {
		f.Value = *first
	}
}

func factsOf[T any](e domain.Env, fields []domain.Field[T], x *T) []fact {
	out := make([]fact, len(fields))
	for i, f := range fields {
		out[i] = fact{ID: "fact-" + f.Name, Name: f.Title, Path: "facts/" + f.Name, Value: f.Show(e, x), Hint: f.Hint, Wide: f.Wide}
		if f.Choices != nil {
			out[i].Choices = f.Choices(e, x)
		}
	}
	return out
}

// markExceptions marks the cells in which a room differs from its typical.
func (b *bench) markExceptions(cells []ui.Cell) {
	if b.isTypical() || b.typical == nil || len(b.room.Exceptions) == 0 {
		return
	}
	changes := b.room.RealExceptions()
	typical := domain.Env{Project: b.project, Design: &b.typical.Design}
	for i := range cells {
		c := &cells[i]
		if ex := exceptionAt(changes, c.Path); ex != nil {
			c.Class = strings.TrimSpace(c.Class + " exception")
			c.Title = "exception to typical " + b.typical.Name + ": " + domain.DescribeDesign(typical, *ex)
		}
	}
}

// exceptionAt gives the change that a cell shows: of its field, or of its
// whole row where that was added.
func exceptionAt(changes delta.Changes, path string) *delta.Change {
	if path == "" {
		return nil
	}
	for i := range changes {
		p := changes[i].Path
		if p == path || strings.HasPrefix(path, p+"/") || strings.HasPrefix(p, path+"/") {
			return &changes[i]
		}
	}
	return nil
}

// exception is one line of how a room differs from its typical.
type exception struct{ Path, Text string }

func (b *bench) exceptions() []exception {
	if b.isTypical() || b.typical == nil {
		return nil
	}
	out := []exception{}
	for _, c := range b.room.RealExceptions() {
		out = append(out, exception{c.Path, domain.DescribeDesign(domain.Env{Project: b.project, Design: lookup(b, c)}, c)})
	}
	return out
}

// lookup gives the design that still has what a change took away.
func lookup(b *bench, c delta.Change) *domain.Design {
	if c.Removed() {
		return &b.typical.Design
	}
	return b.design
}

// typeGroups lists the book by kind for the "add" choice.
type typeGroup struct {
	Name  string
	Types []equipment.Type
}

func (b *bench) typeGroups() []typeGroup {
	var out []typeGroup
	for _, k := range equipment.Kinds() {
		g := typeGroup{Name: k.Traits().Name}
		for _, t := range b.project.Book {
			if t.Kind == k {
				g.Types = append(g.Types, t)
			}
		}
		if len(g.Types) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// conflict is one cell that another person changed first.
type conflict struct{ Path, Name, Mine, Now string }

// conflicts puts what a person typed beside what is stored now.
func conflicts(b *bench, cells []cell) []conflict {
	var out []conflict
	for _, c := range cells {
		out = append(out, conflict{Path: c.Path, Name: b.nameOf(c.Path), Mine: c.Text, Now: b.valueAt(c.Path)})
		if len(out) == 12 {
			break
		}
	}
	return out
}

// valueAt gives what a cell shows now.
func (b *bench) valueAt(path string) string {
	for _, f := range b.facts() {
		if f.Path == path {
			return f.Value
		}
	}
	for _, g := range b.allGrids() {
		for _, row := range g.Rows {
			for _, c := range row.Cells {
				if c.Path == path {
					return c.Text
				}
			}
		}
	}
	if s := b.slotAt(path); s != nil {
		return s.shown()
	}
	return "no longer there"
}

// nameOf gives a cell's row and column as people call them.
func (b *bench) nameOf(path string) string {
	for _, f := range b.facts() {
		if f.Path == path {
			return f.Name
		}
	}
	for _, g := range b.allGrids() {
		for _, row := range g.Rows {
			for i, c := range row.Cells {
				if c.Path == path {
					return row.Cells[0].Text + ", " + g.Columns[i].Title
				}
			}
		}
	}
	if s := b.slotAt(path); s != nil {
		return s.Name
	}
	return path
}

func (b *bench) allGrids() []ui.Grid {
	open := *b
	open.locked = false
	return []ui.Grid{open.loadGrid(), open.deviceGrid(), open.buttonGrid(), open.matrixGrid(true), open.sceneGrid()}
}

// tally counts findings by what they weigh.
type tally struct{ Errors, Warnings, Infos, Waived int }

func count(list []rule.Finding) (t tally) {
	for i := range list {
		switch {
		case list[i].Waived():
			t.Waived++
		case list[i].Severity == rule.Error:
			t.Errors++
		case list[i].Severity == rule.Warning:
			t.Warnings++
		default:
			t.Infos++
		}
	}
	return t
}

// numbers prints what a finding measured, in the project's units.
func numbers(f *rule.Finding, sys units.System) string {
	if !f.Numbers {
		return ""
	}
	factor, unit := 1.0, f.Unit
	switch {
	case sys != units.US:
	case unit == "m":
		factor, unit = units.MetresPerFoot, "ft"
	case unit == "m2":
		factor, unit = units.SquareMetresPerSquareFoot, "sq ft"
	}
	print := func(v float64) string { return strings.TrimSpace(units.Trim(v/factor, 2) + " " + unit) }
	return "measured " + print(f.Measured) + ", limit " + print(f.Limit) + ", margin " + print(f.Margin)
}

// place gives the element that a finding's subject is shown in; scenarios have
// their own page.
func (b *bench) place(s rule.Subject) string {
	switch s.Part {
	case "scenarios":
		return ui.Rehearsal(b.path()) + "#scenario-" + string(s.ID)
	case "facts":
		return "#fact-" + string(s.ID)
	case "links":
		return "#c-" + ui.DOMID("links/"+string(s.ID))
	case "rooms":
		return "#sec-facts"
	}
	return "#" + ui.DOMID(s.Part+"/"+string(s.ID))
}

// fewSubjects is how many of a finding's things are linked one by one.
const fewSubjects = 12

// firstSubjects gives the things that a finding links to.
func firstSubjects(f *rule.Finding) []rule.Subject {
	named := make([]rule.Subject, 0, min(len(f.Subjects), fewSubjects))
	for _, s := range f.Subjects {
		if s.Tag != "" && len(named) < fewSubjects {
			named = append(named, s)
		}
	}
	return named
}

func severityClass(f *rule.Finding) string {
	if f.Waived() {
		return "waived"
	}
	return string(f.Severity)
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

func numbersOf(list []store.RoomLine, most int) string {
	var names []string
	for i, l := range list {
		if i == most {
			names = append(names, "and "+strconv.Itoa(len(list)-most)+" more")
			break
		}
		names = append(names, l.Number)
	}
	return strings.Join(names, ", ")
}
