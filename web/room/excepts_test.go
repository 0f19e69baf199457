package room

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/validate"
	"scopewright/validate/rule"
)

// The dialog reads a list, whatever the rule: the exceptions that codes name, or none.
func TestExcepts_areAListForTheDialog(t *testing.T) {
	for _, r := range validate.Rules() {
		var words []string
		require.NoError(t, json.Unmarshal([]byte(excepts(&rule.Finding{Rule: r.ID})), &words), r.ID)
		assert.Len(t, words, len(r.Excepts), r.ID)
	}
	assert.Contains(t, excepts(&rule.Finding{Rule: "energycode-full-off"}), "Patient care is given here")
	assert.Equal(t, "[]", excepts(&rule.Finding{Rule: "energycode-bilevel"}))
	assert.Equal(t, "[]", excepts(&rule.Finding{Rule: "gone-rule"}))
}
