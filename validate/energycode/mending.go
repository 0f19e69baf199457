package energycode

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	code "scopewright/domain/energycode"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// mending is a fix in the making: edits that let the room meet a check. One that
// cannot mend all that is short is none.
type mending struct {
	f     *rule.Facts
	c     *rule.Code
	a     *code.Answer
	said  []string // what is done, for the button
	edits []edit.Edit
	done  map[string]bool // fields that are set already
	last  []edit.Edit     // what takes too long to try: where sensors hang is looked for at the click
	hung  int             // rows that answer daylight by this fix
	made  int             // things that this fix adds
	stuck bool            // something is short that the program cannot mend
}

func (m *mending) fix() *rule.Fix {
	if m.stuck || len(m.edits) == 0 || !m.helps() {
		return nil
	}
	return &rule.Fix{Title: domain.UpperFirst(strings.Join(m.said, ", ")), Edits: append(m.edits, m.last...)}
}

// helps tries the edits on a copy of the design: a room may fall short in more than one
// way, and then one click has to mend them all or is not offered.
func (m *mending) helps() bool {
	after := *m.f.Room
	after.Design = m.f.Design.Clone()
	if _, err := edit.All(edit.OfRoom(m.f.Project, &after), m.edits); err != nil {
		return false
	}
	facts := code.FactsOf(m.f.Project, &after, code.Given{Zones: m.c.Facts.Zones, Brief: true})
	return !code.Unmet(m.c.Pack, m.c.Kind.Space, &facts, m.a)
}

// say adds to the button's words; what is said already is not said again.
func (m *mending) say(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !slices.Contains(m.said, s) {
		m.said = append(m.said, s)
	}
}

// set sets a field once.
func (m *mending) set(path, text string) {
	if m.done[path] {
		return
	}
	if m.done == nil {
		m.done = map[string]bool{}
	}
	m.done[path] = true
	m.edits = append(m.edits, edit.SetField{Path: path, Text: text})
}

// short gives the loads of which something is short. Nothing here darkens light on the
// way out: life-safety rules come before energy rules, and a person has to decide.
func (m *mending) short() []*rule.Load {
	var out []*rule.Load
	for _, id := range m.a.Loads {
		l := m.f.Load(id)
		if l == nil || l.Egress {
			m.stuck = true
			return nil
		}
		out = append(out, l)
	}
	return out
}

// known gives what the code's facts say of a load.
func (m *mending) known(l *rule.Load) *code.Load {
	for i := range m.c.Facts.Loads {
		if m.c.Facts.Loads[i].ID == l.ID {
			return &m.c.Facts.Loads[i]
		}
	}
	return nil
}

// figure gives a figure of the code; 0 where it has none, which no fix can mend.
func (m *mending) figure(c code.Control, name string) float64 {
	if q := m.c.Pack.Parameter(c, name); q != nil {
		return q.Value
	}
	m.stuck = true
	return 0
}

// devices gives the room's devices that do something.
func (m *mending) devices(does func(*rule.Device) bool) []*rule.Device {
	var out []*rule.Device
	for i := range m.f.Devices {
		if d := &m.f.Devices[i]; does(d) {
			out = append(out, d)
		}
	}
	return out
}

func presence(d *rule.Device) bool { return d.Traits.Presence }
func daylight(d *rule.Device) bool { return d.Traits.Daylight }

// acts lets devices act on loads.
func (m *mending) acts(devices []domain.ID, loads []*rule.Load) {
	for _, d := range devices {
		for _, l := range loads {
			m.set("links/"+string(domain.LinkID(d, 0, "", l.ID)), "ACT")
		}
	}
}

// sensors gives the sensors of a kind, adding one of the equipment book where the room
// has none. A battery one needs a mains device of the room to talk through.
func (m *mending) sensors(does func(*rule.Device) bool, kind equipment.Kind, word string) []domain.ID {
	var out []domain.ID
	for _, d := range m.devices(does) {
		out = append(out, d.ID)
	}
	if len(out) > 0 {
		return out
	}
	if id := m.added(kind, word); id != "" {
		return []domain.ID{id}
	}
	return nil
}

