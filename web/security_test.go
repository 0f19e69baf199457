package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOnlyThisServersOwnNamesAreAnswered(t *testing.T) {
	a := newApp(t, smallScope())
	address := strings.TrimPrefix(a.url, "http://")
	_, port, _ := strings.Cut(address, ":")
	for host, want := range map[string]int{
		address: 200, "localhost:" + port: 200, "[::1]:" + port: 200,
		"evil.example": 421, "evil.example:" + port: 421, "localhost": 421, "127.0.0.1:1": 421, "": 421,
	} {
		r, err := http.NewRequest(http.MethodGet, a.url+room101, nil)
		require.NoError(t, err)
		r.Host = host
		if host == "" {
			r.Host = " "
		}
		recorder := httptest.NewRecorder()
		r.RequestURI, r.RemoteAddr = room101, "127.0.0.1:9"
		a.handler.ServeHTTP(recorder, r)
		assert.Equal(t, want, recorder.Code, "Host %q", host)
	}
}

// A page of another site, or one that has our name pointed at this server, can
// neither post nor read.
func TestRequestsFromOtherSitesAreRefused(t *testing.T) {
	a := newApp(t, smallScope())
	send := func(change func(*http.Request)) int {
		r, err := http.NewRequest(http.MethodPost, a.url+room101+"/set", strings.NewReader(url.Values{"path": {"facts/name"}, "text": {"x"}}.Encode()))
		require.NoError(t, err)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		change(r)
		return a.do(r).status
	}
	assert.Equal(t, 403, send(func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }))
	assert.Equal(t, 403, send(func(r *http.Request) { r.Header.Set("Origin", "null") }))
	assert.Equal(t, 403, send(func(r *http.Request) { r.Header.Set("Origin", "https://"+strings.TrimPrefix(a.url, "http://")) }))
	assert.Equal(t, 403, send(func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }))
	assert.Equal(t, 421, send(func(r *http.Request) { r.Host = "evil.example"; r.Header.Set("Origin", "http://evil.example") }))
	assert.Equal(t, "Room", roomNow(t, a, "room101").Name)
	assert.Equal(t, 303, send(func(r *http.Request) { r.Header.Set("Origin", a.url) }), "our own page may")
}

var (
	inlineScript = regexp.MustCompile(`(?i)<script(?:\s[^>]*)?>[^<]`)
	inlineCode   = regexp.MustCompile(`(?i)\s(on[a-z]+|style)=`)
)

// Every page keeps the policy: nothing from elsewhere, no inline script, style
// or handler.
func TestEveryPageKeepsTheContentPolicy(t *testing.T) {
	a := newApp(t, smallScope())
	for _, path := range pages {
		got := a.get(path)
		require.Equal(t, 200, got.status, path)
		policy := got.header.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'", "base-uri 'none'", "form-action 'self'"} {
			assert.Contains(t, policy, part, path)
		}
		assert.NotContains(t, policy, "unsafe")
		assert.Equal(t, "nosniff", got.header.Get("X-Content-Type-Options"))
		assert.Equal(t, "no-referrer", got.header.Get("Referrer-Policy"))
		assert.Equal(t, "same-origin", got.header.Get("Cross-Origin-Resource-Policy"))
		assert.Empty(t, inlineScript.FindString(got.body), path)
		assert.Empty(t, inlineCode.FindString(got.body), path)
	}
}

func TestFormsAreBounded(t *testing.T) {
	a := newApp(t, smallScope())
	got := a.post(room101+"/set", "", "path", "facts/notes", "text", strings.Repeat("x", maxForm+1))
	assert.Equal(t, 413, got.status)
	assert.Contains(t, got.body, "too large")
}

func TestStaticFilesAreCachedByTheirContentOnly(t *testing.T) {
	a := newApp(t, smallScope())
	page := a.get(room101).body
	path := regexp.MustCompile(`/static/css/app\.css\?v=[0-9a-f]+`).FindString(page)
	require.NotEmpty(t, path)
	assert.Contains(t, a.get(path).header.Get("Cache-Control"), "immutable")
	assert.Equal(t, "no-cache", a.get("/static/css/app.css").header.Get("Cache-Control"))
	assert.Equal(t, 404, a.get("/static/../go.mod").status)
	assert.Equal(t, 404, a.get("/static/embed.go").status)
}

func TestListeningElsewhereIsRefused(t *testing.T) {
	for address, ok := range map[string]bool{"127.0.0.1:0": true, "localhost:8080": true, "[::1]:80": true, "0.0.0.0:80": false, ":8080": false, "192.0.2.1:80": false, "nonsense": false} {
		assert.Equal(t, ok, Loopback(address) == nil, address)
	}
}
