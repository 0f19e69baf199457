package room

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/propose/design"
	"scopewright/domain/sequence/prove"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/dxf"
	"scopewright/store/intake/gbxml"
	"scopewright/store/intake/ifc"
	"scopewright/store/intake/match"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// planRooms gives the rooms of a model file beside the repository as an import
// into an empty project makes them, on their storeys' plans. A room whose use the
// file does not tell stays without one.
func planRooms(t testing.TB, path string) (*domain.Project, []*domain.Resolved) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	var m *building.Model
	switch building.KindOf(data[:min(len(data), building.HeadSize)]) {
	case building.GBXMLFile:
		m, err = gbxml.Read(t.Context(), bytes.NewReader(data), int64(len(data)), gbxml.Options{}, nil)
	case building.IFCFile:
		m, err = ifc.Read(t.Context(), data, ifc.Options{}, nil)
	case building.DXFFile, building.DXFBinary:
		c, failed := dxf.Survey(t.Context(), data, nil)
		require.NoError(t, failed)
		m, err = dxf.Read(t.Context(), data, c.Suggested(), nil)
	default:
		return nil, nil
	}
	require.NoError(t, err, path)
	n := 0
	p := domaintest.Project(units.SI)
	p.Buildings = nil
	fit := match.Model(m, match.Here{Project: p}, match.Choices{}, func() domain.ID { n++; return domain.ID(fmt.Sprint("n", n)) })
	p.Buildings = fit.Buildings(p)
	var rooms []*domain.Resolved
	for i := range fit.Storeys {
		for _, st := range fit.Storeys[i].Steps {
			if st.Action != match.New {
				continue
			}
			r, err := domain.Resolve(st.Room, nil)
			require.NoError(t, err)
			rooms = append(rooms, r.OnPlan(fit.Storeys[i].Plan))
		}
	}
	return p, rooms
}

func sharedPlans(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../../shared/plans/*.*")
	require.NoError(t, err)
	if len(files) == 0 {
		t.Skip("the folder of shared plans is not there")
	}
	return files
}

// tally of how the rooms of the plan files come out.
type outcome struct {
	rooms, none, sound, quiet int
	rules, reasons            map[string]int
}

func (o *outcome) String() string {
	s := fmt.Sprintf("%d rooms, %d without a proposal, %d without errors, %d of them without warnings", o.rooms, o.none, o.sound, o.quiet)
	for _, list := range []map[string]int{o.reasons, o.rules} {
		for _, k := range slices.SortedFunc(maps.Keys(list), func(a, b string) int { return cmp.Or(list[b]-list[a], strings.Compare(a, b)) }) {
			s += fmt.Sprintf("\n  %4d %s", list[k], k)
		}
	}
	return s
}

// Every room of the model files beside the repository gets a first design
// without an error, or is told what it lacks.
func TestFirstDesign_ofThePlanFiles(t *testing.T) {
	all := outcome{rules: map[string]int{}, reasons: map[string]int{}}
	for _, path := range sharedPlans(t) {
		p, rooms := planRooms(t, path)
		for _, r := range rooms {
			all.rooms++
			name := filepath.Base(path) + " " + r.Label()
			out := design.Room(p, r, design.Options{})
			for _, s := range out.Short {
				reason, _, _ := strings.Cut(s, " of 1.") // heights differ
				all.reasons[reason]++
			}
			if len(out.Changes) == 0 {
				assert.NotEmpty(t, out.Short, name)
				all.none++
				continue
			}
			edits, _ := out.Take(out.All())
			_, err := edit.All(edit.OfRoom(p, r), edits)
			require.NoError(t, err, name)
			require.NoError(t, r.Settle())
			errors, warnings := judge(p, r, all.rules, func(f rule.Finding) {
				assert.Fail(t, name, "%s: %s", f.Rule, f.Message)
			})
			if errors == 0 {
				all.sound++
				if warnings == 0 {
					all.quiet++
				}
			}
		}
	}
	t.Log(all.String())
	assert.Zero(t, all.none)
	assert.Equal(t, all.rooms, all.sound, "all without errors")
	assert.GreaterOrEqual(t, all.quiet, all.rooms*19/20, "and nearly all without warnings")
}

// BenchmarkFirstDesign proposes a design of each room of the shared file of most
// rooms.
func BenchmarkFirstDesign(b *testing.B) {
	var p *domain.Project
	var rooms []*domain.Resolved
	for _, path := range sharedPlans(b) {
		if q, list := planRooms(b, path); len(list) > len(rooms) {
			p, rooms = q, list
		}
	}
	for b.Loop() {
		for _, r := range rooms {
			design.Room(p, r, design.Options{})
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(rooms)), "µs/room")
}

// judge counts the findings of a room as it is edited and as it is explored.
func judge(p *domain.Project, r *domain.Resolved, rules map[string]int, bad func(rule.Finding)) (errors, warnings int) {
	day := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	deep, _ := validate.Explored(p, r, day, prove.Bounds{})
	for _, f := range append(validate.Room(p, r, day), deep...) {
		rules[string(f.Severity)+" "+f.Rule]++
		switch f.Severity {
		case rule.Error:
			errors++
			bad(f)
		case rule.Warning:
			warnings++
		}
	}
	return errors, warnings
}
