package domain

import (
	"strings"

	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// Bounds that tell a slip of the pen from a building.
const (
	maxArea    units.SquareMetres = 100000
	maxCeiling units.Metres       = 100
)

// RoomFields are the facts of a room.
var RoomFields = []Field[Room]{
	requiredField("number", "Number", func(r *Room) *string { return &r.Number }),
	textField("name", "Name", MaxName, func(r *Room) *string { return &r.Name }),
	choiceField("use", "Use", useChoices[Room], func(r *Room) *Use { return &r.Use }),
	choiceField("space_type", "Kind of space", spaceChoices[Room], func(r *Room) *SpaceType { return &r.Space }),
	areaField("area_m2", "Area", maxArea, func(r *Room) *units.SquareMetres { return &r.Area }),
	lengthField("ceiling_m", "Ceiling height", maxCeiling, func(r *Room) *units.Metres { return &r.Ceiling }),
	boolField("windows", "Windows", func(r *Room) *bool { return &r.Windows }),
	intField("seats", "Occupants", 0, 100000, func(r *Room) *int { return &r.Seats }),
	outletsField(),
	notesField("notes", "Notes", func(r *Room) *string { return &r.Notes }),
}

func outletsField() Field[Room] {
	f := intField("receptacles", "Receptacles", 0, 10000, func(r *Room) *int { return &r.Outlets })
	f.Hint = "outlets in all, for the energy code; empty: not counted"
	return f
}

func useChoices[T any](Env, *T) []Choice {
	out := make([]Choice, 0, len(Uses()))
	for _, u := range Uses() {
		out = append(out, Choice{string(u.Use), u.Name})
	}
	return out
}

// TypicalFields are the facts of a typical.
var TypicalFields = []Field[Typical]{
	requiredField("name", "Name", func(t *Typical) *string { return &t.Name }),
	textField("title", "Title", MaxName, func(t *Typical) *string { return &t.Title }),
	choiceField("use", "Use", useChoices[Typical], func(t *Typical) *Use { return &t.Use }),
	choiceField("space_type", "Kind of space", spaceChoices[Typical], func(t *Typical) *SpaceType { return &t.Space }),
	notesField("notes", "Notes", func(t *Typical) *string { return &t.Notes }),
}

// LoadFields are the columns of a room's load table.
var LoadFields = []Field[Load]{
	requiredField("tag", "Tag", func(l *Load) *string { return &l.Tag }),
	textField("name", "What it lights", MaxName, func(l *Load) *string { return &l.Name }),
	mustChoose(choiceField("kind", "Kind", fixed[Load](Lighting, Receptacle), func(l *Load) *LoadKind { return &l.Kind })),
	choiceField("luminaire", "Luminaire", luminaireChoices, func(l *Load) *ID { return &l.Luminaire }),
	intField("count", "Count", 0, 10000, func(l *Load) *int { return &l.Count }),
	textField("circuit", "Circuit", 40, func(l *Load) *string { return &l.Circuit }),
	choiceField("dimming", "Dimming", fixed[Load](equipment.Dimmings()...), func(l *Load) *equipment.Dimming { return &l.Dimming }),
	choiceField("controller", "Controller", controllerChoices, func(l *Load) *ID { return &l.Controller }),
	intField("output", "Output", 0, 64, func(l *Load) *int { return &l.Output }),
	choiceField("layer", "Layer", fixed[Load](General, Board, Display, Task), func(l *Load) *Layer { return &l.Layer }),
	choiceField("zone", "Window zone", fixed[Load](ZoneNone, ZoneWindow, ZoneSecondary, ZoneRoof), func(l *Load) *WindowZone { return &l.Zone }),
	boolField("egress", "Egress", func(l *Load) *bool { return &l.Egress }),
	textField("bypass", "Bypass device", MaxName, func(l *Load) *string { return &l.Bypass }),
	quantityField("watts", "Own watts", "W", 1e6, 2, func(l *Load) *units.Watts { return &l.Watts }),
	quantityField("volts", "Own volts", "V", 1000, 1, func(l *Load) *units.Volts { return &l.Volts }),
	quantityField("rating_a", "Receptacle rating", "A", 100, 1, func(l *Load) *units.Amps { return &l.Rating }),
	pairWireField(),
	pairLengthField(),
}

func luminaireChoices(e Env, _ *Load) []Choice {
	out := make([]Choice, 0, len(e.Project.Luminaires))
	for _, l := range e.Project.Luminaires {
		out = append(out, Choice{string(l.ID), l.Tag})
	}
	return out
}

func controllerChoices(e Env, _ *Load) []Choice {
	return deviceChoices(e, func(t *equipment.Type) bool { return t.Kind.Traits().Loads })
}

func deviceChoices(e Env, want func(*equipment.Type) bool) []Choice {
	if e.Design == nil {
		return nil
	}
	var out []Choice
	for i := range e.Design.Devices {
		d := &e.Design.Devices[i]
		if t := e.Project.Book.Find(d.Type); t != nil && want(t) {
			out = append(out, Choice{string(d.ID), d.Tag})
		}
	}
	return out
}

func loadChoices(e Env, want func(*Load) bool) []Choice {
	if e.Design == nil {
		return nil
	}
	var out []Choice
	for i := range e.Design.Loads {
		if l := &e.Design.Loads[i]; want(l) {
			out = append(out, Choice{string(l.ID), l.Tag})
		}
	}
	return out
}

// DeviceFields are the columns of a room's device table. Buttons have rows of
// their own.
var DeviceFields = []Field[Device]{
	requiredField("tag", "Tag", func(d *Device) *string { return &d.Tag }),
	choiceField("type", "Type", func(e Env, _ *Device) []Choice {
		out := make([]Choice, 0, len(e.Project.Book))
		for _, t := range e.Project.Book {
			out = append(out, Choice{t.ID, t.Name})
		}
		return out
	}, func(d *Device) *string { return &d.Type }),
	textField("place", "Place", MaxName, func(d *Device) *string { return &d.Place }),
	choiceField("presence", "Presence", fixed[Device](Occupancy, Vacancy), func(d *Device) *PresenceKind { return &d.Presence }),
	orElse("as the intent says", durationField("delay_s", "Delay", "min", 86400, func(d *Device) *units.Seconds { return &d.Delay })),
	choiceField("sending", "Sends to", func(Env, *Device) []Choice {
		return []Choice{{string(ToRoom), "whole room (broadcast)"}, {string(ToGroup), "group"}, {string(ToLoads), "linked loads (unicast)"}}
	}, func(d *Device) *Sending { return &d.Sending }),
	choiceField("parent", "Parent router", routerChoices, func(d *Device) *ID { return &d.Parent }),
	orElse("as the type says", textField("mounting", "Mounting", MaxName, func(d *Device) *string { return &d.Mounting })),
	lengthField("height_m", "Height", maxCeiling, func(d *Device) *units.Metres { return &d.Height }),
	choiceField("loop", "Daylight loop", fixed[Device](OpenLoop, ClosedLoop), func(d *Device) *LoopKind { return &d.Loop }),
	orElse("all", idsField("hears", "Routers in reach", "all", routerChoices, func(d *Device) *[]ID { return &d.Hears })),
	choiceField("fed_by", "Fed by", func(e Env, _ *Device) []Choice {
		return deviceChoices(e, func(t *equipment.Type) bool { return t.Aux > 0 })
	}, func(d *Device) *ID { return &d.FedBy }),
	dateField("fitted", "Battery fitted", func(d *Device) *string { return &d.Fitted }),
}

func routerChoices(e Env, d *Device) []Choice {
	all := deviceChoices(e, func(t *equipment.Type) bool { return t.Routes })
	out := all[:0]
	for _, c := range all {
		if c.Value != string(d.ID) {
			out = append(out, c)
		}
	}
	return out
}

// SceneFields are a scene's own columns; its levels are cells of their own.
var SceneFields = []Field[Scene]{
	intField("number", "No.", 1, 999, func(s *Scene) *int { return &s.Number }),
	requiredField("name", "Name", func(s *Scene) *string { return &s.Name }),
}

// Show prints a scene's level for a load: "80 % in 2 s".
func (l SceneLevel) Show() string {
	switch {
	case l.Leave:
		return "leave"
	case l.Fade == 0:
		return units.Percent(l.Level)
	}
	return units.Percent(l.Level) + " in " + units.Duration(l.Fade)
}

// ParseSceneLevel reads "80", "80 % in 2 s", "80/2", "off" or "leave" (also
// "-"). ok is false for empty text, which takes the level away.
func ParseSceneLevel(load ID, text string) (level SceneLevel, ok bool, err error) {
	t := strings.ToLower(strings.TrimSpace(text))
	level.ID = load
	switch t {
	case "":
		return level, false, nil
	case "leave", "-", "--", "—", "–", "as is":
		level.Leave = true
		return level, true, nil
	}
	head, fade, timed := strings.Cut(t, " in ")
	if !timed {
		head, fade, timed = strings.Cut(t, "/")
	}
	switch head = strings.TrimSpace(head); head {
	case "off":
	case "on", "full":
		level.Level = 100
	default:
		if level.Level, err = units.ParseLevel(head); err != nil {
			return level, false, err
		}
	}
	if timed {
		if level.Fade, err = units.ParseDuration(fade, "s"); err != nil {
			return level, false, err
		}
	}
	return level, true, nil
}
