package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// failure is one thing that may be gone, with what then happens in the room.
type failure struct{ when, then string }

// paths counts the ways on and off of each load, at most once.
func (r *room) paths() [][2]int {
	if r.ways == nil {
		r.ways = make([][2]int, len(r.Design.Loads))
		for i := range r.Design.Loads {
			on, off := r.Design.Paths(r.c.project, &r.Design.Loads[i])
			r.ways[i] = [2]int{on, off}
		}
	}
	return r.ways
}

// failures says what the room does when something is gone: from its intents and devices,
// and where those are silent, from the defaults of the house (fail to light; a room's own
// logic needs no network). Common practice, no published source.
func (r *room) failures(powerBack string) []failure {
	if r.otherFailures == nil {
		r.otherFailures = r.failuresButPower()
	}
	return append([]failure{{"Power comes back", powerBack}}, r.otherFailures...)
}

func (r *room) failuresButPower() []failure {
	out := []failure{{"Network lost", r.networkLost()}, {"Building server lost", r.serverLost()}}
	if r.hasKind(func(t equipment.Traits) bool { return t.Presence }) {
		out = append(out, failure{"Presence sensor silent", r.sensorSilent()})
	}
	if r.hasKind(func(t equipment.Traits) bool { return t.Daylight }) {
		out = append(out, failure{"Daylight sensor silent", "No trim: its loads stay at the level asked for."})
	}
	for i := range r.Design.Devices {
		d := &r.Design.Devices[i]
		if t := r.c.project.Book.Find(d.Type); t != nil && t.Supply == equipment.Battery && t.Kind.Traits().Buttons {
			out = append(out, failure{"Cell of " + d.Tag + " flat", r.stationDead(d)})
		}
	}
	return out
}

// stepsOf lists the statements of a kind of intent.
func (r *room) stepsOf(kind domain.IntentKind) []string {
	var out []string
	for i := range r.Design.Intents {
		if in := &r.Design.Intents[i]; in.Kind == kind {
			out = append(out, r.stepOfIntent(in.ID))
		}
	}
	return out
}

func (r *room) hasKind(want func(equipment.Traits) bool) bool {
	for i := range r.Design.Devices {
		if t := r.c.project.Book.Find(r.Design.Devices[i].Type); t != nil && want(t.Kind.Traits()) {
			return true
		}
	}
	return false
}

// powerBack points to the statements and names the loads that none of them covers.
func (r *room) powerBack() string {
	steps := r.stepsOf(domain.OnPowerBack)
	var open []string
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if l.Kind == domain.Lighting && r.sensed(l, domain.OnPowerBack) == nil {
			open = append(open, l.Tag)
		}
	}
	var text []string
	if len(steps) > 0 {
		text = append(text, "As "+joined(steps)+".")
	}
	if len(open) > 0 {
		text = append(text, "Not stated for "+joined(open)+": ask the designer.")
	}
	if r.countLoads(domain.Receptacle) > 0 {
		text = append(text, "Controlled receptacles follow presence, as if the room were occupied.")
	}
	return or(strings.Join(text, " "), "No loads are controlled here.")
}

// powerBackShort says the same in few words, for a reader without the sequence at hand.
func (r *room) powerBackShort() string {
	words := map[domain.Restore]string{domain.RestoreLast: "the last level", domain.RestoreOff: "off", domain.RestoreFull: "full"}
	var goals []string
	loads := map[string][]domain.ID{}
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if l.Kind != domain.Lighting {
			continue
		}
		goal := "not stated: ask the designer"
		if in := r.sensed(l, domain.OnPowerBack); in != nil {
			goal = or(words[in.Restore], units.Percent(in.Level))
		}
		goals = addOnce(goals, goal)
		loads[goal] = append(loads[goal], l.ID)
	}
	parts := make([]string, len(goals))
	for i, g := range goals {
		parts[i] = sentence(r.loadList(loads[g])) + ": " + g + "."
	}
	return or(strings.Join(parts, " "), "No lighting is controlled here.")
}

// sensorSilent says when a silent sensor is noticed, where an intent says so.
func (r *room) sensorSilent() string {
	const then = "counts as occupied: nothing goes dark, and nothing goes off by itself until it is mended."
	var after []string
	for i := range r.Design.Intents {
		if in := &r.Design.Intents[i]; in.Kind == domain.ByPresence && in.Watchdog > 0 {
			after = append(after, units.Duration(in.Watchdog)+" ("+r.stepOfIntent(in.ID)+")")
		}
	}
	if len(after) == 0 {
		return "It " + then
	}
	return "After " + joined(after) + " it " + then
}

func (r *room) networkLost() string {
	gateway := r.tagsWhere(func(d *domain.Device) bool {
		t := r.c.project.Book.Find(d.Type)
		return t != nil && t.Kind == equipment.Gateway
	})
	if len(gateway) == 0 {
		return "Nothing changes: the room has no link to the building network."
	}
	text := "Buttons, sensors and scenes of the room go on. Commands from outside the room stop at " + joined(gateway) + "."
	if steps := r.stepsOf(domain.OnNetworkLoss); len(steps) > 0 {
		text = "As " + joined(steps) + ". " + text
	}
	return text
}

func (r *room) serverLost() string {
	var stopped []string
	for i := range r.Design.Intents {
		if in := &r.Design.Intents[i]; in.Kind == domain.BySchedule || in.Kind == domain.OnDemandResponse {
			stopped = append(stopped, strings.ToLower(in.Kind.Title())+" ("+r.stepOfIntent(in.ID)+")")
		}
	}
	need := needs{}
	if need.add(&r.Design); need.modes && len(r.c.project.Calendar) > 0 {
		stopped = append(stopped, "calendar of modes")
	}
	if len(stopped) == 0 {
		return "Nothing in this room depends on it."
	}
	return "No longer carried out: " + joined(stopped) + ". Buttons, presence and daylight go on."
}

// stationDead names the loads that nothing else could turn on or off.
func (r *room) stationDead(d *domain.Device) string {
	acts := false
	lost := make([][2]int, len(r.Design.Loads)) // ways on and off that go with it, as Design.Paths counts them
	for i := range r.Design.Links {
		k := &r.Design.Links[i]
		if k.Device != d.ID || k.Do.Verb == domain.Nothing {
			continue
		}
		at := r.Design.LoadIndex(k.Load)
		if at < 0 {
			continue
		}
		acts = true
		if k.Do.TurnsOn(&r.Design, k.Load) {
			lost[at][0]++
		}
		if k.Do.TurnsOff(&r.Design, k.Load) {
			lost[at][1]++
		}
	}
	if !acts {
		return "Nothing changes: its buttons act on nothing."
	}
	var on, off []string
	for i := range r.Design.Loads {
		had, tag := r.paths()[i], r.Design.Loads[i].Tag
		if had[0] > 0 && had[0] == lost[i][0] {
			on = append(on, tag)
		}
		if had[1] > 0 && had[1] == lost[i][1] {
			off = append(off, tag)
		}
	}
	text := "Its buttons do nothing; presence, schedule and other stations go on."
	if len(on) > 0 {
		text += fmt.Sprintf(" Nothing else turns on %s.", joined(on))
	}
	if len(off) > 0 {
		text += fmt.Sprintf(" Nothing else turns off %s.", joined(off))
	}
	return text
}

func (r *room) failureTable(powerBack string) Table {
	t := Table{Caption: "When something is gone", Columns: []Column{{Title: "When", Width: 1.4}, {Title: "Then, as designed; to be verified on site", Width: 5}}}
	for _, f := range r.failures(powerBack) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(f.when), TextCell(f.then)}})
	}
	return t
}
