package domain

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"scopewright/domain/units"
)

// Env is what a field needs to be read and written as people see it: the
// project's units, types and luminaires, and the design whose tags it names.
type Env struct {
	Project *Project
	Design  *Design // nil outside a room
}

func (e Env) system() units.System { return e.Project.Units }

// Choice is one value that a field may have, with what people read.
type Choice struct{ Value, Label string }

// Field is one field of a T as a table cell or form field: how it is called,
// printed and set. Name is its JSON name, the last step of a change's path.
// Forms, grids, pasted blocks, the words of the journal and the comparison of
// revisions all read the same list of fields.
type Field[T any] struct {
	Name  string
	Title string
	Hint  string
	Wide  bool
	Empty string // what holds where it is empty; "" for nothing
	Show  func(Env, *T) string
	Set   func(Env, *T, string) error
	// Choices lists the values that may be chosen; nil or none: free text.
	Choices func(Env, *T) []Choice
	// Several lists the values of which any number may be chosen, one by one;
	// nil: not such a field. Set takes them separated by commas.
	Several func(Env, *T) []Ticked
}

// Ticked is one of several values with whether it is chosen.
type Ticked struct {
	Choice
	On bool
}

// FieldNamed gives the field of that name.
func FieldNamed[T any](fields []Field[T], name string) (Field[T], bool) {
	for _, f := range fields {
		if f.Name == name {
			return f, true
		}
	}
	return Field[T]{}, false
}

func textField[T any](name, title string, most int, at func(*T) *string) Field[T] {
	return Field[T]{Name: name, Title: title, Show: func(_ Env, x *T) string { return *at(x) },
		Set: func(_ Env, x *T, text string) error {
			clean, err := CleanLine(text, most)
			if err == nil {
				*at(x) = clean
			}
			return err
		}}
}

func notesField[T any](name, title string, at func(*T) *string) Field[T] {
	f := textField(name, title, MaxText, at)
	f.Wide = true
	f.Set = func(_ Env, x *T, text string) error {
		clean, err := CleanText(text, MaxText)
		if err == nil {
			*at(x) = clean
		}
		return err
	}
	return f
}

// orElse says what holds where a field is empty.
func orElse[T any](text string, f Field[T]) Field[T] {
	f.Empty = text
	return f
}

func requiredField[T any](name, title string, at func(*T) *string) Field[T] {
	f := textField(name, title, MaxName, at)
	set := f.Set
	f.Set = func(e Env, x *T, text string) error {
		if strings.TrimSpace(text) == "" {
			return fmt.Errorf("%s must not be empty", strings.ToLower(title))
		}
		return set(e, x, text)
	}
	return f
}

func boolField[T any](name, title string, at func(*T) *bool) Field[T] {
	return Field[T]{Name: name, Title: title,
		Show: func(_ Env, x *T) string {
			if *at(x) {
				return "yes"
			}
			return "no"
		},
		Set: func(_ Env, x *T, text string) error {
			switch strings.ToLower(strings.TrimSpace(text)) {
			case "yes", "y", "1", "true", "x":
				*at(x) = true
			case "no", "n", "0", "false", "", "-":
				*at(x) = false
			default:
				return fmt.Errorf("%s is yes or no, not %q", strings.ToLower(title), shortText(text))
			}
			return nil
		},
		Choices: func(Env, *T) []Choice { return []Choice{{"yes", "yes"}, {"no", "no"}} }}
}

func shortText(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}

func intField[T any](name, title string, least, most int, at func(*T) *int) Field[T] {
	return Field[T]{Name: name, Title: title,
		Show: func(_ Env, x *T) string {
			if *at(x) == 0 {
				return ""
			}
			return fmt.Sprint(*at(x))
		},
		Set: func(_ Env, x *T, text string) error {
			v, err := numberOrEmpty(text)
			if err != nil {
				return err
			}
			if v != math.Trunc(v) || v < float64(least) || v > float64(most) {
				return fmt.Errorf("%s is a whole number from %d to %d", strings.ToLower(title), least, most)
			}
			*at(x) = int(v)
			return nil
		}}
}

func numberOrEmpty(text string) (float64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	return units.Number(text)
}

// quantityField is a number with a unit that is the same in both systems.
func quantityField[T any, Q ~float64](name, title, unit string, most float64, decimals int, at func(*T) *Q) Field[T] {
	return spanField(name, title, unit, span{0, most}, decimals, at)
}

// decibelField is a level in dB of some kind, which may lie below zero. Empty
// is zero.
func decibelField[T any](name, title, unit string, at func(*T) *float64) Field[T] {
	return spanField(name, title, unit, span{-200, 100}, 1, at)
}

