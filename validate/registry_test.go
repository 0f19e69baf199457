package validate_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/sequence/prove"
	"scopewright/domain/units"
	"scopewright/validate"
	"scopewright/validate/rule"
)

var update = flag.Bool("update", false, "write golden files anew")

var today = time.Date(2026, 3, 1, 15, 4, 5, 0, time.UTC)

// Waivers in files name rules by ID: one that leaves this list must become an
// alias of the rule that takes its place.
func TestRules_golden(t *testing.T) {
	var ids []string
	for _, r := range validate.Rules() {
		ids = append(ids, r.ID)
	}
	got := strings.Join(ids, "\n") + "\n"
	if *update {
		require.NoError(t, os.WriteFile("testdata/rules.txt", []byte(got), 0o644))
	}
	want, err := os.ReadFile("testdata/rules.txt")
	require.NoError(t, err)
	assert.Equal(t, string(want), got, "rules came or went: keep the old ID as an alias, then run: go test ./validate -update")
}

// The registry is generated: it must have each rule that a family's file holds,
// and each ID must be the path of its file.
func TestRules_registryHasEveryFile(t *testing.T) {
	files, err := filepath.Glob("*/*.go")
	require.NoError(t, err)
	var want []string
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		if family := filepath.Dir(file); family != "rule" && !strings.HasSuffix(file, "_test.go") && strings.Contains(string(text), "= rule.Rule{") {
			want = append(want, family+"-"+strings.ReplaceAll(strings.TrimSuffix(filepath.Base(file), ".go"), "_", "-"))
		}
	}
	var have []string
	for _, r := range validate.Rules() {
		have = append(have, r.ID)
	}
	assert.ElementsMatch(t, want, have, "run: go generate ./validate")
}

func TestRules_nothingEmpty(t *testing.T) {
	known, seen := domain.GenericLimits(), map[string]bool{}
	for _, r := range validate.Rules() {
		for _, id := range append([]string{r.ID}, r.Aliases...) {
			assert.False(t, seen[id], "%s is used twice", id)
			seen[id] = true
		}
		for what, text := range map[string]string{"title": r.Title, "why": r.Why, "source": r.Source, "example": r.Example} {
			assert.NotEmpty(t, text, "%s has no %s", r.ID, what)
			assert.NotContains(t, text, "–", "%s: %s", r.ID, what)
		}
		assert.False(t, strings.HasSuffix(r.Title, "."), r.ID)
		assert.True(t, strings.HasSuffix(r.Why, ".") && strings.HasSuffix(r.Example, "."), r.ID)
		assert.Contains(t, []rule.Severity{rule.Error, rule.Warning, rule.Info}, r.Severity, r.ID)
		for _, id := range r.Limits {
			assert.NotEmpty(t, known.Find(id).Title, "%s reads limit %s, which is not known", r.ID, id)
		}
		if r.Scope == rule.OfRoom {
			assert.True(t, r.Check != nil && r.Fires != nil && r.Quiet != nil && r.CheckProject == nil && r.CheckStorey == nil, r.ID)
		} else if r.Scope == rule.OfStorey {
			assert.True(t, r.CheckStorey != nil && r.FiresStorey != nil && r.QuietStorey != nil && r.Check == nil && r.CheckProject == nil, r.ID)
		} else {
			assert.True(t, r.CheckProject != nil && r.FiresProject != nil && r.QuietProject != nil && r.Check == nil && r.CheckStorey == nil, r.ID)
		}
		assert.Same(t, r, validate.ByID(r.ID))
	}
	assert.Nil(t, validate.ByID("nothing-like-it"))
}

func room(b *domaintest.Builder) []rule.Finding { return validate.Room(b.P, b.R, today) }

func explored(b *domaintest.Builder) []rule.Finding {
	found, _ := validate.Explored(b.P, b.R, today, prove.Bounds{})
	return found
}

func only(found []rule.Finding, id string) []rule.Finding {
	var out []rule.Finding
	for _, f := range found {
		if f.Rule == id {
			out = append(out, f)
		}
	}
	return out
}

