package domain

import (
	"fmt"
	"slices"
	"strings"
)

// Sizes above which worksheets are taken for a mistake.
const (
	MaxWorksheets  = 20
	MaxCodeChanges = 3000 // of one worksheet: more than a whole code has
	MaxCodeText    = 600  // letters of a clause, a source or a note
)

// CodeWorksheet is an energy code as the designer has it: the figures of a built-in
// code, or none, with what the adopted text has otherwise. What it leaves out of its
// head is the built-in code's.
type CodeWorksheet struct {
	ID         ID       `json:"id"`
	Seq        int      `json:"seq"`
	Title      string   `json:"title"`
	Base       CodePack `json:"base,omitempty"` // built-in code; empty: blank, each duty unknown
	Code       string   `json:"code,omitempty"`
	Edition    string   `json:"edition,omitempty"`
	Amendments string   `json:"amendments,omitempty"` // name of the set
	ZoneRules  ZoneCode `json:"zone_rules,omitempty"` // by which daylight areas are drawn; empty: the base's
	Note       string   `json:"note,omitempty"`
	Confirmed  string   `json:"confirmed,omitempty"` // who read the adopted text beside it, and when; empty: nobody

	Changes []CodeChange `json:"changes,omitempty"`
}

// CodeChange is one row that a worksheet has otherwise than its base. A figure without
// sign and words, a duty without a word and a density of 0 take the base's row out.
type CodeChange struct {
	ID      ID          `json:"id"` // made of kind, control, name and space: see Key
	Kind    CodeRow     `json:"kind"`
	Control CodeControl `json:"control,omitempty"` // of a figure or a duty
	Name    string      `json:"name,omitempty"`    // of a figure
	Space   string      `json:"space,omitempty"`   // of a duty or a density: a SpaceType, or AnyCodeSpace

	Sign   CodeSign `json:"sign,omitempty"`
	Value  float64  `json:"value,omitempty"` // in Unit; of a density W/ft2
	Unit   string   `json:"unit,omitempty"`  // the code's own: ft2, W, min, ...
	Words  string   `json:"words,omitempty"`
	Duty   CodeDuty `json:"duty,omitempty"`
	Share  float64  `json:"reduction_pct,omitempty"` // of power, where a duty states its own
	Each   string   `json:"each,omitempty"`
	Also   string   `json:"also,omitempty"` // a control that meets the duty as well
	Clause string   `json:"clause,omitempty"`
	Mark   CodeMark `json:"mark,omitempty"`
	Source string   `json:"source,omitempty"`
	Note   string   `json:"note,omitempty"`
}

// AnyCodeSpace stands in a duty for every kind of space.
const AnyCodeSpace = "*"

// The closed sets of a worksheet's rows. What they mean lies with the checks, which
// build on this package: here stands only what may be named.
type (
	CodeRow     string // what kind of row a change is of
	CodeControl string // a kind of control that codes ask for
	CodeSign    string // how a measured value is held against a figure
	CodeDuty    string // what a code's table says of a control in a kind of space
	CodeMark    string // how sure a row is
	ZoneCode    string // rules by which daylight areas are drawn
)

// The kinds of rows.
const (
	FigureRow  CodeRow = "figure"
	DutyRow    CodeRow = "duty"
	DensityRow CodeRow = "density"
)

// CodeRows lists the kinds of rows.
func CodeRows() []CodeRow { return []CodeRow{FigureRow, DutyRow, DensityRow} }

// CodeControls lists the controls.
func CodeControls() []CodeControl {
	return []CodeControl{"local_control", "manual_on", "partial_auto_on", "bilevel", "light_reduction", "multilevel", "daylight_side", "daylight_top", "small_zones",
		"partial_off", "full_off", "scheduled_shutoff", "shutoff_any", "receptacles", "separate_control", "demand_response", "guest_room", "parking_garage",
		"egress_share", "power_density", "functional_test", "lllc_path"}
}

// CodeSigns lists the signs.
func CodeSigns() []CodeSign { return []CodeSign{"at least", "at most", "more than", "less than"} }

// CodeDuties lists the duties.
func CodeDuties() []CodeDuty { return []CodeDuty{"R", "A", "B", "none", "unknown"} }

// CodeMarks lists the marks, the surest first.
func CodeMarks() []CodeMark { return []CodeMark{"read", "seen", "memory"} }