// added adds a sensor of the equipment book.
func (m *mending) added(kind equipment.Kind, word string) domain.ID {
	parent := m.router()
	for i := range m.f.Project.Book {
		t := &m.f.Project.Book[i]
		if t.Kind != kind || t.Supply == equipment.Wired || t.Supply == equipment.Battery && parent == "" {
			continue
		}
		id := m.fresh(word)
		m.edits = append(m.edits, edit.AddDevice{ID: id, Type: t.ID})
		if t.Supply == equipment.Battery {
			m.set("devices/"+string(id)+"/parent", string(parent))
		}
		m.say("add a %s", word)
		m.rest(id)
		return id
	}
	m.stuck = true
	return ""
}

// rest says of a new device's other cells that they are empty on purpose.
func (m *mending) rest(id domain.ID) {
	for i := range m.f.Loads {
		m.edits = append(m.edits, edit.SetField{Path: "links/" + string(domain.LinkID(id, 0, "", m.f.Loads[i].ID)), Text: "-"})
	}
}

// router gives the mains device with the fewest children.
func (m *mending) router() (id domain.ID) {
	fewest := 0
	for _, d := range m.devices((*rule.Device).Routes) {
		children := m.f.Count(func(c *rule.Device) bool { return c.Parent == d.ID })
		if id == "" || children < fewest {
			id, fewest = d.ID, children
		}
	}
	return id
}

// intend lets an intent of a kind act on loads: one that is there and always holds, or
// a new one with some settings.
func (m *mending) intend(kind domain.IntentKind, loads []*rule.Load, word string, settings ...string) {
	m.intendBy(kind, loads, word, func(*domain.Intent) bool { return true }, settings...)
}

// intendBy is intend for intents that loads may join only where joins says so.
func (m *mending) intendBy(kind domain.IntentKind, loads []*rule.Load, word string, joins func(*domain.Intent) bool, settings ...string) {
	var open []*rule.Load
	for _, l := range loads {
		if len(m.intents(kind, l)) == 0 {
			open = append(open, l)
		}
	}
	if len(open) == 0 {
		return
	}
	for i := range m.f.Design.Intents {
		if in := &m.f.Design.Intents[i]; in.Kind == kind && !in.Conditional() && len(in.Loads) > 0 && joins(in) {
			m.set("intents/"+string(in.ID)+"/loads", ids(in.Loads, open))
			m.say("let the %s intent act on %s", word, tags(open))
			return
		}
	}
	id := m.fresh(word + " intent")
	m.edits = append(m.edits, edit.AddIntent{ID: id, Kind: kind})
	m.set("intents/"+string(id)+"/loads", ids(nil, open))
	for i := 0; i+1 < len(settings); i += 2 {
		m.set("intents/"+string(id)+"/"+settings[i], settings[i+1])
	}
	m.say("add a %s intent for %s", word, tags(open))
}

// changes gives the intents of a kind that act on a load, to be changed. One that acts
// on light on the way out as well is left alone.
func (m *mending) changes(kind domain.IntentKind, l *rule.Load) []*domain.Intent {
	out := m.intents(kind, l)
	for _, in := range out {
		m.spare(in)
	}
	return out
}

// spare leaves an intent alone that acts on light on the way out.
func (m *mending) spare(in *domain.Intent) {
	for i := range m.f.Loads {
		if l := &m.f.Loads[i]; l.Egress && in.ActsOn(l.Load) {
			m.stuck = true
		}
	}
}

// intents gives the intents of a kind that act on a load.
func (m *mending) intents(kind domain.IntentKind, l *rule.Load) []*domain.Intent {
	var out []*domain.Intent
	for i := range m.f.Design.Intents {
		if in := &m.f.Design.Intents[i]; in.Kind == kind && in.ActsOn(l.Load) {
			out = append(out, in)
		}
	}
	return out
}

func ids(have []domain.ID, more []*rule.Load) string {
	var out []string
	for _, id := range have {
		out = append(out, string(id))
	}
	for _, l := range more {
		if !slices.Contains(out, string(l.ID)) {
			out = append(out, string(l.ID))
		}
	}
	return strings.Join(out, ",")
}

func tags(loads []*rule.Load) string {
	var out []string
	for _, l := range loads {
		out = append(out, rule.Named(l.Tag))
	}
	return domain.JoinWords(out)
}

// percent writes a level as its field reads it.
func percent(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// wait writes a time as its field reads it, rounded down to whole minutes from a minute
// on.
func wait(s units.Seconds) string {
	if s >= 60 {
		s = units.Seconds(int(s) / 60 * 60)
	}
	return units.Duration(s)
}