func TestRules_examplesFireAndStayQuiet(t *testing.T) {
	for _, r := range validate.Rules() {
		t.Run(r.ID, func(t *testing.T) {
			if r.Scope == rule.OfProject {
				found := validate.Project(r.FiresProject())
				require.Len(t, found, 1)
				check(t, r, found[0], units.SI)
				assert.Empty(t, validate.Project(r.QuietProject()))
				return
			}
			if r.Scope == rule.OfStorey {
				facts := r.FiresStorey()
				found := validate.Storey(facts)
				require.Len(t, found, 1)
				check(t, r, found[0], facts.Project.Units)
				assert.NotEmpty(t, found[0].Places, "the plan marks it")
				assert.Contains(t, found[0].Message, facts.Storey.Name)
				assert.Empty(t, validate.Storey(r.QuietStorey()))
				return
			}
			b := r.Fires()
			if r.Deep { // one way into trouble often is several kinds of it
				found := only(explored(b), r.ID)
				require.NotEmpty(t, found)
				check(t, r, found[0], b.P.Units)
				assert.Empty(t, only(room(b), r.ID), "an edit does not explore")
				assert.Empty(t, only(explored(r.Quiet()), r.ID))
				return
			}
			found := room(b)
			require.NotEmpty(t, found)
			keys := map[string]bool{}
			for _, f := range found {
				assert.Equal(t, r.ID, f.Rule, "the example must break no other rule: %s", f.Message)
				assert.False(t, keys[f.Rule+" "+f.Key], "key %q twice", f.Key)
				keys[f.Rule+" "+f.Key] = true
				check(t, r, f, b.P.Units)
			}
			assert.Empty(t, only(room(r.Quiet()), r.ID))
		})
	}
}

// check asks of a finding what every finding must have.
func check(t *testing.T, r *rule.Rule, f rule.Finding, sys units.System) {
	t.Helper()
	assert.NotEmpty(t, f.Severity)
	assert.NotEmpty(t, f.Subjects)
	for _, s := range f.Subjects {
		assert.NotEmpty(t, s.Part)
		assert.NotEmpty(t, s.ID)
	}
	assert.True(t, strings.HasSuffix(f.Message, ".") || strings.HasSuffix(f.Message, ")"), f.Message)
	assert.NotRegexp(t, `%!|\(no tag\)|\bNaN\b`, f.Message)
	if !f.Numbers {
		return
	}
	assert.NotEmpty(t, f.Unit)
	assert.Negative(t, f.Margin, "a finding is beyond its limit")
	if f.Limit != 0 {
		said := rule.Number(f.Limit)
		switch f.Unit {
		case "m2":
			said = units.Area(units.SquareMetres(f.Limit), sys)
		case "m":
			said = units.Length(units.Metres(f.Limit), sys)
		case "s":
			said = units.Duration(units.Seconds(f.Limit))
		}
		assert.Contains(t, f.Message, said, "%s: the message must name the limit", r.ID)
	}
}

func TestRules_theFixSilencesTheFinding(t *testing.T) {
	fixed := 0
	for _, r := range validate.Rules() {
		if r.Fires == nil {
			continue
		}
		t.Run(r.ID, func(t *testing.T) {
			b := r.Fires()
			for _, f := range room(b) {
				if f.Fix == nil {
					continue
				}
				fixed++
				assert.NotEmpty(t, f.Fix.Title)
				after := apply(t, b, f.Fix)
				assert.Nil(t, validate.FindFinding(room(after), f.Rule, f.Key), "%s: the finding is still there", f.Fix.Title)
			}
		})
	}
	assert.Greater(t, fixed, 20)
}

// apply carries out a fix on a copy of a room as the store would: the edits on
// the resolved room, then taken back into it.
func apply(t *testing.T, b *domaintest.Builder, fix *rule.Fix) *domaintest.Builder {
	t.Helper()
	r := b.R.Room.Clone()
	resolved, err := domain.Resolve(r, b.R.Typical)
	require.NoError(t, err)
	resolved.Design = resolved.Design.Clone()
	said, err := edit.All(edit.OfRoom(b.P, resolved), fix.Edits)
	require.NoError(t, err)
	assert.NotEmpty(t, said)
	if _, back := fix.Edits[0].(edit.GiveBack); !back {
		require.NoError(t, resolved.Settle())
	}
	resolved, err = domain.Resolve(r, b.R.Typical)
	require.NoError(t, err)
	resolved.Plan = b.R.Plan
	delta.Sort(&resolved.Design)
	return &domaintest.Builder{P: b.P, R: resolved}
}

// A classroom that is sound must be left in peace.
func TestRoom_aSoundRoomHasNoFindings(t *testing.T) {
	for _, f := range room(domaintest.Classroom()) {
		t.Errorf("%s: %s", f.Rule, f.Message)
	}
	assert.Empty(t, room(domaintest.Room()), "an empty room has nothing to find")
}

// The same room gives the same findings, fixes and all, each time.
func TestRoom_givesTheSameAnswerEachTime(t *testing.T) {
	for _, r := range validate.Rules() {
		if r.Fires != nil {
			b := r.Fires()
			assert.Equal(t, room(b), room(b), r.ID)
		}
	}
}

// Judging changes nothing.
func TestRoom_leavesTheRoomAsItIs(t *testing.T) {
	for _, r := range validate.Rules() {
		if r.Fires != nil {
			b := r.Fires()
			before := b.R.Design.Clone()
			room(b)
			assert.Equal(t, before, b.R.Design, r.ID)
		}
	}
}
