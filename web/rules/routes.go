// Package rules is the screen of the rule reference: every rule with its
// limits, why it matters, its source and a worked example, as one long page
// that the browser's find and print work on.
package rules

import (
	"log/slog"
	"net/http"

	"github.com/go-chi/chi/v5"

	"scopewright/validate/rule"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Screen serves the rule reference.
type Screen struct {
	Rules []*rule.Rule // in the order in which they are shown
	Log   *slog.Logger
}

// Routes hangs the screen into the app.
func (s Screen) Routes(r chi.Router) {
	r.Get("/rules", s.show)
}

func (s Screen) show(w http.ResponseWriter, r *http.Request) {
	p := ui.NewPage(r, "Rules")
	p.Crumbs = []ui.Crumb{{Name: "Rules"}}
	edits.Render(w, r, s.Log, http.StatusOK, page(p, newView(s.Rules)))
}
