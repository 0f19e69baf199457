// Package match fits a building that was read from a file to a project: which
// storey goes to which, which space is which room, what walls come. It stands in
// the intake beside the readers and changes nothing: what it gives are copies
// and words, for a preview and for the one edit that carries them out.
package match

import (
	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/roomlist"
)

// Here is what the file meets. Its values are read only.
type Here struct {
	Project *domain.Project
	Rooms   []*domain.Room
	Plans   map[domain.ID]*domain.Plan // by storey; a storey without one has none drawn
}

// Where a storey of the file goes, besides the ID of a storey of the project.
const (
	Guess = ""      // where it fits best
	Fresh = "new"   // a new storey
	Leave = "leave" // nowhere
)

// Choices are the designer's. The zero value guesses, keeps the facts that rooms
// state, and keeps walls that the file does not have.
type Choices struct {
	Storeys   []string // for each storey of the file; short or nil: Guess
	TakeFacts bool     // areas and ceiling heights of the file win over those stated
	DropWalls bool     // walls that the file does not have go
}

// Fit is what the file would do to the project.
type Fit struct {
	Storeys []Storey
	// NewBuilding is made where the project has no building; else nil.
	NewBuilding *domain.Building
	Counts      Counts
	Conflict    string // why it cannot be carried out as chosen; "" where it can
}

// Counts sums steps up.
type Counts struct{ New, Update, Same, Skip, Missing, Differ int }

// Storey is one storey of the file and where it goes.
type Storey struct {
	Index    int // in the model
	Name     string
	Level    units.Metres
	Derived  bool
	Into     domain.ID // "" where it is left out
	IntoName string
	Made     *domain.Storey // the new storey, nil where it is there
	Building domain.ID      // that Made belongs to
	Why      string         // how the storey was found
	Steps    []Step
	Missing  []*domain.Room // on that storey and not in the file; they stay
	Plan     *domain.Plan   // as it will be; nil where no wall and no north comes
	Walls    WallCounts
	Counts   Counts
}

// Action is what happens to a space's room.
type Action string

// The actions.
const (
	New    Action = "new"
	Update Action = "update"
	Same   Action = "same"
	Skip   Action = "skip"
)

// Step is what happens to one space.
type Step struct {
	Space   *building.Space
	Action  Action
	Room    *domain.Room // as it will be; nil where skipped
	Was     *domain.Room // as it is; nil where new
	By      string       // how it was found: "number", "place", "name"
	Changes []string
	Problem string
	Differs bool // the area stated here is not that of the drawing
}

// Label names the step's room or space.
func (s *Step) Label() string {
	if s.Room != nil {
		return s.Room.Label()
	}
	r := domain.Room{Number: s.Space.Number, Name: s.Space.Name}
	return r.Label()
}

// Nothing tells that carrying the fit out would change nothing.
func (f *Fit) Nothing() bool {
	for i := range f.Storeys {
		s := &f.Storeys[i]
		if s.Into != "" && (s.Counts.New+s.Counts.Update > 0 || s.Made != nil || s.Plan != nil) {
			return false
		}
	}
	return true
}

// Model fits a model to a project.
func Model(m *building.Model, here Here, c Choices, newID func() domain.ID) *Fit {
	f := &fitter{model: m, here: here, choices: c, newID: newID, fit: &Fit{}, useOf: roomlist.Uses(), numbers: map[domain.ID]map[string]bool{}}
	f.index()
	f.placeStoreys()
	for i := range f.fit.Storeys {
		f.fill(&f.fit.Storeys[i])
	}
	f.count()
	return f.fit
}

type fitter struct {
	model    *building.Model
	here     Here
	choices  Choices
	newID    func() domain.ID
	fit      *Fit
	useOf    func(string) domain.Use
	onStorey map[domain.ID][]*domain.Room
	numbers  map[domain.ID]map[string]bool // numbers given on a storey, by storey
	given    int                           // numbers made up so far
}

func (f *fitter) index() {
	f.onStorey = map[domain.ID][]*domain.Room{}
	for _, r := range f.here.Rooms {
		f.onStorey[r.StoreyID] = append(f.onStorey[r.StoreyID], r)
	}
}

// fill fits one storey's spaces and walls.
func (f *fitter) fill(s *Storey) {
	if s.Into == "" {
		return
	}
	from := &f.model.Storeys[s.Index]
	f.fitRooms(s, from)
	f.fitWalls(s, from)
}

func (f *fitter) count() {
	for i := range f.fit.Storeys {
		s := &f.fit.Storeys[i]
		s.Counts.Missing = len(s.Missing)
		for _, st := range s.Steps {
			switch st.Action {
			case New:
				s.Counts.New++
			case Update:
				s.Counts.Update++
			case Same:
				s.Counts.Same++
			case Skip:
				s.Counts.Skip++
			}
			if st.Differs {
				s.Counts.Differ++
			}
		}
		f.fit.Counts.add(s.Counts)
	}
}

func (c *Counts) add(o Counts) {
	c.New += o.New
	c.Update += o.Update
	c.Same += o.Same
	c.Skip += o.Skip
	c.Missing += o.Missing
	c.Differ += o.Differ
}
