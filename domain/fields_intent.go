package domain

import (
	"fmt"
	"slices"

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
	{intField("scene", "Scene no.", 0, 999, func(in *Intent) *int { return &in.Scene }), []IntentKind{ByPresence, ByAV, ByContact, BySchedule}},
	{levelField("level", "Level", func(in *Intent) *units.Level { return &in.Level }), []IntentKind{ByPresence, ByContact, OnDemandResponse, OnPowerBack, BySchedule}},
	{durationField("fade_s", "Fade", "s", 3600, func(in *Intent) *units.Seconds { return &in.Fade }), []IntentKind{ByPresence, ByHand, ByDaylight, ByAV, OnDemandResponse}},
	{durationField("delay_s", "Delay", "min", 86400, func(in *Intent) *units.Seconds { return &in.Delay }), []IntentKind{ByPresence, ForReceptacles}},
	{levelField("off_level", "Level when vacant", func(in *Intent) *units.Level { return &in.OffLevel }), []IntentKind{ByPresence}},
	{durationField("warning_s", "Warning", "s", 3600, func(in *Intent) *units.Seconds { return &in.Warning }), []IntentKind{ByPresence, BySchedule}},
	{levelField("warn_to", "Warning dips to", func(in *Intent) *units.Level { return &in.WarnTo }), []IntentKind{ByPresence, BySchedule}},
	{durationField("hold_s", "Manual off holds", "min", 86400, func(in *Intent) *units.Seconds { return &in.Hold }), []IntentKind{ByHand}},
	{quantityField("target_lx", "Target", "lx", 20000, 0, func(in *Intent) *units.Lux { return &in.Target }), []IntentKind{ByDaylight}},
	{levelField("lowest", "Lowest level", func(in *Intent) *units.Level { return &in.Lowest }), []IntentKind{ByDaylight}},
	{boolField("may_off", "May switch off", func(in *Intent) *bool { return &in.MayOff }), []IntentKind{ByDaylight}},
	{clockField("on_at", "On at", func(in *Intent) *string { return &in.OnAt }), []IntentKind{BySchedule}},
	{clockField("off_at", "Off at", func(in *Intent) *string { return &in.OffAt }), []IntentKind{BySchedule}},
	{textField("days", "Days", 60, func(in *Intent) *string { return &in.Days }), []IntentKind{BySchedule}},
	{durationField("override_s", "Override", "min", 86400, func(in *Intent) *units.Seconds { return &in.Override }), []IntentKind{BySchedule}},
	{textField("command", "Command or state", 60, func(in *Intent) *string { return &in.Command }), []IntentKind{ByAV, ByContact}},
	{choiceField("device", "Input", func(e Env, in *Intent) []Choice {
		return deviceChoices(e, func(t *equipment.Type) bool {
			return in.Kind == ByAV && t.Kind == equipment.AV || in.Kind == ByContact && t.Kind.Traits().Inputs
		})
	}, func(in *Intent) *ID { return &in.Device }), []IntentKind{ByAV, ByContact}},
	{choiceField("restore", "Comes back", fixed[Intent](RestoreLast, RestoreSet, RestoreOff, RestoreFull), func(in *Intent) *Restore { return &in.Restore }), []IntentKind{OnPowerBack}},
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
