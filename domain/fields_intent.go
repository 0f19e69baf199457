package domain

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// intentField is a field with the kinds of intent that it counts for.
type intentField struct {
	Field[Intent]
	kinds []IntentKind
}

var allKinds = IntentKinds()

var intentFields = []intentField{
	{idsField("loads", "Loads", "all", func(e Env, in *Intent) []Choice {
		return loadChoices(e, func(l *Load) bool { return (l.Kind == Receptacle) == (in.Kind == ForReceptacles) })
	}, func(in *Intent) *[]ID { return &in.Loads }), allKinds},
	{boolField("enters", "Lights on entry", func(in *Intent) *bool { return &in.Enters }), []IntentKind{ByPresence}},
	{sceneField(), []IntentKind{ByPresence, ByAV, ByContact, BySchedule, OnMode}},
	{levelField("level", "Level", func(in *Intent) *units.Level { return &in.Level }), []IntentKind{ByPresence, ByAV, ByContact, OnDemandResponse, OnPowerBack, BySchedule, OnMode, OnEmergency, OnNetworkLoss}},
	{durationField("fade_s", "Fade", "s", 3600, func(in *Intent) *units.Seconds { return &in.Fade }), []IntentKind{ByPresence, ByHand, ByDaylight, ByAV, ByContact, BySchedule, OnMode, OnDemandResponse}},
	{durationField("delay_s", "Delay", "min", 86400, func(in *Intent) *units.Seconds { return &in.Delay }), []IntentKind{ByPresence, ForReceptacles}},
	{levelField("off_level", "Level when vacant", func(in *Intent) *units.Level { return &in.OffLevel }), []IntentKind{ByPresence}},
	{durationField("warning_s", "Warning", "s", 3600, func(in *Intent) *units.Seconds { return &in.Warning }), []IntentKind{ByPresence, BySchedule}},
	{levelField("warn_to", "Warning dips to", func(in *Intent) *units.Level { return &in.WarnTo }), []IntentKind{ByPresence, BySchedule}},
	{durationField("hold_s", "Holds for", "min", 86400, func(in *Intent) *units.Seconds { return &in.Hold }), []IntentKind{ByHand, ByAV, ByContact, OnMode}},
	{lightField("target_lx", "Target", 20000, func(in *Intent) *units.Lux { return &in.Target }), []IntentKind{ByDaylight}},
	{levelField("lowest", "Lowest level", func(in *Intent) *units.Level { return &in.Lowest }), []IntentKind{ByHand, ByDaylight}},
	{boolField("may_off", "May switch off", func(in *Intent) *bool { return &in.MayOff }), []IntentKind{ByDaylight}},
	{timeField("on_at", "On at", func(in *Intent) *string { return &in.OnAt }), []IntentKind{BySchedule}},
	{timeField("off_at", "Off at", func(in *Intent) *string { return &in.OffAt }), []IntentKind{BySchedule}},
	{daysField("days", "Days", func(in *Intent) *string { return &in.Days }), []IntentKind{BySchedule}},
	{durationField("override_s", "Override", "min", 86400, func(in *Intent) *units.Seconds { return &in.Override }), []IntentKind{BySchedule}},
	{commandField(), []IntentKind{ByAV, ByContact}},
	{choiceField("device", "Input", func(e Env, in *Intent) []Choice {
		return deviceChoices(e, func(t *equipment.Type) bool {
			return in.Kind == ByAV && t.Kind == equipment.AV || in.Kind == ByContact && t.Kind.Traits().Inputs
		})
	}, func(in *Intent) *ID { return &in.Device }), []IntentKind{ByAV, ByContact}},
	{choiceField("restore", "Comes back", fixed[Intent](RestoreLast, RestoreSet, RestoreOff, RestoreFull), func(in *Intent) *Restore { return &in.Restore }), []IntentKind{OnPowerBack}},
	{choiceField("do", "Does", responseChoices, func(in *Intent) *Response { return &in.Do }), []IntentKind{ByAV, ByContact, BySchedule, OnMode}},
	{choiceField("mode", "Mode", fixed[Intent](Modes()...), func(in *Intent) *Mode { return &in.Mode }), []IntentKind{ByAV, ByContact, BySchedule, OnMode}},
	{levelField("highest", "Highest level", func(in *Intent) *units.Level { return &in.Highest }), []IntentKind{ByHand}},
	{orElse("20 %/s", quantityField("rate_pct_s", "Raises and lowers by", "%/s", 1000, 1, func(in *Intent) *float64 { return &in.Rate })), []IntentKind{ByHand}},
	{orElse("never", durationField("watchdog_s", "Silent sensor counts as occupied after", "min", 86400, func(in *Intent) *units.Seconds { return &in.Watchdog })), []IntentKind{ByPresence}},
	{durationField("relight_s", "Relights within", "s", 600, func(in *Intent) *units.Seconds { return &in.Relight }), []IntentKind{ByPresence}},
	{boolField("spares_people", "Waits for people", func(in *Intent) *bool { return &in.Spares }), []IntentKind{BySchedule}},
	{orElse("30 min", durationField("again_s", "Asks again after", "min", 86400, func(in *Intent) *units.Seconds { return &in.Again })), []IntentKind{BySchedule}},
	{boolField("yields", "A press suspends it", func(in *Intent) *bool { return &in.Yields }), []IntentKind{ByDaylight}},
	{boolField("unless", "The other way round", func(in *Intent) *bool { return &in.Unless }), allKinds},
	{modesField("modes", "Only in mode", func(in *Intent) *[]Mode { return &in.Modes }), allKinds},
	{timeField("from", "From", func(in *Intent) *string { return &in.From }), allKinds},
	{timeField("until", "Until", func(in *Intent) *string { return &in.Until }), allKinds},
	{lightField("darker_than_lx", "Darker than", 20000, func(in *Intent) *units.Lux { return &in.DarkerThan }), allKinds},
	{lightField("brighter_than_lx", "Brighter than", 20000, func(in *Intent) *units.Lux { return &in.BrighterThan }), allKinds},
	{choiceField("people", "People", fixed[Intent](PeopleIn, PeopleGone), func(in *Intent) *People { return &in.People }), allKinds},
	{choiceField("partition", "Partition", fixed[Intent](PartitionOpen, PartitionClosed), func(in *Intent) *PartitionState { return &in.Partition }), allKinds},
	{textField("source", "Source", MaxName, func(in *Intent) *string { return &in.Source }), allKinds},
}

