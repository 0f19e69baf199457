package energycode

import (
	"fmt"
	"slices"
)

// Space is a kind of space that a code's tables list.
type Space struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Sign says how a measured value is held against a parameter.
type Sign string

// The signs; the empty one belongs to a parameter in words.
const (
	AtLeast  Sign = "at least"
	AtMost   Sign = "at most"
	MoreThan Sign = "more than"
	LessThan Sign = "less than"
)

// Signs lists them.
func Signs() []Sign { return []Sign{AtLeast, AtMost, MoreThan, LessThan} }

// Parameter is one figure of a code, or one saying in words.
type Parameter struct {
	Control Control `json:"control"`
	Name    string  `json:"name"`
	Sign    Sign    `json:"sign,omitempty"`
	Value   float64 `json:"value,omitempty"`
	Unit    string  `json:"unit,omitempty"` // the code's own: ft2, ft, in, W, kW, W/ft2, %, min, h
	Words   string  `json:"words,omitempty"`
	Basis
}

// AnySpace in a requirement stands for every kind of space.
const AnySpace = "*"

// Requirement is what a code asks of one control in one kind of space.
type Requirement struct {
	Space     string  `json:"space"`
	Control   Control `json:"control"`
	Duty      Duty    `json:"duty"`
	Reduction float64 `json:"reduction_pct,omitempty"` // of power, where the row states its own
	Each      string  `json:"each,omitempty"`          // "zone" or "aisle": each acts by itself; "500 W": no more on one zone
	Also      Control `json:"also,omitempty"`          // a control that meets the row as well
	Basis
}

// Density is the most lighting power that a code allows a kind of space.
type Density struct {
	Space    string  `json:"space"`
	WattsFt2 float64 `json:"w_per_ft2"` // W/ft2
	Basis
}

// Pack is one code in one edition with one set of amendments.
type Pack struct {
	ID         string `json:"id"`
	Code       string `json:"code"`
	Edition    string `json:"edition"`
	Amendments string `json:"amendments,omitempty"` // name of the set
	Title      string `json:"title"`
	Note       string `json:"note,omitempty"`
	ZoneRules  string `json:"zone_rules,omitempty"` // by which daylight areas are drawn: the ID of a daylight.ZoneCode
	Confirmed  string `json:"confirmed,omitempty"`  // who read the adopted text beside it, and when; empty: nobody

	Spaces       []Space       `json:"spaces"`
	Parameters   []Parameter   `json:"parameters"`
	Requirements []Requirement `json:"requirements"`
	Densities    []Density     `json:"densities"`

	whole bool // rooms may be judged by it; false: single figures only
	own   bool // a worksheet: may be edited
	index *index
}

// Key names the pack on paper: code, edition and amendments.
func (p *Pack) Key() string {
	if p.Amendments == "" {
		return p.Code + " " + p.Edition
	}
	return p.Code + " " + p.Edition + ", " + p.Amendments
}

// Whole tells that rooms may be judged by the pack; others hold single figures.
func (p *Pack) Whole() bool { return p.whole || p.own }

// Worksheet tells that the pack is the designer's own and may be edited.
func (p *Pack) Worksheet() bool { return p.own }

// State says whether somebody has read the adopted text beside the pack, and how many
// of its rows are not sure.
func (p *Pack) State() string {
	s := "confirmed by " + p.Confirmed
	if p.Confirmed == "" {
		s = "unconfirmed: nobody has read the adopted text beside this pack"
	}
	memory, unknown, all := p.Unsure()
	return fmt.Sprintf("%s; of %d rows %d are from memory and %d are blank in the data", s, all, memory, unknown)
}

// Unsure counts the rows of the pack that are from memory and those that are blank in
// the data; a row is counted once.
func (p *Pack) Unsure() (memory, unknown, all int) {
	count := func(b Basis, blank bool) {
		all++
		switch {
		case blank:
			unknown++
		case b.Mark == Memory:
			memory++
		}
	}
	for i := range p.Parameters {
		count(p.Parameters[i].Basis, false)
	}
	for i := range p.Requirements {
		count(p.Requirements[i].Basis, p.Requirements[i].Duty == Unknown)
	}
	for i := range p.Densities {
		count(p.Densities[i].Basis, false)
	}
	return memory, unknown, all
}

// index finds rows without a search. Of two rows alike the first counts.
type index struct {
	parameters   map[parameterKey]int
	requirements map[requirementKey]int
	densities    map[string]int
}

type parameterKey struct {
	control Control
	name    string
}

type requirementKey struct {
	space   string
	control Control
}

// reindex makes the rows findable; every change of the lists ends with it.
func (p *Pack) reindex() {
	x := &index{make(map[parameterKey]int, len(p.Parameters)), make(map[requirementKey]int, len(p.Requirements)), make(map[string]int, len(p.Densities))}
	for i := len(p.Parameters) - 1; i >= 0; i-- {
		x.parameters[parameterKey{p.Parameters[i].Control, p.Parameters[i].Name}] = i
	}
	for i := len(p.Requirements) - 1; i >= 0; i-- {
		x.requirements[requirementKey{p.Requirements[i].Space, p.Requirements[i].Control}] = i
	}
	for i := len(p.Densities) - 1; i >= 0; i-- {
		x.densities[p.Densities[i].Space] = i
	}
	p.index = x
}

// Parameter gives a figure of the pack, nil where the pack says nothing.
func (p *Pack) Parameter(c Control, name string) *Parameter {
	if i, ok := p.index.parameters[parameterKey{c, name}]; ok {
		return &p.Parameters[i]
	}
	return nil
}

// states tells that the pack says anything of a control beside the duty.
func (p *Pack) states(c Control) bool {
	return slices.ContainsFunc(p.Parameters, func(q Parameter) bool { return q.Control == c })
}

// Requirement gives what is asked of a control in a kind of space: the space's own
// row, else that of any space, nil where the pack says nothing.
func (p *Pack) Requirement(space string, c Control) *Requirement {
	for _, s := range []string{space, AnySpace} {
		if i, ok := p.index.requirements[requirementKey{s, c}]; ok {
			return &p.Requirements[i]
		}
	}
	return nil
}

// Density gives the power density of a kind of space, nil where the pack says nothing.
func (p *Pack) Density(space string) *Density {
	if i, ok := p.index.densities[space]; ok {
		return &p.Densities[i]
	}
	return nil
}

// Space gives a kind of space by its ID, nil where the pack does not list it.
func (p *Pack) Space(id string) *Space {
	if i := slices.IndexFunc(p.Spaces, func(s Space) bool { return s.ID == id }); i >= 0 {
		return &p.Spaces[i]
	}
	return nil
}
