package rule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/domaintest"
	"scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// The room is judged once, without words where nothing can be mended; by no code, and
// without lights, not at all.
func TestFactsCode(t *testing.T) {
	codeOf := func(b *domaintest.Builder) *rule.Code {
		f := rule.NewFacts(b.P, b.R, time.Time{})
		c := f.Code()
		assert.Same(t, c, f.Code(), "judged once")
		return c
	}
	b := domaintest.Classroom()
	assert.Nil(t, codeOf(b), "no code is chosen")
	b.P.CodePack = "ashrae-90.1-2019"
	assert.Nil(t, codeOf(&domaintest.Builder{P: b.P, R: domaintest.Room().Receptacle("r1").R}), "no lights")

	c := codeOf(b)
	require.NotNil(t, c)
	assert.False(t, c.Confirmed)
	assert.Equal(t, "classroom_lecture_training", c.Kind.Space)
	require.NotEmpty(t, c.Answers, "21 min 2 s are too long")
	for i := range c.Answers {
		assert.True(t, c.Answers[i].Mendable())
		assert.NotEmpty(t, c.Answers[i].Title)
	}
	assert.Contains(t, c.Facts.Loads[0].Vacant[0].By, "presence intent 2")

	b.Set("facts/use", "")
	c = codeOf(b)
	assert.Empty(t, c.Answers, "nothing can be judged without a kind of space")
	assert.Contains(t, c.Kind.Why, "choose the kind of space")

	b.Set("facts/space_type", "elec_mech_room", "facts/area_m2", "4000 ft2")
	c = codeOf(b)
	assert.True(t, c.Confirmed)
	assert.Equal(t, energycode.Find("ashrae-90.1-2019"), c.Pack)
}
