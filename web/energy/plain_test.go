package energy

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/web/webtest"
)

// Rates, hours and factors are set without script, and given their built-in values back.
func TestEnergy_isSetWithoutScript(t *testing.T) {
	s := open(t, webtest.School())
	for cell, text := range map[string]string{"rates/tariff/value": "0.2", "rates/tariff/origin": "bill of 2025", "project/currency": "EUR", "profiles/classroom/day_h": "1600 h", "limits/foc-manual-on-auto-off/value": "0.85"} {
		answer := s.FillPlain(path, "path", cell, "text", text)
		require.Equal(t, http.StatusSeeOther, answer.Code, "%s: %s", cell, answer.Body)
	}
	p := s.Project("p1")
	assert.Equal(t, []domain.Rate{{ID: "tariff", Seq: 1, Value: 0.2, Origin: "bill of 2025"}}, p.Rates)
	assert.Equal(t, "EUR", p.Currency)
	assert.EqualValues(t, 1600, p.Profile("classroom").Day)
	assert.Equal(t, 0.85, energy.FactorsOf(p).Occupancy(energy.ManualOnAutoOff))
	assert.Equal(t, http.StatusUnprocessableEntity, s.FillPlain(path, "path", "rates/tariff/value", "text", "-1").Code)
	require.Equal(t, http.StatusSeeOther, s.FillPlain(path, "row", "profiles/classroom").Code)
	assert.Empty(t, s.Project("p1").Profiles)
}
