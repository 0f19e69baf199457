package energycode_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/domain/units"
)

// A light that is off too late for one of a group beside the code's figure says why the
// check is met all the same; where it is not met it does not.
func TestNarrative_saysWhyALateOffMeets(t *testing.T) {
	list := rooms()[:1]
	list[0].Space = "shop_classroom"
	list[0].Facts = *classroom()
	l := &list[0].Facts.Loads[0]
	text := func(after units.Seconds) string {
		l.Vacant[0].After = after
		r := energycode.JudgeBuilding(pack(t, old), list, units.US)
		return fmt.Sprintf("%+v", r.Narrative())
	}
	assert.NotContains(t, text(1200), "longer than", "20 min are the limit")
	assert.Contains(t, text(1201), "longer than the code's figure: see the check")
	l.Off = []energycode.Shutoff{{When: "22:00", Override: 7200, By: "schedule intent 4"}}
	assert.Contains(t, text(1201), `longer than the code's figure, and the check is met by "off by schedule" instead`)
}

// Where the duty is unknown and the pack states nothing of the control, a room with a
// button cannot be said to meet anything. A blank worksheet is such a pack.
func TestUnknownDuty_withoutFiguresCannotBeTold(t *testing.T) {
	p, bad := energycode.Compile(&domain.CodeWorksheet{ID: "w", Title: "Blank"})
	require.Empty(t, bad)
	for _, a := range energycode.Judge(p, class, classroom()) {
		assert.NotEqual(t, meets, a.Verdict, a.Sentence())
		if a.Control == energycode.LocalControl {
			assert.Equal(t, open, a.Verdict)
			assert.True(t, a.Open, "the pack leaves it open, not the room")
			assert.Contains(t, a.Sentence(), "what the code asks of local control by hand: the pack gives no figure of it; whether the code asks for this here")
			row := a.Row()
			assert.Equal(t, "left open", row.Answer())
		}
	}
}

// What is missing twice, of two ways of a group, is said once.
func TestMissingWords_sayEachThingOnce(t *testing.T) {
	a := energycode.Answer{Missing: []string{"the area", "the watts", "the area"}}
	assert.Equal(t, "the area; the watts", a.MissingWords())
	assert.Equal(t, 1, strings.Count(a.Sentence(), "the area"))
	row := a.Row()
	assert.Equal(t, "To be known first: the area; the watts.", row.Why)
}

// Keys of tables stay in tables: notes are clauses in words.
func TestNotes_areWords(t *testing.T) {
	key := regexp.MustCompile(`\[[A-Z]|[a-z]_[a-z]|\(DC-|^(of|or|and|W/ft2|ft2) |^W `)
	for _, p := range slices.Concat(energycode.Packs(), energycode.Extracts()) {
		for _, q := range p.Parameters {
			assert.NotRegexp(t, key, q.Note, "%s %s %s", p.ID, q.Control, q.Name)
			assert.NotContains(t, energycode.FigureWords(q.Name), "_")
		}
		for _, r := range p.Requirements {
			assert.NotRegexp(t, key, r.Note, "%s %s %s", p.ID, r.Space, r.Control)
		}
	}
}

// A check that a limit of the code keeps from being asked is not "required" beside it.
func TestDuty_whereItApplies(t *testing.T) {
	a := energycode.Answer{Duty: energycode.Required, Verdict: energycode.NotAsked}
	row := a.Row()
	assert.Equal(t, "required where it applies", row.Duty)
	assert.Equal(t, "not asked", row.Answer())
	a.Verdict = meets
	assert.Equal(t, "required", a.Row().Duty)
}
