package energycode

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
)

// WorksheetFrom gives a pack, such as one read from a file, as a worksheet with that
// ID: of the built-in code of the same name and edition with what differs, else of the
// blank one. A pack with kinds of space that no room can have is refused whole.
func WorksheetFrom(id domain.ID, p *Pack) (domain.CodeWorksheet, error) {
	w := domain.CodeWorksheet{ID: id, Title: p.Title, Code: p.Code, Edition: p.Edition, Amendments: p.Amendments, ZoneRules: domain.ZoneCode(p.ZoneRules), Note: p.Note, Confirmed: p.Confirmed}
	var faults []string
	for i, s := range p.Spaces {
		if !slices.ContainsFunc(domain.SpaceTypes(), func(k domain.NamedSpace) bool { return string(k.Type) == s.ID }) && len(faults) < mostFaults {
			faults = append(faults, fmt.Sprintf("spaces, row %d (%s): no room can be of this kind of space here: use one of the kinds that an exported worksheet lists", i+1, short(s.ID)))
		}
	}
	if faults != nil {
		return w, &Refused{faults}
	}
	for _, built := range Packs() {
		if built.Code == p.Code && built.Edition == p.Edition {
			w.Base = domain.CodePack(built.ID)
		}
	}
	base := BaseOf(&w)
	for _, t := range []struct {
		own  *string
		base string
	}{{&w.Code, base.Code}, {&w.Edition, base.Edition}, {&w.Note, base.Note}} {
		if *t.own == t.base {
			*t.own = ""
		}
	}
	if string(w.ZoneRules) == base.ZoneRules {
		w.ZoneRules = ""
	}
	w.Changes = rowsFrom(p, base)
	if n := len(w.Changes); n > domain.MaxCodeChanges {
		return w, refuse("the worksheet differs from %s in %d rows; %d fit", base.Title, n, domain.MaxCodeChanges)
	}
	return w, fits(w)
}

// fits refuses a worksheet that a project's own file could not hold.
func fits(w domain.CodeWorksheet) error {
	w.ID = "w"
	probe := domain.Scope{Project: domain.Project{ID: "p", Name: "p", Units: "US", Worksheets: []domain.CodeWorksheet{w}}}
	var faults []string
	for _, p := range probe.Check() {
		if len(faults) < mostFaults {
			faults = append(faults, strings.TrimPrefix(p.String(), "/project/worksheets/0/"))
		}
	}
	if faults != nil {
		return &Refused{faults}
	}
	return nil
}

// rowsFrom lists what a pack has otherwise than another.
func rowsFrom(p, base *Pack) []domain.CodeChange {
	var out []domain.CodeChange
	compare := func(c domain.CodeChange) {
		if row, known := base.RowOf(c); !known || row != c {
			out = append(out, c)
		}
	}
	for i := range p.Parameters {
		compare(p.Parameters[i].Change())
	}
	for i := range p.Requirements {
		compare(p.Requirements[i].Change())
	}
	for i := range p.Densities {
		compare(p.Densities[i].Change())
	}
	gone := func(c domain.CodeChange) {
		if _, known := p.RowOf(c); !known {
			c = domain.CodeChange{Kind: c.Kind, Control: c.Control, Name: c.Name, Space: c.Space, Unit: c.Unit, Mark: domain.CodeMark(Memory)}
			c.ID = c.Key()
			out = append(out, c)
		}
	}
	for i := range base.Parameters {
		gone(base.Parameters[i].Change())
	}
	for i := range base.Requirements {
		gone(base.Requirements[i].Change())
	}
	for i := range base.Densities {
		gone(base.Densities[i].Change())
	}
	return out
}
