// Package rule is what every rule of every family shares: what a rule is, what
// it may look at and what it finds. It is the leaf under the families and the
// registry.
package rule

import (
	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/energycode"
	"scopewright/domain/geom"
)

// Severity is how much a finding weighs.
type Severity string

// The severities. An error must be mended or waived before a sheet is signed.
const (
	Error   Severity = "error"
	Warning Severity = "warning"
	Info    Severity = "info"
)

// Word is the severity as screens and reports say it; JSON keeps the value.
func (s Severity) Word() string {
	if s == Info {
		return "note"
	}
	return string(s)
}

// Scope is what a rule judges at a time.
type Scope string

// The scopes.
const (
	OfRoom    Scope = "room"
	OfStorey  Scope = "storey"
	OfProject Scope = "project"
)

// Rule is one check as data with a pure function: no clock, no store, no log.
type Rule struct {
	ID       string // family-name, the path of its file; never used again for another
	Title    string
	Severity Severity
	Scope    Scope
	Limits   []domain.LimitID     // that it reads
	Why      string               // why it matters on site
	Source   string               // standard and clause, or "common practice, no published source"
	Example  string               // the worked example that the tests run, in words
	Aliases  []string             // IDs that it had before, so that waivers follow
	Claims   []energycode.Control // from whose checks a waiver of it claims an exception; none: of another family
	Excepts  []string             // what codes except from it: words to begin such a waiver's reason with
	Deep     bool                 // reads what exploring a room found: Facts.Proof

	Check        func(*Facts) []Finding        // of a room rule
	CheckStorey  func(*StoreyFacts) []Finding  // of a storey rule
	CheckProject func(*ProjectFacts) []Finding // of a project rule

	// Fires builds a room in which the rule finds something, Quiet one at the
	// limit in which it does not. A test runs both, and the fix in the first.
	Fires, Quiet func() *domaintest.Builder
	// The same for a storey rule and for a project rule.
	FiresStorey, QuietStorey   func() *StoreyFacts
	FiresProject, QuietProject func() *ProjectFacts
}

// Subject is a thing that a finding concerns.
type Subject struct {
	Part string    `json:"part"` // of the room: "devices", "loads", "scenes", "intents", "links", "facts" (ID is the field), "exceptions" (ID is the path); of a storey: "rooms", "walls", "rooflights"; of the project: "rooms", "buildings"
	ID   domain.ID `json:"id"`
	Tag  string    `json:"tag"`
}

// Finding is what a rule found, with its numbers. Margin is how far it is on
// the good side of the limit, negative beyond it; Numbers false means that the
// finding is not about numbers.
type Finding struct {
	Rule     string
	Severity Severity
	Room     domain.ID
	Key      string // tells the findings of one rule in one room apart
	Subjects []Subject
	Places   []geom.Point // on the storey's plan, for findings about a shape or a place
	Numbers  bool
	Measured float64
	Limit    float64
	Margin   float64
	Unit     string
	Message  string                // names the numbers, the limit and what to do
	Steps    []domain.ScenarioStep // of the shortest story that shows it; nil where none does
	Fix      *Fix
	Waiver   *domain.Waiver // that covers it; nil: none
	Lapsed   *domain.Waiver // that covered it before the numbers got worse
}

// Waived tells that a person has accepted the finding as it is.
func (f *Finding) Waived() bool { return f.Waiver != nil }

// AtMost gives a finding about a number over its limit.
func AtMost(measured, limit float64, unit string) Finding {
	return Finding{Numbers: true, Measured: measured, Limit: limit, Margin: limit - measured, Unit: unit}
}
