package scenes

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding {
	return r.Check(rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)))
}

func TestHole_countsLoadsPerScene(t *testing.T) {
	b := domaintest.Classroom().Set("scenes/s2/levels/l3", "", "scenes/s2/levels/l4", "", "scenes/s1/levels/l1", "")
	got := found(&Hole, b)
	require.Len(t, got, 2)
	assert.Equal(t, []float64{1, 2}, []float64{got[0].Measured, got[1].Measured})
	assert.Contains(t, got[1].Message, "Scene 2 Present says nothing of L3 and L4")
	b.Do(got[0].Fix.Edits...).Do(got[1].Fix.Edits...)
	assert.Empty(t, found(&Hole, b))
	assert.True(t, b.R.Design.Scene("s2").LevelOf("l3").Leave)
}

func TestHole_aNewLoadIsAHoleInEveryScene(t *testing.T) {
	assert.Len(t, found(&Hole, domaintest.Classroom().Load("l5", "a", 1)), 2)
	assert.Empty(t, found(&Hole, domaintest.Classroom().Receptacle("r2")), "receptacles need no level")
}

func TestNumberTwice(t *testing.T) {
	b := domaintest.Classroom().Do(edit.AddScene{ID: "s3"}, edit.AddScene{ID: "s4"})
	number := func(of domain.ID, n int) {
		b.Spoil(func(d *domain.Design) { d.Scene(of).Number = n })
	}
	assert.Empty(t, found(&NumberTwice, b))
	number("s3", 1)
	number("s4", 1)
	got := found(&NumberTwice, b)
	require.Len(t, got, 1, "one finding for three of a number")
	assert.Equal(t, []float64{3, 1, -2}, []float64{got[0].Measured, got[0].Limit, got[0].Margin})
	number("s4", 2)
	got = found(&NumberTwice, b)
	require.Len(t, got, 2)
	assert.Equal(t, []string{"1", "2"}, []string{got[0].Key, got[1].Key})
}

func TestIdle_anIntentIsEnough(t *testing.T) {
	b := domaintest.Classroom().Do(edit.AddScene{ID: "s3", Name: "Night"}, edit.AddIntent{ID: "clock", Kind: domain.BySchedule})
	assert.Len(t, found(&Idle, b), 1)
	assert.Empty(t, found(&Idle, b.Set("intents/clock/scene", "3")))
}