// IntentFields gives the fields that count for a kind of intent.
func IntentFields(kind IntentKind) []Field[Intent] {
	var out []Field[Intent]
	for _, f := range intentFields {
		if slices.Contains(f.kinds, kind) {
			out = append(out, f.Field)
		}
	}
	return out
}

// IntentFieldNamed gives a field by its name, whatever the kind.
func IntentFieldNamed(name string) (Field[Intent], error) {
	for _, f := range intentFields {
		if f.Name == name {
			return f.Field, nil
		}
	}
	return Field[Intent]{}, fmt.Errorf("an intent has no field %q", name)
}

// ConditionFields lists the fields that make up an intent's condition.
func ConditionFields() []string {
	return []string{"unless", "modes", "from", "until", "darker_than_lx", "brighter_than_lx", "people", "partition"}
}

// responseChoices are the responses that an intent's kind may have.
func responseChoices(_ Env, in *Intent) []Choice {
	words := map[Response]string{GoTo: "goes to the level or scene", SetMode: "sets the mode", Lock: "locks at the level", Release: "releases", HoldAutomatic: "holds off automatic events",
		ToggleLoads: "toggles", GoBack: "goes back to before the AV command", PartitionJoins: "joins the room", PartitionParts: "divides the room"}
	kinds := Responses()
	switch in.Kind {
	case BySchedule:
		kinds = []Response{SetMode}
	case OnMode:
		kinds = []Response{Lock, HoldAutomatic}
	case ByAV:
		kinds = []Response{SetMode, HoldAutomatic, Release, ToggleLoads, GoBack}
	}
	out := []Choice{{"", words[GoTo]}}
	for _, r := range kinds {
		out = append(out, Choice{string(r), words[r]})
	}
	return out
}

