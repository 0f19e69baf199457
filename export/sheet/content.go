package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"scopewright/domain"
	"scopewright/validate/rule"
)

// Content is a project made ready for paper: the chosen rooms resolved once, in the order
// of storeys and numbers, with their reviews. All documents of one issue share it.
type Content struct {
	in       Input
	project  *domain.Project
	storeys  []*storey
	typicals map[domain.ID]*domain.Typical
	revision int // of Issue.Revision where it is a number; marks changed rows
	partial  bool
	around   map[domain.ID][]*domain.Resolved // rooms with an outline by storey; nil: not sorted yet
}

// storey is one floor level with its rooms in order.
type storey struct {
	building *domain.Building // nil: the rooms name a storey that the project lacks
	storey   *domain.Storey
	place    int // among all storeys of the project, from 1
	rooms    []*room
}

// room is one room ready for paper.
type room struct {
	*domain.Resolved
	c        *Content
	on       *storey
	number   string // of its sheets, as it stands in the sheet number
	slug     string
	reviews  []domain.Review
	signOffs []domain.SignOff
	change   *domain.RoomChange

	found   []rule.Finding
	judged  bool
	links   map[domain.Input][]*domain.Link // by load, in the order of the design; nil: undecided
	loadAt  map[domain.ID]int
	departs departures
	steps   []step
	ways    [][2]int // on and off, by load

	otherFailures  []failure
	exceptionLines []string
	plain          []Block // designBlocks without marks of change and with lasting findings
	hash           string
	hashDone       bool
}

// Open makes a project ready for paper. It fails where a room cannot be resolved.
func Open(in Input, only Only) (*Content, error) {
	c := bare(in)
	c.partial = !only.all()
	for i := range in.Scope.Typicals {
		c.typicals[in.Scope.Typicals[i].ID] = &in.Scope.Typicals[i]
	}
	at := c.addStoreys()
	wanted := only.picker()
	byID := map[domain.ID]*room{}
	for i := range in.Scope.Rooms {
		r := &in.Scope.Rooms[i]
		if !wanted(r) {
			continue
		}
		resolved, err := domain.Resolve(r, c.typicals[r.TypicalID])
		if err != nil {
			return nil, err
		}
		resolved = resolved.OnPlan(in.Scope.Plan(r.StoreyID))
		s := at[r.StoreyID]
		if s == nil {
			s = c.addLostStorey(at, r.StoreyID)
		}
		p := &room{Resolved: resolved, c: c, on: s}
		s.rooms = append(s.rooms, p)
		byID[r.ID] = p
	}
	c.addTalk(byID)
	c.order()
	return c, nil
}

// bare is a content without rooms.
func bare(in Input) *Content {
	c := &Content{in: in, project: &in.Scope.Project, typicals: map[domain.ID]*domain.Typical{}}
	c.revision, _ = strconv.Atoi(in.Issue.Revision)
	c.revision = max(0, c.revision)
	return c
}

func (o Only) picker() func(*domain.Room) bool {
	if o.all() {
		return func(*domain.Room) bool { return true }
	}
	rooms, storeys := map[domain.ID]bool{}, map[domain.ID]bool{}
	for _, id := range o.Rooms {
		rooms[id] = true
	}
	for _, id := range o.Storeys {
		storeys[id] = true
	}
	return func(r *domain.Room) bool { return rooms[r.ID] || storeys[r.StoreyID] }
}

func (c *Content) addStoreys() map[domain.ID]*storey {
	at := map[domain.ID]*storey{}
	for i := range c.project.Buildings {
		b := &c.project.Buildings[i]
		for j := range b.Storeys {
			s := &storey{building: b, storey: &b.Storeys[j], place: len(c.storeys) + 1}
			c.storeys = append(c.storeys, s)
			at[s.storey.ID] = s
		}
	}
	return at
}

