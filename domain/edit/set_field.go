package edit

import (
	"fmt"
	"strings"

	"scopewright/domain"
)

// SetField sets one field from the text that a person typed. Path is that of
// the field: "facts/area_m2", "loads/l1/count", "devices/d7/delay_s",
// "devices/d7/buttons/2", "scenes/s1/name", "scenes/s1/levels/l1",
// "intents/i1/delay_s",
// "scenarios/c1/name", "scenarios/c1/steps/t1/level" or "links/<device>.<button>.<gesture>:<load>".
type SetField struct{ Path, Text string }

// Apply sets the field.
func (e SetField) Apply(s *Subject) (string, error) {
	said, err := e.apply(s)
	if err != nil {
		return "", &FieldError{Path: e.Path, Text: e.Text, Err: err}
	}
	return said, nil
}

func (e SetField) apply(s *Subject) (string, error) {
	steps := strings.Split(e.Path, "/")
	if len(steps) < 2 {
		return "", fmt.Errorf("there is no field %q", e.Path)
	}
	id, last := domain.ID(steps[1]), steps[len(steps)-1]
	if len(steps) != 3 && steps[0] != "facts" && steps[0] != "links" && len(steps) != 4 && (steps[0] != "scenarios" || len(steps) != 5) {
		return "", fmt.Errorf("there is no field %q", e.Path)
	}
	switch steps[0] {
	case "facts":
		return setFact(s, last, e.Text)
	case "links":
		return setLinkCell(s, id, e.Text)
	case "loads":
		if l := s.Design.Load(id); l != nil {
			return setLoad(s, l, last, e.Text)
		}
		return "", gone("the load")
	case "devices":
		d := s.Design.Device(id)
		if d == nil {
			return "", gone("the device")
		}
		if len(steps) == 4 && steps[2] == "buttons" {
			return labelButton(s, d, domain.ID(last), e.Text)
		}
		return setDevice(s, d, last, e.Text)
	case "scenes":
		sc := s.Design.Scene(id)
		if sc == nil {
			return "", gone("the scene")
		}
		if len(steps) == 4 && steps[2] == "levels" {
			return setLevel(s, sc, domain.ID(last), e.Text)
		}
		return setScene(s, sc, last, e.Text)
	case "intents":
		in := s.Design.Intent(id)
		if in == nil {
			return "", gone("the intent")
		}
		f, err := domain.IntentFieldNamed(last)
		if err != nil {
			return "", err
		}
		return set(s.Env(), []domain.Field[domain.Intent]{f}, in, last, e.Text, in.Kind.Title())
	case "scenarios":
		return setScenario(s, steps, e.Text)
	}
	return "", fmt.Errorf("there is no field %q", e.Path)
}

// set puts text into a named field and says "tag: field old -> new".
func set[T any](env domain.Env, fields []domain.Field[T], x *T, name, text, tag string) (string, error) {
	f, ok := domain.FieldNamed(fields, name)
	if !ok {
		return "", fmt.Errorf("there is no field %q", name)
	}
	before := f.Show(env, x)
	if err := f.Set(env, x, text); err != nil {
		return "", err
	}
	return says(tag, f.Title, or(before, f.Empty), or(f.Show(env, x), f.Empty)), nil
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

func says(tag, field, before, after string) string {
	if before == "" {
		before = "none"
	}
	if after == "" {
		after = "none"
	}
	return fmt.Sprintf("%s: %s %s -> %s", tag, strings.ToLower(field), short(before), short(after))
}

func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:37]) + "..."
	}
	return s
}

func setFact(s *Subject, name, text string) (string, error) {
	if s.Typical != nil {
		return set(s.Env(), domain.TypicalFields, s.Typical, name, text, s.Typical.Name)
	}
	return set(s.Env(), domain.RoomFields, s.Room, name, text, s.Room.Number)
}

