package html

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/export/sheet/sheettest"
)

func TestChart_printsItsWordsInAPicture(t *testing.T) {
	doc := sheettest.Charts()
	body := page(t, doc, Options{})
	got := text(t, body)
	for _, want := range doc.Strings() {
		assert.Contains(t, got, strings.Join(strings.Fields(want), " "))
	}
	assert.Equal(t, 2, strings.Count(body, "<svg"))
	assert.Contains(t, body, `aria-label="Energy by storey"`)
}
