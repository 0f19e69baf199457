package edits

import (
	"errors"
	"log/slog"
	"net/http"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"scopewright/domain/edit"
	"scopewright/store"
	"scopewright/web/ui"
)

// Sentence is an error written for people, ready to show: it begins with a
// capital and ends with a stop.
type Sentence string

func (s Sentence) Error() string { return string(s) }

// SentenceOf gives an error's words as a sentence.
func SentenceOf(err error) string {
	text := err.Error()
	if text == "" {
		return text
	}
	if !strings.ContainsAny(text[len(text)-1:], ".?!") {
		text += "."
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// Status gives the HTTP status and the sentence for an error. A sentence is
// for people only where the error was made for them; the log gets the cause.
func Status(err error) (int, string) {
	var (
		field    *edit.FieldError
		refused  *edit.Refused
		stale    *store.StaleError
		conflict *store.ConflictError
		tooLarge *http.MaxBytesError
		sentence Sentence
	)
	switch {
	case errors.As(err, &field), errors.As(err, &refused):
		return http.StatusUnprocessableEntity, err.Error()
	case errors.As(err, &stale), errors.As(err, &conflict):
		return http.StatusConflict, err.Error()
	case errors.As(err, &tooLarge):
		return http.StatusRequestEntityTooLarge, "What was sent is too large: send less at a time."
	case errors.Is(err, store.ErrNotFound):
		return http.StatusNotFound, err.Error()
	case errors.Is(err, store.ErrRefused), errors.Is(err, store.ErrNothingToUndo), errors.Is(err, store.ErrNothingToRedo):
		return http.StatusUnprocessableEntity, err.Error()
	case errors.Is(err, store.ErrReadOnly):
		return http.StatusForbidden, err.Error()
	case errors.Is(err, store.ErrFull):
		return http.StatusInsufficientStorage, err.Error()
	case errors.Is(err, store.ErrLocked), errors.Is(err, store.ErrClosed):
		return http.StatusServiceUnavailable, err.Error()
	case errors.As(err, &sentence):
		return http.StatusUnprocessableEntity, string(sentence)
	case errors.Is(err, store.ErrDisk), errors.Is(err, store.ErrCorrupt):
		return http.StatusInternalServerError, err.Error()
	}
	return http.StatusInternalServerError, "Something went wrong inside the program; nothing was stored. The log says more."
}

// Refuse answers a request that failed: a message in the open page, or a page
// of its own.
func Refuse(w http.ResponseWriter, r *http.Request, log *slog.Logger, err error) {
	status, sentence := Status(err)
	if status >= 500 {
		log.Error("request failed", "method", r.Method, "path", r.URL.Path, "error", err)
	}
	if ui.IsFragment(r) {
		Render(w, r, log, status, ui.Notice("error", sentence))
		return
	}
	heading := "That did not work"
	if status == http.StatusNotFound {
		heading = "Not found"
	}
	Render(w, r, log, status, ui.Wrong(ui.NewPage(r, heading), heading, sentence))
}

// Render answers with components. They are put together before the first is sent: one
// write costs less than one a part, and none is sent alone.
func Render(w http.ResponseWriter, r *http.Request, log *slog.Logger, status int, parts ...templ.Component) {
	body := templ.GetBuffer()
	defer templ.ReleaseBuffer(body)
	for _, p := range parts {
		if err := p.Render(r.Context(), body); err != nil {
			if r.Context().Err() == nil { // else nobody waits any more
				log.Error("answer not made", "path", r.URL.Path, "error", err)
				http.Error(w, "The page could not be made. What was saved is kept: reload the page.", http.StatusInternalServerError)
			}
			return
		}
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("Content-Length", strconv.Itoa(body.Len()))
	w.WriteHeader(status)
	if _, err := body.WriteTo(w); err != nil {
		log.Warn("answer not sent", "path", r.URL.Path, "error", err)
	}
}
