package rule_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/validate/rule"
)

func TestSeverity_oneWordOnScreenAndPaper(t *testing.T) {
	assert.Equal(t, "note", rule.Info.Word())
	assert.Equal(t, "error", rule.Error.Word())
	assert.Equal(t, "warning", rule.Warning.Word())
}
