package domain_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
)

func worksheet() domain.CodeWorksheet {
	w := domain.CodeWorksheet{ID: "ws", Seq: 1, Title: "Harbor amendments", Base: "iecc-2021"}
	w.Put(domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: 15, Unit: "min", Mark: "read"})
	w.Put(domain.CodeChange{Kind: domain.DutyRow, Control: "manual_on", Space: "corridor", Duty: "R", Mark: "memory"})
	w.Put(domain.CodeChange{Kind: domain.DensityRow, Space: "corridor", Value: 0.41, Mark: "memory"})
	return w
}

func TestCodePack_mayNameAWorksheet(t *testing.T) {
	p := domaintest.Project("US")
	p.Worksheets = []domain.CodeWorksheet{worksheet()}
	env := domain.Env{Project: p}
	f, _ := domain.FieldNamed(domain.ProjectFields, "code_pack")
	require.NoError(t, f.Set(env, p, "worksheet Harbor amendments"))
	assert.Equal(t, domain.CodePack("ws"), p.CodePack)
	assert.Equal(t, "worksheet Harbor amendments", f.Show(env, p))
	assert.Equal(t, "worksheet Harbor amendments", p.CodeName())
	require.Empty(t, (&domain.Scope{Project: *p}).Check())
	p.Worksheets = nil
	problems := (&domain.Scope{Project: *p}).Check()
	require.Len(t, problems, 1)
	assert.Equal(t, "/project/code_pack", problems[0].Path)
	p.CodePack = "iecc-2018"
	assert.Equal(t, "IECC 2018", p.CodeName())
	p.CodePack = ""
	assert.Equal(t, "none chosen", p.CodeName())
}

func TestCodeChange_isOneARow(t *testing.T) {
	w := worksheet()
	require.Len(t, w.Changes, 3)
	w.Put(domain.CodeChange{Kind: domain.DutyRow, Control: "manual_on", Space: "corridor", Duty: "none"})
	require.Len(t, w.Changes, 3)
	assert.Equal(t, domain.CodeDuty("none"), w.Change("duty:manual-on:corridor").Duty)
	w.Put(domain.CodeChange{Kind: domain.DutyRow, Control: "manual_on", Space: domain.AnyCodeSpace, Duty: "R"})
	assert.NotNil(t, w.Change("duty:manual-on:any"))
	w.Revert("duty:manual-on:corridor")
	assert.Nil(t, w.Change("duty:manual-on:corridor"))
}

// Keys of different rows differ, and each is an ID.
func TestCodeChange_keysAreIDs(t *testing.T) {
	word := rapid.StringMatching(`[a-z][a-z0-9_]{0,20}`)
	row := rapid.Custom(func(t *rapid.T) domain.CodeChange {
		c := domain.CodeChange{Kind: rapid.SampledFrom(domain.CodeRows()).Draw(t, "kind"), Control: rapid.SampledFrom(domain.CodeControls()).Draw(t, "control"), Name: word.Draw(t, "name")}
		c.Space = string(rapid.SampledFrom(domain.SpaceTypes()).Draw(t, "space").Type)
		return c
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b := row.Draw(t, "a"), row.Draw(t, "b")
		if !a.Key().Valid() {
			t.Fatalf("%q", a.Key())
		}
		if (a.Of() == b.Of()) != (a.Key() == b.Key()) {
			t.Fatalf("%q and %q for %q and %q", a.Key(), b.Key(), a.Of(), b.Of())
		}
	})
}

func TestCheck_boundsWorksheets(t *testing.T) {
	paths := func(change func(p *domain.Project, w *domain.CodeWorksheet)) string {
		p := domaintest.Project("US")
		p.Worksheets = []domain.CodeWorksheet{worksheet()}
		change(p, &p.Worksheets[0])
		var out []string
		for _, x := range (&domain.Scope{Project: *p}).Check() {
			out = append(out, x.String())
		}
		return strings.Join(out, "\n")
	}
	fill := func(n int) func(*domain.Project, *domain.CodeWorksheet) {
		return func(_ *domain.Project, w *domain.CodeWorksheet) {
			w.Changes = nil
			for i := range n {
				c := domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: fmt.Sprint("n", i)}
				c.ID = c.Key()
				w.Changes = append(w.Changes, c)
			}
		}
	}
	assert.Empty(t, paths(fill(domain.MaxCodeChanges)))
	assert.Contains(t, paths(fill(domain.MaxCodeChanges+1)), "/project/worksheets/0/changes: 3001 changes are more than")
	several := func(n int) func(*domain.Project, *domain.CodeWorksheet) {
		return func(p *domain.Project, _ *domain.CodeWorksheet) {
			p.Worksheets = nil
			for i := range n {
				w := worksheet()
				w.ID += domain.ID(rune('a' + i))
				p.Worksheets = append(p.Worksheets, w)
			}
		}
	}
	assert.Empty(t, paths(several(domain.MaxWorksheets)))
	assert.Contains(t, paths(several(domain.MaxWorksheets+1)), "21 worksheets are more than the 20")
	assert.Contains(t, paths(func(_ *domain.Project, w *domain.CodeWorksheet) { w.Title = "" }), "/title: a title is missing")
	assert.Contains(t, paths(func(_ *domain.Project, w *domain.CodeWorksheet) { w.Changes[0].Value = 1e7 + 1 }), "/value: 10000001 is out of range")
	assert.Contains(t, paths(func(_ *domain.Project, w *domain.CodeWorksheet) { w.Changes[1].Share = 101 }), "/reduction_pct")
	assert.Contains(t, paths(func(_ *domain.Project, w *domain.CodeWorksheet) { w.Changes[2].Space = "*x" }), "/space")
}

func TestCompare_namesWhatWorksheetsChange(t *testing.T) {
	older, newer := &domain.Scope{Project: *domaintest.Project("US")}, &domain.Scope{Project: *domaintest.Project("US")}
	older.Project.Worksheets, newer.Project.Worksheets = []domain.CodeWorksheet{worksheet()}, []domain.CodeWorksheet{worksheet()}
	w := &newer.Project.Worksheets[0]
	w.Changes[0].Value, w.Confirmed = 10, "A. Reader, 2026-03-31"
	w.Changes[1].Clause = "C405"
	w.Revert("density:corridor")
	w.Put(domain.CodeChange{Kind: domain.DutyRow, Control: "bilevel", Space: "corridor"})
	d, err := domain.Compare(older, newer)
	require.NoError(t, err)
	assert.Equal(t, []string{
		"energy code worksheet Harbor amendments: confirmed by none -> A. Reader, 2026-03-31",
		"energy code worksheet Harbor amendments: full off, delay: at most 15 min -> at most 10 min",
		"energy code worksheet Harbor amendments: manual on in corridor: clause, mark, source or note",
		"energy code worksheet Harbor amendments: bilevel in corridor: taken out instead of the base's",
		"energy code worksheet Harbor amendments: power density in corridor: the base's again",
	}, d.Project)
}
