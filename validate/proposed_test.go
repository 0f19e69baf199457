package validate_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/propose/design"
	"scopewright/domain/sequence/prove"
	"scopewright/domain/units"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// proposed gives a room with all of a first design taken, and the proposal.
func proposed(t testing.TB, p *domain.Project, r *domain.Resolved) design.Proposal {
	t.Helper()
	return proposedBy(t, p, r)
}

func proposedBy(t require.TestingT, p *domain.Project, r *domain.Resolved) design.Proposal {
	before := *r.Room
	out := design.Room(p, r, design.Options{})
	require.Equal(t, before, *r.Room, "asking changes nothing")
	edits, added := out.Take(out.All())
	require.Empty(t, added)
	for _, e := range edits {
		_, err := e.Apply(edit.OfRoom(p, r))
		require.NoError(t, err, "%+v", e)
	}
	require.NoError(t, r.Settle())
	return out
}

// found judges a room as an edit does, and explored.
func found(p *domain.Project, r *domain.Resolved) []rule.Finding {
	day := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	deep, _ := validate.Explored(p, r, day, prove.Bounds{})
	return append(validate.Room(p, r, day), deep...)
}

// emptyRoom gives a room of a use and an area, drawn as a rectangle of 4 to 3
// with a door in its south wall and windows in its north wall, or not drawn.
func emptyRoom(sys units.System, use domain.Use, area float64, windows, drawn bool) (*domain.Project, *domain.Resolved) {
	p := domaintest.Project(sys)
	r := &domain.Resolved{Room: &domain.Room{ID: "r1", StoreyID: "s1", Number: "101", Use: use, Area: units.SquareMetres(area), Ceiling: 2.7, Windows: windows}}
	if use == "warehouse" {
		r.Ceiling = 8
	}
	if !drawn {
		return p, r
	}
	h := 3.0
	for h*h*4/3 < area {
		h += 0.01
	}
	w := area / h
	r.Outline = geom.Rectangle(0, 0, w, h)
	south := domain.Wall{ID: "w1", Seq: 1, A: geom.Pt(0, 0), B: geom.Pt(w, 0), Kind: domain.FullWall, Openings: []domain.Opening{{ID: "d1", Seq: 1, Kind: domain.Door, At: 0.5, Width: 0.9, Head: 2.1}}}
	east := domain.Wall{ID: "w2", Seq: 2, A: geom.Pt(w, 0), B: geom.Pt(w, h), Kind: domain.FullWall}
	north := domain.Wall{ID: "w3", Seq: 3, A: geom.Pt(w, h), B: geom.Pt(0, h), Kind: domain.FullWall}
	west := domain.Wall{ID: "w4", Seq: 4, A: geom.Pt(0, h), B: geom.Pt(0, 0), Kind: domain.FullWall}
	if windows {
		north.Openings = []domain.Opening{{ID: "g1", Seq: 1, Kind: domain.Window, At: units.Metres(w / 4), Width: units.Metres(w / 2), Sill: 0.9, Head: 2.4}}
	}
	return p, r.OnPlan(&domain.Plan{ID: "s1", Walls: []domain.Wall{south, east, north, west}})
}

// expected are the warnings that first designs may have, and why: a sensor that
// sees a small room whole also sees out of its door, wherever it hangs, and no
// design without a person can say whether that matters.
var expected = map[string]bool{"sight-leak": true}

