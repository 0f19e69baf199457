package domain

import (
	"fmt"
	"reflect"
	"strings"

	"scopewright/domain/units"
)

// WorksheetFields are the head of a worksheet.
var WorksheetFields = []Field[CodeWorksheet]{
	requiredField("title", "Title", func(w *CodeWorksheet) *string { return &w.Title }),
	orElse("as its base", textField("code", "Code", MaxName, func(w *CodeWorksheet) *string { return &w.Code })),
	orElse("as its base", textField("edition", "Edition", 40, func(w *CodeWorksheet) *string { return &w.Edition })),
	textField("amendments", "Amendments", MaxName, func(w *CodeWorksheet) *string { return &w.Amendments }),
	orElse("as its base", choiceField("zone_rules", "Daylight areas by", fixed[CodeWorksheet](ZoneCodes()...), func(w *CodeWorksheet) *ZoneCode { return &w.ZoneRules })),
	codeText("note", "Note", func(w *CodeWorksheet) *string { return &w.Note }),
	orElse("nobody", textField("confirmed", "Confirmed by", MaxName, func(w *CodeWorksheet) *string { return &w.Confirmed })),
}

// FigureFields are the columns of a worksheet's figures.
var FigureFields = append([]Field[CodeChange]{
	choiceField("sign", "Sign", fixed[CodeChange](CodeSigns()...), func(c *CodeChange) *CodeSign { return &c.Sign }),
	codeNumber("value", "Value", 1e7),
	codeText("words", "In words", func(c *CodeChange) *string { return &c.Words }),
}, basisFields...)

// DutyFields are the columns of a worksheet's duties.
var DutyFields = append([]Field[CodeChange]{
	choiceField("duty", "Duty", fixed[CodeChange](CodeDuties()...), func(c *CodeChange) *CodeDuty { return &c.Duty }),
	func() Field[CodeChange] {
		f := quantityField("reduction_pct", "Reduction", "%", 100, 2, func(c *CodeChange) *float64 { return &c.Share })
		f.Hint = "of power, where the row states its own"
		return f
	}(),
	eachField(),
	choiceField("also", "Met by as well", alsoChoices, func(c *CodeChange) *string { return &c.Also }),
}, basisFields...)

// DensityFields are the columns of a worksheet's lighting power densities.
var DensityFields = append([]Field[CodeChange]{codeNumber("value", "W/ft2", 100)}, basisFields...)

var basisFields = []Field[CodeChange]{
	codeText("clause", "Clause", func(c *CodeChange) *string { return &c.Clause }),
	func() Field[CodeChange] {
		f := mustChoose(choiceField("mark", "Mark", fixed[CodeChange](CodeMarks()...), func(c *CodeChange) *CodeMark { return &c.Mark }))
		f.Hint = "read: in the adopted text; seen: in the source named; memory: recalled"
		return f
	}(),
	codeText("source", "Source", func(c *CodeChange) *string { return &c.Source }),
	codeText("note", "Note", func(c *CodeChange) *string { return &c.Note }),
}

func codeText[T any](name, title string, at func(*T) *string) Field[T] {
	f := textField(name, title, MaxCodeText, at)
	f.Wide = true
	return f
}

// codeNumber is a figure in the code's own unit, which stands beside it. Empty is 0.
func codeNumber(name, title string, most float64) Field[CodeChange] {
	return Field[CodeChange]{Name: name, Title: title, Hint: "in the code's own unit",
		Show: func(_ Env, c *CodeChange) string {
			if c.Value == 0 && c.Sign == "" {
				return ""
			}
			return units.Trim(c.Value, 6)
		},
		Set: func(_ Env, c *CodeChange, text string) error {
			v, err := numberOrEmpty(text)
			if err == nil && !(v >= 0 && v <= most) {
				err = fmt.Errorf("%s goes from 0 to %s", strings.ToLower(title), units.Trim(most, 0))
			}
			if err == nil {
				c.Value = v
			}
			return err
		}}
}

func eachField() Field[CodeChange] {
	f := choiceField("each", "Each", fixed[CodeChange]("zone", "aisle", "500 W"), func(c *CodeChange) *string { return &c.Each })
	f.Hint = "zone, aisle: each acts by itself; 500 W: no more on one zone"
	return f
}

// alsoChoices are the controls that a duty may name as well, as words.
func alsoChoices(Env, *CodeChange) []Choice {
	var out []Choice
	for _, c := range CodeControls() {
		if c == "egress_share" { // those after it are asked of no kind of space
			break
		}
		out = append(out, Choice{string(c), c.Words()})
	}
	return out
}

// Words gives a control as plain words: "full off".
func (c CodeControl) Words() string { return strings.ReplaceAll(string(c), "_", " ") }

// Of says which row a change is of: "full off, delay" or "full off in corridor".
func (c *CodeChange) Of() string {
	in := "any kind of space"
	if c.Space != AnyCodeSpace {
		in = SpaceType(c.Space).Name()
	}
	switch c.Kind {
	case FigureRow:
		return c.Control.Words() + ", " + strings.ReplaceAll(c.Name, "_", " ")
	case DutyRow:
		return c.Control.Words() + " in " + in
	}
	return "power density in " + in
}

// Says gives what a change states: "at most 15 min", "R", "0.7 W/ft2".
func (c *CodeChange) Says() string {
	switch {
	case c.Kind == DutyRow && c.Duty != "":
		return string(c.Duty)
	case c.Kind == DensityRow && c.Value > 0:
		return units.Trim(c.Value, 3) + " W/ft2"
	case c.Kind == FigureRow && c.Sign != "":
		return strings.TrimSpace(string(c.Sign) + " " + units.Trim(c.Value, 6) + " " + c.Unit)
	case c.Kind == FigureRow && c.Words != "":
		return c.Words
	}
	return "taken out"
}

// worksheetLines says what changed in the project's worksheets.
func worksheetLines(was, is Env, a, b *Project) []string {
	const noun = "energy code worksheet"
	out := listLines(was, is, noun, WorksheetFields, a.Worksheets, b.Worksheets, func(w *CodeWorksheet) (string, string) { return string(w.ID), w.Title })
	for i := range b.Worksheets {
		now := &b.Worksheets[i]
		before := a.Worksheet(now.ID)
		if before == nil {
			continue
		}
		for _, text := range changeLines(before, now) {
			out = append(out, noun+" "+now.Title+": "+text)
		}
	}
	return out
}

func changeLines(before, now *CodeWorksheet) []string {
	var out []string
	for i := range now.Changes {
		c := &now.Changes[i]
		switch old := before.Change(c.ID); {
		case old == nil:
			out = append(out, c.Of()+": "+c.Says()+" instead of the base's")
		case old.Says() != c.Says():
			out = append(out, c.Of()+": "+old.Says()+" -> "+c.Says())
		case !reflect.DeepEqual(old, c):
			out = append(out, c.Of()+": clause, mark, source or note")
		}
	}
	for i := range before.Changes {
		if c := &before.Changes[i]; now.Change(c.ID) == nil {
			out = append(out, c.Of()+": the base's again")
		}
	}
	return out
}