// ZoneCodes lists the rules for daylight areas.
func ZoneCodes() []ZoneCode {
	return []ZoneCode{"ashrae-90.1-2013", "ashrae-90.1-2010", "iecc-2018", "iecc-2021", "california-2022", "los-angeles"}
}

// Key gives the ID that a change has by what it is of, so that a row changed twice is
// one change.
func (c *CodeChange) Key() ID {
	parts := []string{string(c.Kind)}
	switch c.Kind {
	case FigureRow:
		parts = append(parts, string(c.Control), c.Name)
	case DutyRow:
		parts = append(parts, string(c.Control), c.Space)
	case DensityRow:
		parts = append(parts, c.Space)
	}
	key := strings.Join(parts, ":")
	return ID(strings.NewReplacer("_", "-", AnyCodeSpace, "any").Replace(key))
}

// Change gives a worksheet's change of that ID, nil where the row is the base's.
func (w *CodeWorksheet) Change(id ID) *CodeChange {
	for i := range w.Changes {
		if w.Changes[i].ID == id {
			return &w.Changes[i]
		}
	}
	return nil
}

// Put writes a change in place of the one of the same row, if there is one.
func (w *CodeWorksheet) Put(c CodeChange) {
	c.ID = c.Key()
	if old := w.Change(c.ID); old != nil {
		*old = c
		return
	}
	w.Changes = append(w.Changes, c)
}

// Revert takes a change away, so that the base's row holds.
func (w *CodeWorksheet) Revert(id ID) {
	w.Changes = slices.DeleteFunc(w.Changes, func(c CodeChange) bool { return c.ID == id })
}

// Worksheet gives the worksheet of that ID, nil where there is none.
func (p *Project) Worksheet(id ID) *CodeWorksheet {
	for i := range p.Worksheets {
		if p.Worksheets[i].ID == id {
			return &p.Worksheets[i]
		}
	}
	return nil
}

// worksheets checks what was written of energy codes, and that the one chosen is there.
func (c *checker) worksheets(p *Project) {
	if len(p.Worksheets) > MaxWorksheets {
		c.add("/project/worksheets", "%d worksheets are more than the %d that a project may have", len(p.Worksheets), MaxWorksheets)
	}
	known := packNames()
	for i := range p.Worksheets {
		w, path := &p.Worksheets[i], fmt.Sprintf("/project/worksheets/%d", i)
		c.need(path+"/title", w.Title, "a title")
		if slices.Contains(known, string(w.ID)) {
			c.add(path+"/id", "%q is a built-in code: give the worksheet an ID of its own", w.ID)
		}
		if w.Base != "" && !slices.Contains(packNames(), string(w.Base)) {
			c.add(path+"/base", "%q is no built-in code: use %s, or leave it out for a blank worksheet", shortText(string(w.Base)), JoinOr(packNames()))
		}
		if len(w.Changes) > MaxCodeChanges {
			c.add(path+"/changes", "%d changes are more than the %d that a worksheet may have", len(w.Changes), MaxCodeChanges)
		}
		for j := range w.Changes {
			c.codeChange(fmt.Sprintf("%s/changes/%d", path, j), &w.Changes[j])
		}
		known = append(known, string(w.ID))
	}
	if p.CodePack != "" && !slices.Contains(known, string(p.CodePack)) {
		c.add("/project/code_pack", "%q is not known: use %s", shortText(string(p.CodePack)), JoinOr(known))
	}
}

func (c *checker) codeChange(path string, x *CodeChange) {
	if c.full() {
		return
	}
	c.need(path+"/kind", string(x.Kind), "what it is of: "+JoinOr(texts(CodeRows())))
	if x.Kind == "" {
		return
	}
	if x.Kind != DensityRow {
		c.need(path+"/control", string(x.Control), "the control that it is of")
	}
	if x.Kind == FigureRow {
		c.need(path+"/name", x.Name, "the figure that it is of")
	}
	if x.Kind != FigureRow && x.Space != AnyCodeSpace && !slices.Contains(spaceNames(), x.Space) {
		c.add(path+"/space", "%q is not known: use %s or %s", shortText(x.Space), strings.Join(spaceNames(), ", "), AnyCodeSpace)
	}
	if key := x.Key(); key != x.ID {
		c.add(path+"/id", "%q does not name the row that is changed: use %q", shortText(string(x.ID)), shortText(string(key)))
	}
}
