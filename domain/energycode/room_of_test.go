package energycode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/energycode"
	"scopewright/domain/geom"
)

func TestRoomOf_readsWhatChecksNeed(t *testing.T) {
	b := domaintest.Classroom()
	b.R.Outlets, b.R.Use = 11, "classroom"
	k := pack(t, code21)
	claims := []energycode.Claim{{Control: energycode.LocalControl, Reason: "lights the way in"}}
	f := energycode.RoomOf(k, b.P, b.R, claims)
	assert.Equal(t, 11, f.Facts.Receptacles.Total)
	assert.Equal(t, "classroom_lecture_training", f.Space)
	assert.False(t, f.Confirmed)
	assert.Empty(t, f.Doubt)
	b.R.Space = "laboratory"
	f = energycode.RoomOf(k, b.P, b.R, claims)
	assert.True(t, f.Confirmed)
	assert.Equal(t, "laboratory", f.Space)
	assert.Equal(t, "classroom_lecture_training", f.Suggested.Space)
	report := energycode.JudgeAll(k, b.P, []energycode.Found{f})
	claimed := 0
	for _, a := range report.Rooms[0].Answers {
		if a.Claim != nil {
			claimed++
			assert.Equal(t, "lights the way in", a.Claim.Reason)
		}
	}
	assert.Positive(t, claimed)
}

// An area that the room does not state is that of its outline: 12 x 9 m are 1,162.5 ft2
// (1 ft = 0.3048 m exactly), over the 300 ft2 at which offices are told apart.
func TestKindOf_byTheOutline(t *testing.T) {
	b := domaintest.Classroom()
	b.R.Use, b.R.Area, b.R.Outline = "office-private", 0, geom.Rectangle(0, 0, 12, 9)
	kind, confirmed := energycode.KindsOf(b.P).KindOf(b.R)
	assert.False(t, confirmed)
	assert.Equal(t, "office_enclosed_gt_300ft2", kind.Space)
	assert.Equal(t, "enclosed office, over 300 sq ft (proposed)", energycode.KindsOf(b.P).KindWords(kind, confirmed))
	assert.Equal(t, "not chosen", energycode.KindsOf(b.P).KindWords(energycode.Proposal{}, false))
	require.NotNil(t, energycode.KindsOf(&domain.Project{CodePack: "iecc-1066"}), "all codes share one list")
}