func spanField[T any, Q ~float64](name, title, unit string, within span, decimals int, at func(*T) *Q) Field[T] {
	return Field[T]{Name: name, Title: title,
		Show: func(_ Env, x *T) string {
			if *at(x) == 0 {
				return ""
			}
			return strings.TrimSpace(units.Trim(float64(*at(x)), decimals) + " " + unit)
		},
		Set: func(_ Env, x *T, text string) error {
			if strings.TrimSpace(text) == "" {
				*at(x) = 0
				return nil
			}
			v, err := units.In(text, strings.ToLower(unit), map[string]float64{strings.ToLower(unit): 1})
			if err != nil {
				return err
			}
			if v < within.least || v > within.most {
				return fmt.Errorf("%s goes from %s to %s %s", strings.ToLower(title), units.Trim(within.least, 0), units.Trim(within.most, 0), unit)
			}
			*at(x) = Q(v)
			return nil
		}}
}

func durationField[T any](name, title, bare string, most units.Seconds, at func(*T) *units.Seconds) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: "a bare number is " + map[string]string{"min": "minutes", "s": "seconds"}[bare],
		Show: func(_ Env, x *T) string {
			if *at(x) == 0 {
				return ""
			}
			return units.Duration(*at(x))
		},
		Set: func(_ Env, x *T, text string) error {
			if strings.TrimSpace(text) == "" {
				*at(x) = 0
				return nil
			}
			v, err := units.ParseDuration(text, bare)
			if err != nil {
				return err
			}
			if v < 0 || v > most {
				return fmt.Errorf("%s goes from 0 to %s", strings.ToLower(title), units.Duration(most))
			}
			*at(x) = v
			return nil
		}}
}

func levelField[T any](name, title string, at func(*T) *units.Level) Field[T] {
	return Field[T]{Name: name, Title: title,
		Show: func(_ Env, x *T) string { return units.Percent(*at(x)) },
		Set: func(_ Env, x *T, text string) error {
			if strings.TrimSpace(text) == "" {
				*at(x) = 0
				return nil
			}
			v, err := units.ParseLevel(text)
			if err == nil {
				*at(x) = v
			}
			return err
		}}
}

func lengthField[T any](name, title string, most units.Metres, at func(*T) *units.Metres) Field[T] {
	return Field[T]{Name: name, Title: title,
		Show: func(e Env, x *T) string {
			if *at(x) == 0 {
				return ""
			}
			return units.Length(*at(x), e.system())
		},
		Set: func(e Env, x *T, text string) error {
			if strings.TrimSpace(text) == "" {
				*at(x) = 0
				return nil
			}
			v, err := units.ParseLength(text, e.system())
			if err != nil {
				return err
			}
			if v < 0 || v > most {
				return fmt.Errorf("%s goes from 0 to %s", strings.ToLower(title), units.PlainLength(most, e.system()))
			}
			*at(x) = v
			return nil
		}}
}

func areaField[T any](name, title string, most units.SquareMetres, at func(*T) *units.SquareMetres) Field[T] {
	return Field[T]{Name: name, Title: title,
		Show: func(e Env, x *T) string {
			if *at(x) == 0 {
				return ""
			}
			return units.Area(*at(x), e.system())
		},
		Set: func(e Env, x *T, text string) error {
			if strings.TrimSpace(text) == "" {
				*at(x) = 0
				return nil
			}
			v, err := units.ParseArea(text, e.system())
			if err != nil {
				return err
			}
			if v < 0 || v > most {
				return fmt.Errorf("%s goes from 0 to %s", strings.ToLower(title), units.Area(most, e.system()))
			}
			*at(x) = v
			return nil
		}}
}

// lightField is an illuminance in the project's unit. What is typed as it is
// shown leaves the value alone, so that rounding on screen never moves it.
func lightField[T any](name, title string, most units.Lux, at func(*T) *units.Lux) Field[T] {
	show := func(e Env, x *T) string {
		if *at(x) == 0 {
			return ""
		}
		return units.Light(*at(x), e.system())
	}
	return Field[T]{Name: name, Title: title, Show: show,
		Set: func(e Env, x *T, text string) error {
			switch strings.TrimSpace(text) {
			case show(e, x):
				return nil
			case "":
				*at(x) = 0
				return nil
			}
			v, err := units.ParseLight(text, e.system())
			if err != nil {
				return err
			}
			if units.Light(v, e.system()) == units.Light(most, e.system()) { // the most, as it is printed
				v = min(v, most)
			}
			if v < 0 || v > most {
				return fmt.Errorf("%s goes from 0 to %s", strings.ToLower(title), units.Light(most, e.system()))
			}
			*at(x) = v
			return nil
		}}
}

