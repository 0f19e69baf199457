package webtest

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"

	"github.com/stretchr/testify/require"
)

// Form puts pairs of names and values into a form.
func Form(pairs ...string) url.Values {
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	return form
}

// Get fetches a whole page.
func (a *App) Get(path string) *httptest.ResponseRecorder {
	a.T.Helper()
	return a.Send(http.MethodGet, path, nil, "")
}

// Post sends a form as an open page does, its fields in pairs.
func (a *App) Post(path string, pairs ...string) *httptest.ResponseRecorder {
	a.T.Helper()
	return a.Ask(http.MethodPost, path, Form(pairs...))
}

// Plain sends a form as a browser without script does.
func (a *App) Plain(path string, pairs ...string) *httptest.ResponseRecorder {
	a.T.Helper()
	return a.Send(http.MethodPost, path, strings.NewReader(Form(pairs...).Encode()), formType)
}

// Ask sends a request as an open page does, with headers in pairs that may say
// otherwise: an empty HX-Request makes it a plain form.
func (a *App) Ask(method, path string, form url.Values, headers ...string) *httptest.ResponseRecorder {
	a.T.Helper()
	return a.Send(method, path, strings.NewReader(form.Encode()), formType, append([]string{"HX-Request", "true"}, headers...)...)
}

// Upload sends a form with a file as a browser without script does.
func (a *App) Upload(path, name, content string, pairs ...string) *httptest.ResponseRecorder {
	a.T.Helper()
	body, kind := a.FileForm(name, content, pairs...)
	return a.Send(http.MethodPost, path, body, kind)
}

// FileForm gives the body of a form with a file, and its content type; a file
// without a name is left out.
func (a *App) FileForm(name, content string, pairs ...string) (io.Reader, string) {
	a.T.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	if name != "" {
		part, err := form.CreateFormFile("file", name)
		require.NoError(a.T, err)
		_, err = part.Write([]byte(content))
		require.NoError(a.T, err)
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		require.NoError(a.T, form.WriteField(pairs[i], pairs[i+1]))
	}
	require.NoError(a.T, form.Close())
	return &body, form.FormDataContentType()
}

const formType = "application/x-www-form-urlencoded"

// Send sends any request, with headers in pairs.
func (a *App) Send(method, path string, body io.Reader, contentType string, headers ...string) *httptest.ResponseRecorder {
	a.T.Helper()
	r := httptest.NewRequestWithContext(a.T.Context(), method, path, body)
	if contentType != "" {
		r.Header.Set("Content-Type", contentType)
	}
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	if a.Who != "" {
		r.AddCookie(&http.Cookie{Name: "sw_name", Value: url.QueryEscape(a.Who)})
	}
	w := httptest.NewRecorder()
	a.Handler.ServeHTTP(w, r)
	return w
}