func (c *Content) addLostStorey(at map[domain.ID]*storey, id domain.ID) *storey {
	s := &storey{place: len(c.storeys) + 1}
	c.storeys = append(c.storeys, s)
	at[id] = s
	return s
}

// addTalk hands reviews, sign-offs and changes to their rooms.
func (c *Content) addTalk(byID map[domain.ID]*room) {
	for _, v := range c.in.Scope.Reviews {
		if r := byID[v.RoomID]; r != nil {
			r.reviews = append(r.reviews, v)
		}
	}
	for _, v := range c.in.Scope.SignOffs {
		if r := byID[v.RoomID]; r != nil {
			r.signOffs = append(r.signOffs, v)
		}
	}
	if c.in.Changes == nil {
		return
	}
	for i := range c.in.Changes.Rooms {
		if r := byID[c.in.Changes.Rooms[i].RoomID]; r != nil {
			r.change = &c.in.Changes.Rooms[i]
		}
	}
}

// order sorts the rooms of each storey and gives each the name that its sheets carry;
// where two rooms of a storey have one number, the second is told apart.
func (c *Content) order() {
	slugs := map[string]bool{}
	for _, s := range c.storeys {
		slices.SortStableFunc(s.rooms, func(a, b *room) int {
			return cmp.Or(domain.CompareNumbers(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
		})
		numbers := map[string]bool{}
		for _, r := range s.rooms {
			r.number = apart(sheetSuffix(r.Number), numbers)
			r.slug = apart(slugOf(r.Number), slugs)
		}
	}
}

// apart gives the name, with a counter where it is taken already.
func apart(name string, taken map[string]bool) string {
	out := name
	for n := 2; taken[out]; n++ {
		out = fmt.Sprintf("%s-%d", name, n)
	}
	taken[out] = true
	return out
}

// rooms lists all rooms in order.
func (c *Content) rooms() []*room {
	var out []*room
	for _, s := range c.storeys {
		out = append(out, s.rooms...)
	}
	return out
}

// Rooms tells how many rooms were picked.
func (c *Content) Rooms() int {
	n := 0
	for _, s := range c.storeys {
		n += len(s.rooms)
	}
	return n
}

func (r *room) env() domain.Env { return domain.Env{Project: r.c.project, Design: &r.Design} }

// name gives "Level 2", or "Main house, Level 2" in a project of several buildings.
func (s *storey) name(c *Content) string {
	switch {
	case s.storey == nil:
		return "No storey"
	case len(c.project.Buildings) > 1:
		return s.building.Name + ", " + s.storey.Name
	}
	return s.storey.Name
}

func (s *storey) buildingName() string {
	if s.building == nil {
		return ""
	}
	return s.building.Name
}

// findings judges the room at most once.
func (r *room) findings() []rule.Finding {
	if !r.judged && r.c.in.Findings != nil {
		r.found = r.c.in.Findings(r.Resolved)
	}
	r.judged = true
	return r.found
}

// link gives the cell of an input and a load, nil where it is undecided.
func (r *room) link(in domain.Input, load domain.ID) *domain.Link {
	if r.links == nil {
		r.sortLinks()
	}
	row := r.links[in]
	if at, known := r.loadAt[load]; known && row != nil {
		return row[at]
	}
	return nil
}

// sortLinks lays the links out as the matrix they are.
func (r *room) sortLinks() {
	r.links = map[domain.Input][]*domain.Link{}
	r.loadAt = make(map[domain.ID]int, len(r.Design.Loads))
	for i := range r.Design.Loads {
		r.loadAt[r.Design.Loads[i].ID] = i
	}
	for i := range r.Design.Links {
		k := &r.Design.Links[i]
		at, known := r.loadAt[k.Load]
		if !known {
			continue
		}
		in := domain.Input{Device: k.Device, Button: k.Button, On: k.On}
		row := r.links[in]
		if row == nil {
			row = make([]*domain.Link, len(r.Design.Loads))
			r.links[in] = row
		}
		row[at] = k
	}
}
