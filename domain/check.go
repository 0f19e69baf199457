package domain

import (
	"fmt"
	"time"
)

// Problem is one reason why a scope that comes from outside cannot be taken
// in: where, as a JSON pointer into the exchange document, and how to mend it.
type Problem struct {
	Path    string `json:"path"`
	Message string `json:"message"`
}

func (p Problem) String() string { return p.Path + ": " + p.Message }

// MostProblems is how many problems Check lists before it stops looking.
const MostProblems = 100

// Sizes above which a scope is taken for a mistake or an attack.
const (
	MaxRooms    = 20000
	MaxTypicals = 2000
	MaxParts    = 500   // loads, devices, scenes or intents of one design
	MaxLinks    = 20000 // of one design

	MaxPlans      = 2000
	MaxWalls      = 20000 // of one storey
	MaxOpenings   = 500   // of one wall
	MaxRooflights = 5000  // of one plan
	MaxPoints     = 20000 // of one outline, its holes included
	MaxPlaces     = 10000 // luminaires or seats of one room
)

// Check says what stands in the way of taking the scope in: IDs that are
// invalid or given twice, rooms without their storey or typical, values out of
// range or outside of a closed set, text that cannot stand on a sheet,
// exceptions that name no place. What a person can also reach by editing, such
// as a button that acts on a load that is gone, is not here: a rule finds it.
func (s *Scope) Check() []Problem {
	c := newChecker()
	c.walkScope(s)
	c.project(&s.Project)
	typicals := c.typicals(s)
	c.drawings(s)
	c.rooms(s, typicals)
	c.reviews(s)
	return c.problems
}

func (c *checker) project(p *Project) {
	c.times(p)
	c.needID("/project/id", p.ID)
	c.need("/project/name", p.Name, "a name")
	c.need("/project/units", string(p.Units), "US or SI")
	storeys := map[ID]bool{}
	for i := range p.Buildings {
		for j := range p.Buildings[i].Storeys {
			id := p.Buildings[i].Storeys[j].ID
			if storeys[id] {
				c.add(fmt.Sprintf("/project/buildings/%d/storeys/%d/id", i, j), "storey ID %q is in another building too: give this storey an ID of its own", id)
			}
			storeys[id] = true
		}
	}
	c.circuits(p.Circuits)
	c.profiles(p.Profiles)
	c.rates(p.Rates)
	c.worksheets(p)
	for i, t := range p.Book {
		if err := t.Validate(); err != nil {
			c.add(fmt.Sprintf("/project/book/%d", i), "%v", err)
		}
	}
	for i, l := range p.Limits {
		if err := l.Validate(); err != nil {
			c.add(fmt.Sprintf("/project/limits/%d", i), "%v", err)
		}
	}
}

func (c *checker) typicals(s *Scope) map[ID]*Typical {
	if len(s.Typicals) > MaxTypicals {
		c.add("/typicals", "%d typicals are more than the %d that a project may have", len(s.Typicals), MaxTypicals)
	}
	known := make(map[ID]*Typical, len(s.Typicals))
	for i := range s.Typicals {
		t := &s.Typicals[i]
		known[t.ID] = t
		path := fmt.Sprintf("/typicals/%d", i)
		c.need(path+"/name", t.Name, "a name")
		c.design(path+"/design", "typical "+t.Name, &t.Design)
	}
	return known
}

func (c *checker) rooms(s *Scope, typicals map[ID]*Typical) {
	if len(s.Rooms) > MaxRooms {
		c.add("/rooms", "%d rooms are more than the %d that a project may have: split it into several projects", len(s.Rooms), MaxRooms)
	}
	storeys := map[ID]bool{}
	for _, b := range s.Project.Buildings {
		for _, st := range b.Storeys {
			storeys[st.ID] = true
		}
	}
	for i := range s.Rooms {
		if c.full() {
			return
		}
		r, path := &s.Rooms[i], fmt.Sprintf("/rooms/%d", i)
		c.need(path+"/number", r.Number, "a number")
		if !storeys[r.StoreyID] {
			c.add(path+"/storey", "room %s lies on storey %q, which no building of the project has: add the storey or name another", r.Number, r.StoreyID)
		}
		c.design(path+"/design", "room "+r.Number, &r.Design)
		c.following(path, r, typicals)
		c.places(path, r)
		for j, w := range r.Waivers {
			at := fmt.Sprintf("%s/waivers/%d", path, j)
			c.need(at+"/rule", w.Rule, "the rule that it waives")
			c.need(at+"/reason", w.Reason, "a reason")
			c.need(at+"/name", w.Name, "a name")
			c.date(at+"/date", w.Date)
		}
	}
}