// setLoad also keeps what hangs together in step: a luminaire brings its
// dimming method, a controller its first free output.
func setLoad(s *Subject, l *domain.Load, name, text string) (string, error) {
	before := *l
	said, err := set(s.Env(), domain.LoadFields, l, name, text, l.Tag)
	if err != nil {
		return "", err
	}
	switch {
	case name == "luminaire" && l.Luminaire != before.Luminaire && l.Luminaire != "":
		lum := s.Project.Luminaire(l.Luminaire)
		l.Watts = 0
		if l.Count == 0 {
			l.Count = 1
		}
		if !lum.Driver.Takes(l.Dimming) || l.Dimming == "" {
			l.Dimming = dimmingOf(lum.Driver)
		}
	case name == "controller" && l.Controller != before.Controller:
		l.Output = freeOutput(s, l)
	}
	return said, nil
}

func setDevice(s *Subject, d *domain.Device, name, text string) (string, error) {
	before := *d
	said, err := set(s.Env(), domain.DeviceFields, d, name, text, d.Tag)
	if err == nil && name == "type" && d.Type != before.Type {
		fitDevice(s, d)
	}
	return said, err
}

func setScene(s *Subject, sc *domain.Scene, name, text string) (string, error) {
	old := sc.Number
	said, err := set(s.Env(), domain.SceneFields, sc, name, text, fmt.Sprintf("scene %d", old))
	if err != nil {
		return "", err
	}
	if sc.Number != old {
		for i := range s.Design.Scenes {
			if other := &s.Design.Scenes[i]; other.ID != sc.ID && other.Number == sc.Number {
				return "", fmt.Errorf("scene %d is there already: choose a free number", sc.Number)
			}
		}
		renumberScene(s.Design, old, sc.Number)
	}
	return said, nil
}

// renumberScene lets buttons and intents follow a scene to its new number.
func renumberScene(d *domain.Design, old, now int) {
	for i := range d.Links {
		if a := &d.Links[i].Do; a.Verb == domain.ToScene && a.Scene == old {
			a.Scene = now
		}
	}
	for i := range d.Intents {
		if d.Intents[i].Scene == old {
			d.Intents[i].Scene = now
		}
	}
}

func labelButton(s *Subject, d *domain.Device, button domain.ID, text string) (string, error) {
	n := 0
	if _, err := fmt.Sscanf(string(button), "%d", &n); err != nil || domain.ID(fmt.Sprint(n)) != button {
		return "", fmt.Errorf("there is no button %q", button)
	}
	t := s.Project.Book.Find(d.Type)
	if t == nil || n < 1 || n > t.Buttons {
		return "", fmt.Errorf("%s has no button %d", d.Tag, n)
	}
	label, err := domain.CleanLine(text, 40)
	if err != nil {
		return "", err
	}
	before := d.ButtonLabel(n)
	kept := d.Buttons[:0:0]
	for _, b := range d.Buttons {
		if b.ID != button {
			kept = append(kept, b)
		}
	}
	if label != "" {
		kept = append(kept, domain.Button{ID: button, Label: label})
	}
	d.Buttons = kept
	return says(d.Tag, fmt.Sprintf("label of button %d", n), before, label), nil
}

func setLevel(s *Subject, sc *domain.Scene, load domain.ID, text string) (string, error) {
	l := s.Design.Load(load)
	if l == nil {
		return "", gone("the load")
	}
	level, some, err := domain.ParseSceneLevel(load, text)
	if err != nil {
		return "", err
	}
	before, after := "", ""
	kept := sc.Levels[:0:0]
	for _, old := range sc.Levels {
		if old.ID == load {
			before = old.Show()
			continue
		}
		kept = append(kept, old)
	}
	if some {
		kept, after = append(kept, level), level.Show()
	}
	sc.Levels = kept
	return says(fmt.Sprintf("scene %d %s", sc.Number, sc.Name), l.Tag, before, after), nil
}
