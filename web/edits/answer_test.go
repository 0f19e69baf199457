package edits

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strconv"
	"testing"

	"github.com/a-h/templ"
	"github.com/stretchr/testify/assert"
)

func says(text string, err error) templ.Component {
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		if err != nil {
			return err
		}
		_, err := io.WriteString(w, text)
		return err
	})
}

// A part that fails takes the whole answer with it: half of a page is no page.
func TestRender_allOrNothing(t *testing.T) {
	quiet := slog.New(slog.DiscardHandler)
	w, r := httptest.NewRecorder(), httptest.NewRequest(http.MethodGet, "/", nil)
	Render(w, r, quiet, http.StatusConflict, says("<p>one</p>", nil), says("<p>two</p>", nil))
	assert.Equal(t, http.StatusConflict, w.Code)
	assert.Equal(t, "<p>one</p><p>two</p>", w.Body.String())
	assert.Equal(t, strconv.Itoa(w.Body.Len()), w.Header().Get("Content-Length"))

	w = httptest.NewRecorder()
	Render(w, r, quiet, http.StatusOK, says("<p>one</p>", nil), says("", errors.New("broken")))
	assert.Equal(t, http.StatusInternalServerError, w.Code)
	assert.NotContains(t, w.Body.String(), "<p>one</p>")
	assert.Contains(t, w.Body.String(), "reload the page")

	gone, leave := context.WithCancel(t.Context())
	leave()
	w = httptest.NewRecorder()
	Render(w, r.WithContext(gone), quiet, http.StatusOK, says("", gone.Err()))
	assert.Empty(t, w.Body.String())
}