// A first design of every use, size, side and system of units has no error, and
// no warning but those expected; a room beyond what one may have gets none, and
// is told into how many areas to divide it.
func TestFirstDesign_hasNoErrors(t *testing.T) {
	warned := map[string]int{}
	rooms, clean, divided := 0, 0, 0
	for _, use := range domain.Uses() {
		for n := range 6 * 8 {
			area := []float64{3, 12, 50, 150, 300, 2500}[n/8]
			windows, drawn, sys := n&1 != 0, n&2 != 0, []units.System{units.US, units.SI}[n/4%2]
			name := fmt.Sprintf("%s %g m2 windows %v drawn %v %s", use.Use, area, windows, drawn, sys)
			p, r := emptyRoom(sys, use.Use, area, windows, drawn)
			out := proposed(t, p, r)
			rooms++
			if len(out.Changes) == 0 {
				require.Len(t, out.Short, 1, name)
				assert.Contains(t, out.Short[0], "Divide the room first", name)
				assert.Greater(t, area, 150.0, name)
				divided++
				continue
			}
			assert.Empty(t, out.Short, name)
			warnings := 0
			for _, f := range found(p, r) {
				if assert.NotEqual(t, rule.Error, f.Severity, "%s: %s: %s", name, f.Rule, f.Message) && f.Severity == rule.Warning {
					said := strings.HasPrefix(f.Rule, "daylighting-") && strings.Contains(strings.Join(out.Assumed, " "), "No place for a daylight sensor was found")
					assert.True(t, expected[f.Rule] || said, "%s: %s: %s", name, f.Rule, f.Message)
					warnings++
				}
				warned[string(f.Severity)+" "+f.Rule]++
			}
			if warnings == 0 {
				clean++
			}
		}
	}
	assert.Greater(t, clean, (rooms-divided)*9/10)
	t.Logf("%d rooms, %d to be divided, %d without warnings; %v", rooms, divided, clean, warned)
}

// incomplete are rooms as they may be in the middle of their design.
func incomplete() map[string]*domaintest.Builder {
	out := map[string]*domaintest.Builder{
		"a new load":           domaintest.Classroom().Load("l5", "a", 2),
		"a new switched load":  domaintest.Classroom().Load("l5", "s", 2),
		"a new load on 120 V":  domaintest.Classroom().Load("l5", "b", 2),
		"a new digital load":   domaintest.Classroom().Load("l5", "c", 2),
		"a new receptacle":     domaintest.Classroom().Receptacle("r2"),
		"a bare station":       domaintest.Classroom().Device("st9", "st-4-battery"),
		"a bare sensor":        domaintest.Classroom().Device("ps9", "ps-ceiling"),
		"loads alone":          domaintest.Room().Load("l1", "a", 6).Load("l2", "c", 6).Load("l3", "s", 2).Receptacle("r1"),
		"egress lighting":      domaintest.Classroom().Load("l5", "a", 2).Set("loads/l5/egress", "yes", "loads/l5/bypass", "Bypass relay, listed").Device("lc9", "lc-1").Carry("l5", "lc9", 1).Set("intents/i2/loads", "L1, L2, L3, L4"),
		"devices but no loads": domaintest.Room().Device("st", "st-4-mains").Device("ps", "ps-ceiling").Device("gw", "gw-room"),
		"under a rooflight":    domaintest.Room().Load("l1", "a", 6).Set("loads/l1/zone", string(domain.ZoneRoof), "facts/windows", "no"),
		"seven sensors":        domaintest.Room().Load("l1", "a", 4).Devices(7, "ps-ceiling"),
	}
	whole := domaintest.Classroom()
	for i := range whole.R.Design.Devices {
		id := whole.R.Design.Devices[i].ID
		out["without "+string(id)] = domaintest.Classroom().Do(edit.Remove{Part: "devices", ID: id})
	}
	for _, in := range whole.R.Design.Intents {
		out["without "+string(in.ID)] = domaintest.Classroom().Do(edit.Remove{Part: "intents", ID: in.ID})
	}
	return out
}

// What is there is kept, what is missing is brought, and the room then has no
// error.
func TestFirstDesign_completesARoom(t *testing.T) {
	for name, b := range incomplete() {
		for _, use := range domain.Uses() {
			r := *b.R
			r.Room, r.Design = b.R.Room.Clone(), b.R.Design.Clone()
			r.Room.Use = use.Use
			before := r.Design.Clone()
			out := proposed(t, b.P, &r)
			for i := range before.Devices {
				assert.NotNil(t, r.Design.Device(before.Devices[i].ID), name)
			}
			for i := range before.Links {
				assert.Contains(t, r.Design.Links, before.Links[i], name)
			}
			for key, message := range errorsOf(found(b.P, &r)) {
				assert.Fail(t, name, "%s: %s: %s (%v)", use.Use, key, message, out.Short)
			}
		}
	}
}