// following checks what ties a room to its typical.
func (c *checker) following(path string, r *Room, typicals map[ID]*Typical) {
	if r.TypicalID == "" {
		if len(r.Exceptions) > 0 {
			c.add(path+"/exceptions", "room %s follows no typical and cannot have exceptions to it: put them into its design", r.Number)
		}
		return
	}
	t := typicals[r.TypicalID]
	if t == nil {
		c.add(path+"/typical", "room %s follows typical %q, which the project does not have: add the typical or leave this out", r.Number, r.TypicalID)
		return
	}
	if !r.Design.Empty() {
		c.add(path+"/design", "room %s follows typical %s and cannot have a design of its own: write what differs as exceptions", r.Number, t.Name)
	}
	sound := len(r.Exceptions) > 0
	for i, e := range r.Exceptions {
		at := fmt.Sprintf("%s/exceptions/%d", path, i)
		fixed, err := e.Canonical(&Design{})
		switch {
		case err != nil:
			c.add(at, "room %s, exception to typical %s: %v", r.Number, t.Name, err)
			sound = false
		case fixed.Before == nil && fixed.After == nil:
			c.add(at, "room %s, exception to typical %s: it changes nothing: take it out", r.Number, t.Name)
		}
	}
	if !sound {
		return
	}
	resolved, err := Resolve(r, t)
	if err != nil {
		c.add(path+"/exceptions", "%v", err)
		return
	}
	c.walkResolved(path+"/exceptions", &resolved.Design)
	c.design(path+"/exceptions", "room "+r.Number+" with its exceptions", &resolved.Design)
}

// design checks what a design's parts say of each other. Whether what they
// name is there is for the rules to find.
func (c *checker) design(path, whose string, d *Design) {
	for _, part := range []struct {
		name     string
		n, atop  int
		singular string
	}{{"loads", len(d.Loads), MaxParts, "loads"}, {"devices", len(d.Devices), MaxParts, "devices"}, {"scenes", len(d.Scenes), MaxParts, "scenes"},
		{"intents", len(d.Intents), MaxParts, "intents"}, {"scenarios", len(d.Scenarios), MaxParts, "scenarios"}, {"links", len(d.Links), MaxLinks, "links"}} {
		if part.n > part.atop {
			c.add(path+"/"+part.name, "%s has %d %s; at most %d can be read", whose, part.n, part.singular, part.atop)
		}
	}
	for i := range d.Loads {
		c.need(fmt.Sprintf("%s/loads/%d/kind", path, i), string(d.Loads[i].Kind), whose+": the load's kind, lighting or receptacle,")
	}
	for i := range d.Scenes {
		if d.Scenes[i].Number == 0 {
			c.add(fmt.Sprintf("%s/scenes/%d/number", path, i), "%s: the scene has no number: use 1 to 999", whose)
		}
	}
	for i := range d.Links {
		k := &d.Links[i]
		if want := LinkID(k.Device, k.Button, k.On, k.Load); k.ID != want {
			c.add(fmt.Sprintf("%s/links/%d/id", path, i), "%s: the link's ID must be %q after its device, button and load, not %q", whose, want, k.ID)
		}
		if k.Do.Verb == "" {
			c.add(fmt.Sprintf("%s/links/%d/do/verb", path, i), "%s: the link says nothing: give it a verb or leave it out", whose)
		}
	}
	for i := range d.Devices {
		c.date(fmt.Sprintf("%s/devices/%d/fitted", path, i), d.Devices[i].Fitted)
	}
	for i := range d.Intents {
		in := &d.Intents[i]
		at := fmt.Sprintf("%s/intents/%d", path, i)
		if in.Kind == "" {
			c.add(at+"/kind", "%s: the intent has no kind", whose)
		}
		for _, f := range []struct{ name, text string }{{"on_at", in.OnAt}, {"off_at", in.OffAt}, {"from", in.From}, {"until", in.Until}} {
			c.timeOfDay(at+"/"+f.name, f.text)
		}
	}
	c.scenarios(path, whose, d.Scenarios)
}

