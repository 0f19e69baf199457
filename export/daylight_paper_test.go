package export_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/demo"
	"scopewright/export"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
)

// On the two paper sizes that offices have, nothing of the daylight sheets and of the
// calibration forms is cut off, as a reader that shares no code with us reads them, and
// each table stays in one piece across the page.
func TestDaylightSheets_areWholeOnLetterAndA4(t *testing.T) {
	in, err := export.InputOf(demo.Scope(), june())
	require.NoError(t, err)
	var only sheet.Only
	for _, number := range []string{"103", "201", "300", "301"} {
		o, err := export.RoomNumbered(in.Scope, number)
		require.NoError(t, err)
		only.Rooms = append(only.Rooms, o.Rooms...)
	}
	for _, kind := range []string{"daylight", "calibration"} {
		doc, err := export.Build(kind, in, only)
		require.NoError(t, err)
		require.NoError(t, doc.Validate())
		for _, paper := range []pdf.Paper{pdf.Letter, pdf.A4} {
			var out bytes.Buffer
			require.NoError(t, export.Write(&out, export.PDF, doc, export.Options{Paper: paper}))
			letters := squeezed(toText(t, out.Bytes()))
			for _, text := range doc.Strings() {
				for _, word := range strings.Fields(text) {
					assert.True(t, strings.Contains(letters, word), "%s on %s lacks %q of %q", kind, paper, word, text)
				}
			}
			assert.NotContains(t, letters, "(part1of", "%s on %s", kind, paper)
			assert.Contains(t, letters, "Inventeddemodata")
		}
	}
}
