package sheet

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// statementTests gives a test line, with the statement's own number, for each statement
// that no scenario exercises.
func (r *room) statementTests(exercised map[string]bool) Table {
	t := Table{Columns: append([]Column{{Title: "Statement", Align: Center, Width: 0.9}, {Title: "Set up", Width: 2.2}, {Title: "Do", Width: 2.8}, {Title: "Expect", Width: 4.2}}, fillIn()...)}
	for _, s := range r.sequence() {
		if exercised[s.id] {
			continue
		}
		line := r.testOfStep(s)
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{TextCell(s.id), TextCell(sentence(line.setUp)), TextCell(sentence(line.do)), TextCell(sentence(line.expect))}, blanks(true)...)})
	}
	return t
}

// testLine is how one statement is tested.
type testLine struct{ setUp, do, expect string }

func (r *room) testOfStep(s step) testLine {
	if len(s.inputs) > 0 {
		return r.testOfButton(s.inputs)
	}
	in := r.Design.Intent(s.intent)
	if in == nil {
		return testLine{none, none, none}
	}
	t := r.testOfIntent(in)
	if in.Conditional() {
		t.setUp = "The condition holds; then once more where it does not, when nothing may happen. " + t.setUp
	}
	return t
}

// testOfButton tries a button at each of the stations where it does the same.
func (r *room) testOfButton(inputs []domain.Input) testLine {
	tags := make([]string, len(inputs))
	for i, in := range inputs {
		if d := r.Design.Device(in.Device); d != nil {
			tags[i] = d.Tag
		}
	}
	d := r.Design.Device(inputs[0].Device)
	verb := "Press"
	if inputs[0].On == domain.Hold {
		verb = "Hold"
	}
	do := fmt.Sprintf("%s button %s of %s", verb, d.ButtonName(inputs[0].Button), shortTags(tags, " and "))
	if len(inputs) > 1 {
		do += ", one after the other"
	}
	return testLine{"People in; note the levels", do, sentence(r.afterPress(d, inputs[0]))}
}

// afterPress lists the levels that a button leads to, and what it does besides.
func (r *room) afterPress(d *domain.Device, in domain.Input) string {
	var levels []units.Level
	at := map[units.Level][]domain.ID{}
	var other []string
	does, open := r.actions(d, in)
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		do, decided := r.actionOn(d, in, l)
		if level, known := r.levelOf(do, l); decided && known && do.If == "" {
			levels = addOnce(levels, level)
			at[level] = append(at[level], l.ID)
		}
	}
	if len(levels) == 0 {
		other = does
	} else {
		other = slices.DeleteFunc(does, func(text string) bool {
			return strings.HasPrefix(text, "sets ") || strings.HasPrefix(text, "recalls ") || strings.HasPrefix(text, "turns off ")
		})
	}
	parts := make([]string, 0, len(levels)+len(other))
	for _, level := range levels {
		parts = append(parts, r.loadList(at[level])+" at "+units.Percent(level))
	}
	parts = append(parts, other...)
	if len(open) > 0 {
		parts = append(parts, "undecided for "+r.loadList(open))
	}
	return or(strings.Join(parts, "; "), "nothing changes") + "."
}

// levelOf gives the level that an action brings a load to, where it is one.
func (r *room) levelOf(a domain.Action, l *domain.Load) (units.Level, bool) {
	switch a.Verb {
	case domain.ToLevel:
		return a.Level, true
	case domain.ToScene:
		if s := r.Design.SceneNumbered(a.Scene); s != nil {
			if v := s.LevelOf(l.ID); v != nil && !v.Leave {
				return v.Level, true
			}
		}
	}
	return 0, false
}