// timeField is a time by the clock or by the sun.
func timeField[T any](name, title string, at func(*T) *string) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: "HH:MM, or sunset+00:15", Show: func(_ Env, x *T) string { return *at(x) },
		Set: func(_ Env, x *T, text string) error {
			if strings.TrimSpace(text) == "" {
				*at(x) = ""
				return nil
			}
			t, err := ParseTimeOfDay(text)
			if err == nil {
				*at(x) = t.String()
			}
			return err
		}}
}

// daysField is a list of weekdays with what holidays do.
func daysField[T any](name, title string, at func(*T) *string) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: "like Mon-Fri not holidays; empty: every day", Show: func(_ Env, x *T) string { return *at(x) },
		Set: func(_ Env, x *T, text string) error {
			if strings.TrimSpace(text) == "" {
				*at(x) = ""
				return nil
			}
			d, err := ParseDays(text)
			if err == nil {
				*at(x) = d.String()
			}
			return err
		}}
}

// modesField is a list of modes; empty is any.
func modesField[T any](name, title string, at func(*T) *[]Mode) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: "modes separated by commas; empty: any",
		Show: func(_ Env, x *T) string {
			words := make([]string, len(*at(x)))
			for i, m := range *at(x) {
				words[i] = string(m)
			}
			return strings.Join(words, ", ")
		},
		Set: func(_ Env, x *T, text string) error {
			var out []Mode
			for _, w := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
				m := Mode(strings.ToLower(strings.Join(strings.Fields(w), " ")))
				if m == "" || m == "any" {
					continue
				}
				if !slices.Contains(Modes(), m) {
					return fmt.Errorf("%q is no mode: use normal, after hours, cleaning or event", shortText(w))
				}
				if !slices.Contains(out, m) {
					out = append(out, m)
				}
			}
			*at(x) = out
			return nil
		},
		Several: func(_ Env, x *T) []Ticked {
			out := make([]Ticked, len(Modes()))
			for i, m := range Modes() {
				out[i] = Ticked{Choice{string(m), string(m)}, slices.Contains(*at(x), m)}
			}
			return out
		}}
}

// sceneField is the number of a scene; a number that no scene has is kept, and
// a rule speaks of it.
func sceneField() Field[Intent] {
	f := intField("scene", "Scene no.", 0, 999, func(in *Intent) *int { return &in.Scene })
	f.Choices = func(e Env, in *Intent) []Choice {
		out := []Choice{{"", "level"}}
		if e.Design == nil {
			return out
		}
		known := in.Scene == 0
		for i := range e.Design.Scenes {
			sc := &e.Design.Scenes[i]
			out = append(out, Choice{strconv.Itoa(sc.Number), fmt.Sprintf("scene %d %s", sc.Number, sc.Name)})
			known = known || sc.Number == in.Scene
		}
		if !known {
			out = append(out, Choice{strconv.Itoa(in.Scene), fmt.Sprintf("scene %d, which is gone", in.Scene)})
		}
		return out
	}
	return f
}

// commandField is the words of an AV command, or the state of a contact.
func commandField() Field[Intent] {
	f := textField("command", "Command or state", 60, func(in *Intent) *string { return &in.Command })
	f.Choices = func(_ Env, in *Intent) []Choice {
		if in.Kind != ByContact {
			return nil
		}
		return []Choice{{"closed", "closed"}, {"open", "open"}}
	}
	return f
}
