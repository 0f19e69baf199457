package rehearse

import (
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// told is a scenario with what became of it.
type told struct {
	ID      domain.ID
	Row     string // "scenarios/<id>"
	Name    string
	Given   string // "Mon at 09:00"
	Verdict verdict
	Rooms   []roomVerdict // of a typical: rooms in which it goes wrong
	RoomsOf int           // in how many rooms it was run
	Facts   ui.Grid
	Steps   ui.Grid
	Play    string // the rehearsal that shows it, as JSON
}

// verdict is whether a scenario's expectations hold, and where not.
type verdict struct {
	Passed   bool
	Empty    bool // it expects nothing
	Step     int  // which step went wrong, from 1; 0 for none
	StepID   domain.ID
	When     string // "09:30:00, 30 min after the start"
	Expected string
	Got      string
	Problem  string // why it could not be run
	Timeline []line
}

// line is one line of a timeline.
type line struct{ Clock, What, Why string }

type roomVerdict struct {
	Label, Path string
	verdict
}

// scenarios judges all scenarios of the design.
func (b *bench) scenarios() []told {
	out := make([]told, 0, len(b.design.Scenarios))
	for i := range b.design.Scenarios {
		out = append(out, b.tell(&b.design.Scenarios[i]))
	}
	b.judgeAll(out)
	for i := range out {
		out[i].markFailure()
	}
	return out
}

func (b *bench) tell(sc *domain.Scenario) told {
	row := "scenarios/" + string(sc.ID)
	t := told{ID: sc.ID, Row: row, Name: sc.Name, Given: given(sc), Play: playJSON(*sc)}
	t.Facts = ui.Grid{ID: "grid-" + string(sc.ID), Fit: true, Columns: ui.FieldColumns(domain.ScenarioFields, "ch-scenario"),
		Rows: []ui.GridRow{{ID: row, Cells: ui.FieldCells(b.env(), domain.ScenarioFields, row, sc)}}}
	for i, f := range domain.ScenarioFields {
		if c := &t.Facts.Rows[0].Cells[i]; c.Text == "" && usual[f.Name] != "" {
			c.Class, c.Text, c.Title = "from-typical", usual[f.Name], "not set: "+usual[f.Name]
		}
	}
	t.Steps = b.stepGrid(sc, row)
	return t
}

// usual is what holds where a scenario says nothing.
var usual = map[string]string{"day": "Mon", "start": "09:00", "mode": "as the calendar says"}

// given tells what a scenario starts from: "Mon at 09:00, mode normal".
func given(sc *domain.Scenario) string {
	text := cmp.Or(sc.Day, usual["day"]) + " at " + cmp.Or(sc.Start, usual["start"])
	if sc.Mode != "" {
		text += ", mode " + string(sc.Mode)
	}
	return text
}

// inOrder gives a scenario's steps as they are run: by time, then as they stand.
func inOrder(sc *domain.Scenario) []domain.ScenarioStep {
	steps := slices.Clone(sc.Steps)
	slices.SortStableFunc(steps, func(a, b domain.ScenarioStep) int { return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Seq, b.Seq)) })
	return steps
}

func (b *bench) stepGrid(sc *domain.Scenario, row string) ui.Grid {
	g := ui.Grid{ID: "steps-" + string(sc.ID), Columns: append([]ui.Column{{Title: "Step"}}, ui.FieldColumns(domain.StepFields, "ch-step")...)}
	for _, st := range inOrder(sc) {
		path := row + "/steps/" + string(st.ID)
		cells := append([]ui.Cell{{Text: sentence(b.env(), &st)}}, ui.FieldCells(b.env(), domain.StepFields, path, &st)...)
		muteStep(cells, st.Happen)
		g.Rows = append(g.Rows, ui.GridRow{ID: path, Cells: cells, Actions: []ui.RowAction{{Name: "Remove", Title: "Remove this step", Path: b.path() + "/remove"}}})
	}
	return g
}

// sentence starts an expectation with its verb, as the other steps have one.
func sentence(e domain.Env, st *domain.ScenarioStep) string {
	if st.Happen == domain.Expect {
		return "expect " + st.Sentence(e)
	}
	return st.Sentence(e)
}

// muteStep empties the cells that mean nothing for what happens.
func muteStep(cells []ui.Cell, h domain.Happening) {
	means := map[string]bool{
		"at_s": true, "happen": true, "device": h.OfDevice() || h == domain.AVCommand, "button": h.OfButton(),
		"load": h == domain.Expect, "level": h == domain.Expect, "lx": h == domain.DaylightRead,
		"text": h == domain.AVCommand || h == domain.ModeChanged,
	}
	for i := range cells {
		name := cells[i].Path[strings.LastIndexByte(cells[i].Path, '/')+1:]
		if cells[i].Path != "" && !means[name] {
			cells[i] = ui.Cell{Class: "mute", Title: "does not apply"}
		}
	}
}

// stepChoices are the lists that the columns of scenarios and steps name.
func stepChoices(e domain.Env) []ui.ChoiceList {
	return append(ui.FieldChoices(e, domain.ScenarioFields, "ch-scenario"), ui.FieldChoices(e, domain.StepFields, "ch-step")...)
}

// played is a story as the page's script plays it: what it starts from, and
// what happens.
type played struct {
	Given struct {
		Day   string      `json:"day"`
		Start string      `json:"start"`
		Mode  domain.Mode `json:"mode"`
	} `json:"given"`
	Steps []domain.ScenarioStep `json:"steps"`
}

// playable leaves out what a scenario expects.
func playable(sc domain.Scenario) played {
	out := played{Steps: []domain.ScenarioStep{}}
	out.Given.Day, out.Given.Start, out.Given.Mode = sc.Day, sc.Start, sc.Mode
	for _, st := range inOrder(&sc) {
		if st.Happen != domain.Expect {
			out.Steps = append(out.Steps, st)
		}
	}
	return out
}

// playJSON gives it as JSON; empty where a time is no number, which neither the
// store nor an exploration has.
func playJSON(sc domain.Scenario) string {
	raw, err := json.Marshal(playable(sc))
	if err != nil {
		return ""
	}
	return string(raw)
}

// markFailure marks the step at which a scenario went wrong.
func (t *told) markFailure() {
	for i := range t.Steps.Rows {
		row := &t.Steps.Rows[i]
		if t.Verdict.StepID != "" && strings.HasSuffix(row.ID, "/steps/"+string(t.Verdict.StepID)) {
			row.Cells[0].Class, row.Cells[0].Title = "cell-error", "expected "+t.Verdict.Expected+", got "+t.Verdict.Got
		}
	}
}

// value tells of a cell how it is called and what it holds now.
func (b *bench) value(path string) (title, now string) {
	for i := range b.design.Scenarios {
		t := b.tell(&b.design.Scenarios[i])
		for _, g := range []ui.Grid{t.Facts, t.Steps} {
			for _, row := range g.Rows {
				for j, c := range row.Cells {
					if c.Path == path {
						return t.Name + ", " + g.Columns[j].Title, c.Text
					}
				}
			}
		}
	}
	return "This cell", "no longer there"
}

// tally says how many scenarios hold.
func tally(list []told) string {
	passed := 0
	for i := range list {
		if list[i].holds() {
			passed++
		}
	}
	if passed == len(list) {
		return edits.Count(len(list), "scenario") + ", all as expected"
	}
	return strconv.Itoa(len(list)-passed) + " of " + edits.Count(len(list), "scenario") + " not as expected"
}

// holds tells that a scenario is as expected wherever it was run.
func (t *told) holds() bool { return t.Verdict.Passed && len(t.Rooms) == 0 }
