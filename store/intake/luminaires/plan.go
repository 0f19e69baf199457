package luminaires

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Action is what a line of the schedule will do.
type Action string

// The actions.
const (
	New    Action = "new"
	Update Action = "update"
	Same   Action = "same"
	Skip   Action = "skip"
)

// Step says what one line of the file will do.
type Step struct {
	Line        int
	Action      Action
	LuminaireID domain.ID
	Tag         string
	Description string
	Changes     []string          // for people: "watts 32 W -> 28 W"
	Problem     string            // why it is skipped, or what was left open
	Luminaire   *domain.Luminaire // as it will be; nil where skipped
}

// Counts sums the steps up.
type Counts struct{ New, Update, Same, Skip, Missing int }

// Plan is what a schedule would do to a project's, line by line.
type Plan struct {
	Steps   []Step
	Missing []domain.Luminaire // in the project and not in the file; they stay
	Counts  Counts
	Notes   []string
}

// Plan compares the schedule with the project's by tag. A type that the project
// has keeps its ID, so that loads keep their luminaire; what a line leaves
// blank stays as it is.
func (l *List) Plan(project *domain.Project, newID func() domain.ID) *Plan {
	plan := &Plan{}
	remarks := map[int][]string{}
	for _, problem := range l.Problems {
		if !problem.Fatal {
			remarks[problem.Line] = append(remarks[problem.Line], fmt.Sprintf("%s: %s", problem.Column, problem.Message))
		}
	}
	known, lastSeq := map[string]*domain.Luminaire{}, 0
	for i := range project.Luminaires {
		lum := &project.Luminaires[i]
		if known[tagKey(lum.Tag)] == nil {
			known[tagKey(lum.Tag)] = lum
		}
		lastSeq = max(lastSeq, lum.Seq)
	}
	stated := map[string]bool{}
	for i := range l.Types {
		line := &l.Types[i]
		stated[tagKey(line.Tag)] = true
		old := known[tagKey(line.Tag)]
		s := step(line, old, project)
		if old == nil {
			lastSeq++
			s.Luminaire.ID, s.Luminaire.Seq = newID(), lastSeq
		}
		s.LuminaireID = s.Luminaire.ID
		s.Problem = strings.Join(append(remarks[line.Line], lacks(s.Luminaire, old == nil && !line.Given.Has(GivenDriver))...), "; ")
		plan.Steps = append(plan.Steps, s)
	}
	for _, r := range l.Refused {
		stated[tagKey(r.Tag)] = true
		plan.Steps = append(plan.Steps, Step{Line: r.Line, Action: Skip, Tag: r.Tag, Problem: r.Why})
	}
	sort.SliceStable(plan.Steps, func(i, j int) bool { return plan.Steps[i].Line < plan.Steps[j].Line })
	for _, lum := range project.Luminaires {
		if !stated[tagKey(lum.Tag)] {
			plan.Missing = append(plan.Missing, lum)
		}
	}
	plan.sum()
	return plan
}

func (p *Plan) sum() {
	p.Counts.Missing = len(p.Missing)
	for _, s := range p.Steps {
		switch s.Action {
		case New:
			p.Counts.New++
		case Update:
			p.Counts.Update++
		case Same:
			p.Counts.Same++
		case Skip:
			p.Counts.Skip++
		}
	}
	if len(p.Missing) > 0 {
		p.Notes = append(p.Notes, fmt.Sprintf("%d luminaires of the project are not in the file; they stay as they are.", len(p.Missing)))
	}
}

// step applies a line to a copy of the luminaire, or to a new one.
func step(line *Line, old *domain.Luminaire, project *domain.Project) Step {
	s := Step{Line: line.Line, Tag: line.Tag, Action: New}
	// Until somebody says otherwise a driver is only switched: a dimming output
	// on it is then a finding, and not a surprise on site.
	lum, before := &domain.Luminaire{Tag: line.Tag, Driver: domain.DriverSwitched}, &domain.Luminaire{}
	if old != nil {
		s.Action = Same
		copied := *old
		lum, before = &copied, old
	}
	apply(line, lum)
	for _, f := range domain.LuminaireFields {
		env := domain.Env{Project: project}
		a, b := f.Show(env, before), f.Show(env, lum)
		if a == b || f.Name == "tag" {
			continue
		}
		title := strings.ToLower(f.Title)
		if old == nil {
			s.Changes = append(s.Changes, fmt.Sprintf("%s %s", title, b))
		} else {
			s.Changes = append(s.Changes, fmt.Sprintf("%s %s -> %s", title, orBlank(a), orBlank(b)))
		}
	}
	if old != nil && len(s.Changes) > 0 {
		s.Action = Update
	} else if old != nil {
		*lum = *old // what differs by less than is shown is no change
	}
	s.Changes = append(s.Changes, line.Remarks...)
	s.Luminaire, s.Description = lum, lum.Description
	return s
}

func orBlank(text string) string {
	if text == "" {
		return "(blank)"
	}
	return text
}

// apply sets what the line states. Numbers are kept to a millionth, so that
// 32 VA at 0.95 is no 30.399999999999999 W.
func apply(line *Line, lum *domain.Luminaire) {
	has := line.Given.Has
	if has(GivenDescription) {
		lum.Description = line.Description
	}
	if has(GivenWatts) {
		lum.Watts = units.Watts(tidy(float64(line.Watts)))
	}
	if has(GivenVolts) {
		lum.Volts = line.Volts
	}
	if has(GivenPowerFactor) {
		lum.PowerFactor = tidy(line.PowerFactor)
	}
	if has(GivenDrivers) {
		lum.Drivers = line.Drivers
	}
	if has(GivenDriver) {
		lum.Driver = line.Driver
	}
	if has(GivenControlMA) {
		lum.ControlMA = units.Milliamps(tidy(float64(line.ControlMA)))
	}
	if has(GivenInrushPeak) {
		lum.InrushPeak = line.InrushPeak
	}
	if has(GivenInrushUs) {
		lum.InrushUs = tidy(line.InrushUs)
	}
	if has(GivenDimsTo) {
		lum.DimsTo = line.DimsTo
	}
	if has(GivenDimToOff) {
		lum.DimToOff = line.DimToOff
	}
	if has(GivenSource) {
		lum.Source = line.Source
	}
}

func tidy(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// lacks names what a reader must still say of the luminaire.
func lacks(lum *domain.Luminaire, driver bool) (out []string) {
	if lum.Watts == 0 {
		out = append(out, "watts are not stated: loads of this type cannot be checked")
	}
	if lum.Volts == 0 {
		out = append(out, "volts are not stated: say them here or on each load")
	}
	if driver {
		out = append(out, "the driver is not stated: it is taken as switched only until it is")
	}
	return out
}
