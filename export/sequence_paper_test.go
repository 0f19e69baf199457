package export_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/export"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
)

// On the two paper sizes that offices have, nothing of the sheets about the sequence may be
// cut off: every text stands in the file, as a reader that shares no code with us reads it.
func TestSequenceSheets_areWholeOnLetterAndA4(t *testing.T) {
	s := demo.Scope()
	for i := range s.Typicals {
		if d := &s.Typicals[i].Design; len(d.Loads) > 4 {
			d.Intents = append(d.Intents, domain.Intent{ID: "em", Seq: 90, Kind: domain.OnEmergency, Level: 100}, domain.Intent{ID: "mo", Seq: 91, Kind: domain.OnMode, Mode: domain.CleaningMode, Level: 100, Hold: 3600})
			d.Scenarios = append(d.Scenarios, domain.Scenario{ID: "t", Seq: 1, Name: "Power fails", Steps: []domain.ScenarioStep{{ID: "a", Seq: 1, Happen: domain.PowerLost}, {ID: "b", Seq: 2, At: 5, Happen: domain.Expect}}})
		}
	}
	in, err := export.InputOf(s, june())
	require.NoError(t, err)
	only := sheet.Only{Storeys: []domain.ID{"level-2"}}
	for _, kind := range []string{"narrative", "sequence", "tests", "points", "av"} {
		doc, err := export.Build(kind, in, only)
		require.NoError(t, err)
		for _, paper := range []pdf.Paper{pdf.Letter, pdf.A4} {
			var out bytes.Buffer
			require.NoError(t, export.Write(&out, export.PDF, doc, export.Options{Paper: paper}))
			letters := squeezed(toText(t, out.Bytes()))
			for _, text := range doc.Strings() {
				for _, word := range strings.Fields(text) {
					assert.True(t, strings.Contains(letters, word), "%s on %s lacks %q of %q", kind, paper, word, text)
				}
			}
			for _, want := range []string{"Page1of", squeezed(domain.CautionFooter), "Inventeddemodata"} {
				assert.Contains(t, letters, want, "%s on %s", kind, paper)
			}
		}
	}
}

// squeezed takes the spaces out, since a long word may go over two lines.
func squeezed(text string) string { return strings.Join(strings.Fields(text), "") }
