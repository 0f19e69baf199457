package store

import (
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

func TestRefreshFollowsANewJudgement(t *testing.T) {
	var calls atomic.Int64
	judgedBy := func(name string, errors int) func(*Options) {
		return func(o *Options) {
			o.Judgement = func() string { return name }
			o.Summarize = func(p *domain.Project, r *domain.Resolved) Summary {
				calls.Add(1)
				sum := CountOnly(p, r)
				sum.Errors, sum.Rules = errors, []string{name}
				return sum
			}
		}
	}
	s := open(t, invented(450, 2), judgedBy("rules-1", 1))
	n, err := s.Refresh(ctx)
	require.NoError(t, err)
	assert.Equal(t, 450, n, "the first time nobody knows who judged")
	calls.Store(0)
	n, err = s.Refresh(ctx)
	require.NoError(t, err)
	assert.Zero(t, n)
	assert.Zero(t, calls.Load())
	require.NoError(t, s.Close())

	s = reopen(t, s.Path(), judgedBy("rules-2", 2))
	assert.Equal(t, 1, line(t, s, roomID(2)).Errors)
	revision := room(t, s, roomID(2)).Revision
	n, err = s.Refresh(ctx)
	require.NoError(t, err)
	assert.Equal(t, 450, n)
	for _, i := range []int{0, 2, 449} {
		l := line(t, s, roomID(i))
		assert.Equal(t, 2, l.Errors)
		assert.Equal(t, []string{"rules-2"}, l.Rules)
	}
	assert.Equal(t, revision, room(t, s, roomID(2)).Revision, "the room itself is the same")
}
