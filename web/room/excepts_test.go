package room

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// The dialog reads a list, whatever the rule: the exceptions that the project's code
// names, or none. What another code excepts is not offered.
func TestExcepts_areThoseOfTheProjectsCode(t *testing.T) {
	of := func(pack domain.CodePack, id string) (words []string) {
		require.NoError(t, json.Unmarshal([]byte(excepts(&domain.Project{CodePack: pack}, &rule.Finding{Rule: id})), &words), id)
		return words
	}
	for _, r := range validate.Rules() {
		for _, words := range of("ashrae-90.1-2019", r.ID) {
			assert.Contains(t, words, "ASHRAE 90.1", r.ID)
			assert.Contains(t, r.Excepts, words)
		}
		for _, words := range of("iecc-2021", r.ID) {
			assert.Contains(t, words, "IECC", r.ID)
		}
	}
	assert.Contains(t, strings.Join(of("ashrae-90.1-2019", "energycode-full-off"), "\n"), "Patient care is given here")
	assert.NotContains(t, strings.Join(of("iecc-2021", "energycode-full-off"), "\n"), "Patient care is given here")
	assert.NotEmpty(t, of("iecc-2021", "energycode-full-off"))
	assert.Empty(t, of("california-2022", "energycode-full-off"), "none of that code is known")
	assert.Empty(t, of("", "energycode-full-off"), "no code is chosen")
	for _, id := range []string{"energycode-bilevel", "gone-rule"} {
		assert.Equal(t, "[]", excepts(&domain.Project{CodePack: "iecc-2021"}, &rule.Finding{Rule: id}))
	}
}

// A worksheet of a code that is nobody else's may use any of the exceptions; one that
// amends a built-in code has that code's.
func TestExcepts_byAWorksheet(t *testing.T) {
	p := &domain.Project{CodePack: "w", Worksheets: []domain.CodeWorksheet{{ID: "w", Title: "Town", Code: "Town ordinance", Edition: "2025"}}}
	f := &rule.Finding{Rule: "energycode-full-off"}
	assert.Contains(t, excepts(p, f), "IECC")
	assert.Contains(t, excepts(p, f), "ASHRAE")
	p.Worksheets[0].Base, p.Worksheets[0].Code = "iecc-2021", ""
	assert.NotContains(t, excepts(p, f), "ASHRAE")
}
