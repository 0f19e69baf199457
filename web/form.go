package web

import (
	"errors"
	"log/slog"
	"net/http"
	"net/url"
	"unicode/utf8"

	"scopewright/web/edits"
)

// readable reads the form of a request before any screen does, and refuses
// what none could read: a form cut short or put together wrongly, and text
// that is not UTF-8, which no page of ours sends.
func readable(log *slog.Logger, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		err := r.ParseForm() // leaves uploads to their screen
		var tooLarge *http.MaxBytesError
		switch {
		case errors.As(err, &tooLarge):
			edits.Refuse(w, r, log, err)
		case err != nil:
			edits.Refuse(w, r, log, edits.Refusef("what was sent could not be read, so nothing was stored: reload the page and send it again"))
		case !utf8.ValidString(r.URL.Path) || !isText(r.Form):
			edits.Refuse(w, r, log, edits.Refusef("what was sent holds bytes that are not UTF-8, so nothing was stored: type it again"))
		default:
			next.ServeHTTP(w, r)
		}
	})
}

func isText(form url.Values) bool {
	for name, values := range form {
		if !utf8.ValidString(name) {
			return false
		}
		for _, text := range values {
			if !utf8.ValidString(text) {
				return false
			}
		}
	}
	return true
}
