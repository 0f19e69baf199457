package web

import (
	"crypto/sha256"
	"encoding/hex"
	"sync"
	"time"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// Judge runs the rules over rooms and remembers what they found in the last
// ones: the store judges a room inside an edit's transaction, and the answer to
// that edit shows the findings of the very same value.
type Judge struct {
	now func() time.Time

	mu   sync.Mutex
	held [heldJudgements]judgement
	next int
}

const heldJudgements = 64

type judgement struct {
	project  *domain.Project
	room     *domain.Resolved
	day      int
	findings []rule.Finding
}

// NewJudge gives a judge that dates by now.
func NewJudge(now func() time.Time) *Judge { return &Judge{now: now} }

// Room gives the findings of a room as of today. Both values are shared and
// never change, so they are remembered by their addresses.
func (j *Judge) Room(p *domain.Project, r *domain.Resolved) []rule.Finding {
	today := j.now()
	want := judgement{project: p, room: r, day: today.YearDay()}
	if found, ok := j.find(want); ok {
		return found
	}
	want.findings = validate.Room(p, r, today)
	j.mu.Lock()
	defer j.mu.Unlock()
	j.held[j.next] = want
	j.next = (j.next + 1) % heldJudgements
	return want.findings
}

func (j *Judge) find(want judgement) ([]rule.Finding, bool) {
	j.mu.Lock()
	defer j.mu.Unlock()
	for i := range j.held {
		h := &j.held[i]
		if h.room == want.room && h.project == want.project && h.day == want.day && h.room != nil {
			return h.findings, true
		}
	}
	return nil, false
}

// Summarize gives the numbers that lists show of a room: what a store is
// opened with.
func (j *Judge) Summarize(p *domain.Project, r *domain.Resolved) store.Summary {
	sum := store.CountOnly(p, r)
	sum.Errors, sum.Warnings, sum.Infos, sum.Waived, sum.Rules = validate.Count(j.Room(p, r))
	return sum
}

// Judgement names what the judge judges by: the rules as they are known and the
// day, on which battery findings hang.
func (j *Judge) Judgement() string {
	return j.now().Format(time.DateOnly) + " " + rulesVersion()
}

var rulesVersion = sync.OnceValue(func() string {
	reference, err := validate.Reference("json")
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(reference)
	return hex.EncodeToString(sum[:8])
})