func (c *checker) scenarios(path, whose string, list []Scenario) {
	for i := range list {
		s, at := &list[i], fmt.Sprintf("%s/scenarios/%d", path, i)
		if len(s.Steps) > MaxParts {
			c.add(at+"/steps", "%s has %d steps in a scenario; at most %d can be read", whose, len(s.Steps), MaxParts)
		}
		c.clock(at+"/start", s.Start)
		if day, err := CleanScenarioDay(s.Day); err != nil {
			c.add(at+"/day", "%v", err)
		} else if day != s.Day {
			c.add(at+"/day", "%q must be written %q", shortText(s.Day), day)
		}
		for j := range s.Steps {
			c.need(fmt.Sprintf("%s/steps/%d/happen", at, j), string(s.Steps[j].Happen), whose+": what happens in the scenario's step")
		}
	}
}

// times checks what a project says of its place, its calendar and its order of
// priority.
func (c *checker) times(p *Project) {
	if err := CheckZone(p.Zone); err != nil {
		c.add("/project/zone", "%v", err)
	}
	if len(p.Priority) > 0 {
		if err := CheckPriority(p.Priority); err != nil {
			c.add("/project/priority", "%v", err)
		}
	}
	for _, l := range []struct {
		name  string
		lines []string
		clean func(string) (string, error)
	}{{"holidays", p.Holidays, cleanHoliday}, {"calendar", p.Calendar, cleanModeTime}} {
		if len(l.lines) > MostCalendar {
			c.add("/project/"+l.name, "there are %d lines; at most %d are kept", len(l.lines), MostCalendar)
		}
		for i, line := range l.lines {
			if clean, err := l.clean(line); err != nil {
				c.add(fmt.Sprintf("/project/%s/%d", l.name, i), "%v", err)
			} else if clean != line {
				c.add(fmt.Sprintf("/project/%s/%d", l.name, i), "%q must be written %q", shortText(line), clean)
			}
		}
	}
}

// reviews leaves a room that is gone alone: what was said of it stays said.
func (c *checker) reviews(s *Scope) {
	for i := range s.Reviews {
		r, path := &s.Reviews[i], fmt.Sprintf("/reviews/%d", i)
		c.needID(path+"/item", r.ItemID)
		c.instant(path+"/at", r.At)
		c.need(path+"/name", r.Name, "a name")
		if r.Verdict == "" && r.Answer == "" && r.Comment == "" {
			c.add(path, "this step of the review says nothing: give it a verdict, a comment or an answer")
		}
	}
	for i := range s.SignOffs {
		o, path := &s.SignOffs[i], fmt.Sprintf("/sign_offs/%d", i)
		c.needID(path+"/room", o.RoomID)
		c.need(path+"/name", o.Name, "a name")
		c.instant(path+"/at", o.At)
	}
}

func (c *checker) need(path, text, what string) {
	if text == "" {
		c.add(path, "%s is missing", what)
	}
}

func (c *checker) needID(path string, id ID) {
	if !id.Valid() {
		c.add(path, "%q is no ID: use 1 to 120 small letters, digits, hyphens, dots or colons", shortText(string(id)))
	}
}

func (c *checker) date(path, text string) {
	if _, err := time.Parse(time.DateOnly, text); text != "" && err != nil {
		c.add(path, "%q is no date: write it like 2026-03-31", shortText(text))
	}
}

func (c *checker) timeOfDay(path, text string) {
	if text == "" {
		return
	}
	if t, err := ParseTimeOfDay(text); err != nil {
		c.add(path, "%v", err)
	} else if t.String() != text {
		c.add(path, "%q must be written %q", shortText(text), t)
	}
}

func (c *checker) clock(path, text string) {
	if t, err := time.Parse("15:04", text); text != "" && (err != nil || t.Format("15:04") != text) {
		c.add(path, "%q is no time of day: write it like 07:00", shortText(text))
	}
}

func (c *checker) instant(path, text string) {
	if _, err := time.Parse(time.RFC3339Nano, text); err != nil {
		c.add(path, "%q is no point in time: write it like 2026-03-31T14:05:00Z", shortText(text))
	}
}
