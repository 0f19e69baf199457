package validate_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate"
	"scopewright/validate/rule"
)

func waive(b *domaintest.Builder, w domain.Waiver) *domaintest.Builder {
	return b.Do(edit.Waive{Waiver: w})
}

// crowd gives a classroom of so many devices.
func crowd(n int) *domaintest.Builder { return domaintest.Classroom().Devices(n-6, "rt-plug") }

func TestWaiver_coversUntilTheNumbersGetWorse(t *testing.T) {
	b := crowd(34)
	found := room(b)
	require.Len(t, found, 1)
	w := validate.Waive(found[0], "w1", "Agreed with the maker of the scope", "A. Designer", "2026-03-01")
	assert.Equal(t, -2.0, *w.Margin)
	waive(b, w)

	got := room(b)[0]
	assert.True(t, got.Waived())
	assert.Equal(t, domain.ID("w1"), got.Waiver.ID)
	assert.Nil(t, got.Lapsed)

	got = room(waive(crowd(33), w))[0]
	assert.True(t, got.Waived(), "better than what was accepted")

	got = room(waive(crowd(35), w))[0]
	assert.False(t, got.Waived())
	require.NotNil(t, got.Lapsed)
	assert.Equal(t, domain.ID("w1"), got.Lapsed.ID)

	assert.Empty(t, room(waive(crowd(32), w)), "a waiver without a finding says nothing")
}

func TestWaiver_isForOneFindingAlone(t *testing.T) {
	b := domaintest.Classroom().Set("scenes/s1/levels/l4", "leave", "scenes/s1/levels/l1", "leave")
	found := room(b)
	require.Len(t, found, 2)
	require.Equal(t, "controls-no-way-on", found[0].Rule)
	assert.False(t, found[0].Numbers)
	waive(b, validate.Waive(found[0], "w1", "Lit from the stage", "A. Designer", "2026-03-01"))
	after := room(b)
	assert.True(t, after[0].Waived())
	assert.False(t, after[1].Waived())
}

// A waiver that states no number says nothing about how bad it may be.
func TestWaiver_withoutANumberDoesNotCoverNumbers(t *testing.T) {
	got := room(waive(crowd(33), domain.Waiver{ID: "w1", Rule: "capacity-devices", Reason: "So be it", Name: "A. Designer"}))[0]
	assert.False(t, got.Waived())
	assert.NotNil(t, got.Lapsed)
}

// A waiver names a rule by the ID that it had when it was written.
func TestWaiver_followsARenamedRule(t *testing.T) {
	r := validate.ByID("capacity-devices")
	r.Aliases = []string{"capacity-members"}
	defer func() { r.Aliases = nil }()
	b := crowd(33)
	w := validate.Waive(room(b)[0], "w1", "So be it", "A. Designer", "2026-03-01")
	w.Rule = "capacity-members"
	assert.True(t, room(waive(b, w))[0].Waived())
	assert.Same(t, r, validate.ByID("capacity-members"))
	assert.NotNil(t, validate.FindFinding(room(b), "capacity-members", ""))
}

// Two waivers may name one finding, an old one and a newer one that accepts more.
func TestWaiver_theOneThatCoversCounts(t *testing.T) {
	b := crowd(35)
	old, now := -2.0, -3.0
	b.R.Room.Waivers = []domain.Waiver{{ID: "w1", Rule: "capacity-devices", Margin: &old}, {ID: "w2", Rule: "capacity-devices", Margin: &now}}
	got := room(b)[0]
	assert.Equal(t, domain.ID("w2"), got.Waiver.ID)
	assert.Nil(t, got.Lapsed)
}

func TestRoom_ordersBySeverityRuleAndKey(t *testing.T) {
	b := domaintest.Classroom().Set("facts/windows", "no", "devices/st/buttons/1", "", "scenes/s2/levels/l4", "", "scenes/s1/levels/l3", "", "loads/r1/rating_a", "30")
	var got []string
	for _, f := range room(b) {
		assert.Equal(t, domain.ID("r1"), f.Room)
		got = append(got, string(f.Severity)+" "+f.Rule+" "+f.Key)
	}
	assert.Equal(t, []string{"error power-receptacle-rating r1", "error scenes-hole s1", "error scenes-hole s2", "warning daylighting-no-window ds", "info paperwork-button-label st"}, got)
}

func TestCount_leavesWaivedOnesOut(t *testing.T) {
	b := domaintest.Classroom().Set("facts/windows", "no", "devices/st/buttons/1", "", "scenes/s2/levels/l4", "", "scenes/s1/levels/l3", "")
	waive(b, validate.Waive(room(b)[0], "w1", "As built", "A. Designer", "2026-03-01"))
	errors, warnings, infos, waived, ids := validate.Count(room(b))
	assert.Equal(t, []int{1, 1, 1, 1}, []int{errors, warnings, infos, waived})
	assert.Equal(t, []string{"daylighting-no-window", "paperwork-button-label", "scenes-hole"}, ids)
	_, _, _, _, none := validate.Count(nil)
	assert.Empty(t, none)
}

func TestFindFinding(t *testing.T) {
	found := room(domaintest.Classroom().Set("scenes/s2/levels/l4", ""))
	require.NotNil(t, validate.FindFinding(found, "scenes-hole", "s2"))
	assert.Nil(t, validate.FindFinding(found, "scenes-hole", "s1"))
	assert.Nil(t, validate.FindFinding(found, "no-such-rule", "s2"))
}

// Facts count paths for all loads at once; domain counts them for one. They
// must agree on every example room.
func TestFactsPaths_agreeWithTheDomain(t *testing.T) {
	rooms := []*domaintest.Builder{domaintest.Classroom(), domaintest.TwentyDevices()}
	for _, r := range validate.Rules() {
		if r.Fires != nil {
			rooms = append(rooms, r.Fires(), r.Quiet())
		}
	}
	for _, b := range rooms {
		f := rule.NewFacts(b.P, b.R, today)
		for i := range b.R.Design.Loads {
			on, off := b.R.Design.Paths(b.P, &b.R.Design.Loads[i])
			assert.Equal(t, rule.Paths{On: on, Off: off}, f.Paths(i))
		}
	}
}

func TestReference_hasEveryRuleWithItsLimitsAndSources(t *testing.T) {
	md, err := validate.Reference("md")
	require.NoError(t, err)
	text := string(md)
	for _, r := range validate.Rules() {
		assert.Contains(t, text, "### "+r.ID+"\n")
		assert.Contains(t, text, r.Example)
		assert.Contains(t, text, r.Source)
	}
	assert.Contains(t, text, "- Limit: Devices in one room, all kinds together, 32. Source: common practice, no published source.")
	assert.Contains(t, text, "local codes")
	assert.Equal(t, strings.Count(text, "\n### "), len(validate.Rules()))

	raw, err := validate.Reference("json")
	require.NoError(t, err)
	var list []map[string]any
	require.NoError(t, json.Unmarshal(raw, &list))
	require.Len(t, list, len(validate.Rules()))
	for _, entry := range list {
		for _, field := range []string{"id", "title", "severity", "scope", "why", "source", "example"} {
			assert.NotEmpty(t, entry[field], field)
		}
	}
	_, err = validate.Reference("pdf")
	assert.ErrorContains(t, err, "md or json")
}