func dateField[T any](name, title string, at func(*T) *string) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: "YYYY-MM-DD", Show: func(_ Env, x *T) string { return *at(x) },
		Set: func(_ Env, x *T, text string) error {
			text = strings.TrimSpace(text)
			if text != "" {
				if _, err := time.Parse(time.DateOnly, text); err != nil {
					return fmt.Errorf("%q is no date: write it like 2026-03-31", shortText(text))
				}
			}
			*at(x) = text
			return nil
		}}
}

func clockField[T any](name, title string, at func(*T) *string) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: "HH:MM", Show: func(_ Env, x *T) string { return *at(x) },
		Set: func(_ Env, x *T, text string) error {
			text = strings.TrimSpace(text)
			if text != "" {
				t, err := time.Parse("15:04", text)
				if err != nil {
					return fmt.Errorf("%q is no time of day: write it like 07:00", shortText(text))
				}
				text = t.Format("15:04")
			}
			*at(x) = text
			return nil
		}}
}

// choiceField is one of a closed set; people may type a value or its label.
func choiceField[T any, V ~string](name, title string, choices func(Env, *T) []Choice, at func(*T) *V) Field[T] {
	return Field[T]{Name: name, Title: title, Choices: choices,
		Show: func(e Env, x *T) string { return labelOf(choices(e, x), string(*at(x))) },
		Set: func(e Env, x *T, text string) error {
			v, err := pick(choices(e, x), title, text)
			if err == nil {
				*at(x) = V(v)
			}
			return err
		}}
}

// mustChoose is a choice that cannot be left empty.
func mustChoose[T any](f Field[T]) Field[T] {
	set := f.Set
	f.Set = func(e Env, x *T, text string) error {
		if t := strings.TrimSpace(text); t == "" || t == "-" || strings.EqualFold(t, "none") {
			return fmt.Errorf("%s must be chosen", strings.ToLower(f.Title))
		}
		return set(e, x, text)
	}
	return f
}

func labelOf(choices []Choice, value string) string {
	for _, c := range choices {
		if c.Value == value {
			return c.Label
		}
	}
	return value
}

func pick(choices []Choice, title, text string) (string, error) {
	text = strings.TrimSpace(text)
	for _, c := range choices { // a value comes first: another thing's label may read like it
		if c.Value == text {
			return c.Value, nil
		}
	}
	for _, c := range choices {
		if strings.EqualFold(c.Value, text) || strings.EqualFold(c.Label, text) {
			return c.Value, nil
		}
	}
	if text == "" || text == "-" || text == "none" {
		return "", nil
	}
	if len(choices) == 0 {
		return "", fmt.Errorf("there is nothing to choose for %s yet", strings.ToLower(title))
	}
	names := make([]string, 0, 6)
	for _, c := range choices[:min(6, len(choices))] {
		if c.Label != "" {
			names = append(names, c.Label)
		}
	}
	if len(choices) > 6 {
		names = append(names, "...")
	}
	return "", fmt.Errorf("%s is not %q: use %s", strings.ToLower(title), shortText(text), strings.Join(names, ", "))
}

func fixed[T any, V ~string](values ...V) func(Env, *T) []Choice {
	choices := make([]Choice, len(values))
	for i, v := range values {
		choices[i] = Choice{string(v), string(v)}
	}
	return func(Env, *T) []Choice { return choices }
}

// idsField is a list of things by their tags, separated by commas.
func idsField[T any](name, title, all string, choices func(Env, *T) []Choice, at func(*T) *[]ID) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: "tags separated by commas; empty: " + all,
		Show: func(e Env, x *T) string {
			known, tags := choices(e, x), make([]string, 0, len(*at(x)))
			for _, id := range *at(x) {
				tags = append(tags, labelOf(known, string(id)))
			}
			return strings.Join(tags, ", ")
		},
		Set: func(e Env, x *T, text string) error {
			known := choices(e, x)
			var ids []ID
			for _, tag := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
				if tag = strings.TrimSpace(tag); tag == "" || strings.EqualFold(tag, all) {
					continue
				}
				id, err := pick(known, title, tag)
				if err != nil {
					return err
				}
				if id != "" && !slices.Contains(ids, ID(id)) {
					ids = append(ids, ID(id))
				}
			}
			*at(x) = ids
			return nil
		},
		Several: func(e Env, x *T) []Ticked {
			known := choices(e, x)
			out := make([]Ticked, len(known))
			for i, c := range known {
				out[i] = Ticked{c, slices.Contains(*at(x), ID(c.Value))}
			}
			return out
		}}
}
