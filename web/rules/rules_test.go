package rules

import (
	"fmt"
	"io"
	"log/slog"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/validate"
	"scopewright/validate/rule"
)

func show(t *testing.T, list []*rule.Rule) string {
	t.Helper()
	r := chi.NewRouter()
	Screen{Rules: list, Log: slog.New(slog.NewTextHandler(io.Discard, nil))}.Routes(r)
	w := httptest.NewRecorder()
	r.ServeHTTP(w, httptest.NewRequest("GET", "/rules", nil))
	require.Equal(t, 200, w.Code)
	return w.Body.String()
}

func TestRules_eachHasItsPlace(t *testing.T) {
	body := show(t, validate.Rules())
	for _, r := range validate.Rules() {
		assert.Equal(t, 1, strings.Count(body, fmt.Sprintf(`<article class="panel rule" id=%q`, r.ID)), r.ID)
		assert.Contains(t, body, `href="#`+r.ID+`"`)
	}
	assert.Contains(t, body, fmt.Sprintf("%d rules:", len(validate.Rules())))
}

func TestRules_saysAllOfARule(t *testing.T) {
	body := show(t, []*rule.Rule{{
		ID: "capacity-x", Title: "Too <many>", Severity: rule.Warning, Scope: rule.OfProject, Limits: []domain.LimitID{domain.DevicesPerRoom},
		Why: "because", Source: "a source", Example: "33 of 32", Aliases: []string{"old-x"},
	}})
	for _, want := range []string{"Too &lt;many&gt;", `class="badge warning"`, "the project as a whole", "Devices in one room, all kinds together: <strong>32</strong>",
		"because", "a source", "33 of 32", "old-x", "1 rule: 0 errors, 1 warning, 0 notes"} {
		assert.Contains(t, body, want)
	}
}
