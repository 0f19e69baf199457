package domain

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"scopewright/domain/delta"
)

// DescribeDesign says in words what a change of a design does. Env.Design is
// the design in which tags are looked up; a thing that was taken away is named
// out of the change itself.
func DescribeDesign(e Env, c delta.Change) string {
	steps := strings.Split(c.Path, "/")
	if len(steps) < 2 {
		return c.Path + " changed"
	}
	id := ID(steps[1])
	whole := c.Before
	if whole == nil {
		whole = c.After
	}
	switch steps[0] {
	case "loads":
		name := e.loadTag(id)
		if len(steps) == 2 {
			var l Load
			_ = json.Unmarshal(whole, &l)
			return addedOrRemoved(c, strings.TrimSpace("load "+l.Tag+" "+l.Name))
		}
		return name + ": " + fieldChange(e, LoadFields, c)
	case "devices":
		return e.describeDevice(c, steps, id, whole)
	case "links":
		return e.describeLink(c, id, whole, len(steps) == 2)
	case "scenes":
		return e.describeScene(c, steps, id, whole)
	case "intents":
		return e.describeIntent(c, id, whole, len(steps) == 2)
	case "scenarios":
		return e.describeScenario(c, steps, id, whole)
	}
	return c.Path + " changed"
}

func addedOrRemoved(c delta.Change, what string) string {
	if c.Added() {
		return "added " + what
	}
	return "removed " + what
}

// fieldChange gives "delay 20 min -> 30 min" for a change of a listed field.
func fieldChange[T any](e Env, fields []Field[T], c delta.Change) string {
	f, ok := FieldNamed(fields, c.Field())
	if !ok {
		return strings.ReplaceAll(c.Field(), "_", " ") + " changed"
	}
	return strings.ToLower(f.Title) + " " + showRaw(e, f, c.Before) + " -> " + showRaw(e, f, c.After)
}

func showRaw[T any](e Env, f Field[T], raw json.RawMessage) string {
	var x T
	if raw != nil {
		_ = json.Unmarshal([]byte(`{"`+f.Name+`":`+string(raw)+`}`), &x)
	}
	if s := f.Show(e, &x); s != "" {
		return s
	}
	if f.Empty != "" {
		return f.Empty
	}
	return "none"
}

func (e Env) loadTag(id ID) string {
	if e.Design != nil {
		if l := e.Design.Load(id); l != nil {
			return l.Tag
		}
	}
	return "a load that is gone"
}

func (e Env) describeDevice(c delta.Change, steps []string, id ID, whole json.RawMessage) string {
	if len(steps) == 2 {
		var d Device
		_ = json.Unmarshal(whole, &d)
		what := "device " + d.Tag
		if t := e.Project.Book.Find(d.Type); t != nil {
			what += " (" + t.Name + ")"
		}
		return addedOrRemoved(c, what)
	}
	if len(steps) > 3 && steps[2] == "buttons" {
		return fmt.Sprintf("%s: label of button %s %s -> %s", e.deviceTag(id), steps[3], labelIn(c.Before), labelIn(c.After))
	}
	switch steps[2] {
	case "at":
		return e.deviceTag(id) + " " + movedFromTo(e, c)
	case "turn_deg":
		return e.deviceTag(id) + " turned"
	}
	return e.deviceTag(id) + ": " + fieldChange(e, DeviceFields, c)
}

// labelIn reads a label out of a button or out of its label alone.
func labelIn(raw json.RawMessage) string {
	var b Button
	if json.Unmarshal(raw, &b) != nil {
		_ = json.Unmarshal(raw, &b.Label)
	}
	if b.Label == "" {
		return "none"
	}
	return strconv.Quote(b.Label)
}

func (e Env) describeLink(c delta.Change, id ID, whole json.RawMessage, all bool) string {
	var l Link
	if all {
		_ = json.Unmarshal(whole, &l)
	} else if e.Design != nil {
		for i := range e.Design.Links {
			if e.Design.Links[i].ID == id {
				l = e.Design.Links[i]
			}
		}
	}
	where := e.deviceTag(l.Device)
	if l.Button > 0 {
		where += " button " + strconv.Itoa(l.Button)
		if l.On == Hold {
			where += " held"
		}
	}
	where += " on " + e.loadTag(l.Load)
	switch {
	case c.Added():
		return where + ": " + l.Do.String()
	case c.Removed() && all:
		return where + ": link removed (" + l.Do.String() + ")"
	}
	return where + ": now " + l.Do.String()
}

func (e Env) describeScene(c delta.Change, steps []string, id ID, whole json.RawMessage) string {
	if len(steps) == 2 {
		var s Scene
		_ = json.Unmarshal(whole, &s)
		return addedOrRemoved(c, fmt.Sprintf("scene %d %s", s.Number, s.Name))
	}
	name := "a scene that is gone"
	var scene *Scene
	if e.Design != nil {
		if scene = e.Design.Scene(id); scene != nil {
			name = fmt.Sprintf("scene %d %s", scene.Number, scene.Name)
		}
	}
	if steps[2] != "levels" || len(steps) < 4 {
		return name + ": " + fieldChange(e, SceneFields, c)
	}
	load := ID(steps[3])
	where := name + ", " + e.loadTag(load) + ": "
	if len(steps) == 4 {
		return where + levelIn(c.Before) + " -> " + levelIn(c.After)
	}
	if scene != nil {
		if l := scene.LevelOf(load); l != nil {
			return where + "now " + l.Show()
		}
	}
	return where + "changed"
}

func levelIn(raw json.RawMessage) string {
	if raw == nil {
		return "none"
	}
	var l SceneLevel
	_ = json.Unmarshal(raw, &l)
	return l.Show()
}

func (e Env) describeIntent(c delta.Change, id ID, whole json.RawMessage, all bool) string {
	var in Intent
	if all {
		_ = json.Unmarshal(whole, &in)
		return addedOrRemoved(c, "intent "+in.Kind.Title()+": "+in.Sentence(e))
	}
	name := "an intent that is gone"
	if e.Design != nil {
		if known := e.Design.Intent(id); known != nil {
			name = "intent " + known.Kind.Title() + " (" + known.loadNames(e) + ")"
		}
	}
	fields := make([]Field[Intent], len(intentFields))
	for i, f := range intentFields {
		fields[i] = f.Field
	}
	return name + ": " + fieldChange(e, fields, c)
}

func (e Env) describeScenario(c delta.Change, steps []string, id ID, whole json.RawMessage) string {
	if len(steps) == 2 {
		var s Scenario
		_ = json.Unmarshal(whole, &s)
		return addedOrRemoved(c, "scenario "+s.Name)
	}
	name := "a scenario that is gone"
	var scenario *Scenario
	if e.Design != nil {
		if scenario = e.Design.Scenario(id); scenario != nil {
			name = "scenario " + scenario.Name
		}
	}
	switch {
	case steps[2] != "steps" || len(steps) < 4:
		return name + ": " + fieldChange(e, ScenarioFields, c)
	case len(steps) == 4:
		var s ScenarioStep
		_ = json.Unmarshal(whole, &s)
		return name + ": " + addedOrRemoved(c, "step \""+s.Sentence(e)+"\"")
	}
	return name + ", a step: " + fieldChange(e, StepFields, c)
}
