package energycode

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/units"
)

// useRow proposes a kind of space for a use, within a band of areas in ft2.
type useRow struct {
	use                          domain.Use
	space                        string
	over, atLeast, under, atMost float64
	note                         string
}

func readUses() []useRow {
	var out []useRow
	for _, r := range table("uses", "use", "space", "over_ft2", "at_least_ft2", "under_ft2", "at_most_ft2", "note") {
		out = append(out, useRow{domain.Use(r[0]), r[1], number(r[2]), number(r[3]), number(r[4]), number(r[5]), r[6]})
	}
	return out
}

func (r *useRow) banded() bool { return r.over+r.atLeast+r.under+r.atMost > 0 }

// holds tells whether an area in ft2 lies in the row's band. Bounds are kept within
// units.Tolerance, so that 150 ft2 that went through square meters stay 150.
func (r *useRow) holds(ft2 float64) bool {
	return (r.over == 0 || !units.AtMost(ft2, r.over)) && (r.atLeast == 0 || units.AtMost(r.atLeast, ft2)) &&
		(r.under == 0 || !units.AtMost(r.under, ft2)) && (r.atMost == 0 || units.AtMost(ft2, r.atMost))
}

// Proposal is the kind of space that a room's use and area suggest. The designer
// confirms it: the kind chosen for power is the kind for controls.
type Proposal struct {
	Space string // empty: nothing can be proposed
	Why   string
}

// Propose gives the kind of space of the pack that fits a room's use and area.
func (p *Pack) Propose(use domain.Use, area units.SquareMetres) Proposal {
	ft2 := squareFeet(area)
	for i := range embedded().uses {
		r := &embedded().uses[i]
		if r.use != use {
			continue
		}
		if r.banded() && area <= 0 {
			return Proposal{Why: fmt.Sprintf("%s is split by area here: state the room's area.", use.Name())}
		}
		s := p.Space(r.space)
		if !r.holds(ft2) || s == nil {
			continue
		}
		why := fmt.Sprintf("Use %q", use.Name())
		if r.banded() {
			why += fmt.Sprintf(" with %s ft2", units.Trim(ft2, 1))
		}
		why += fmt.Sprintf(" is taken as %q", s.Name)
		if r.note != "" {
			why += "; " + r.note
		}
		return Proposal{Space: s.ID, Why: why + ". Confirm it."}
	}
	if use == "" {
		return Proposal{Why: "The room states no use: choose the kind of space."}
	}
	return Proposal{Why: fmt.Sprintf("No kind of space is proposed for %q: choose one that is reasonably like it.", use.Name())}
}
