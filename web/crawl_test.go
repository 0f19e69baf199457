package web

import (
	"bytes"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/export"
	"scopewright/store"
	"scopewright/web/webtest"
)

// demoDay is a day after the demo's dates, on which its reviews are judged.
var demoDay = time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)

const (
	demoHost = "127.0.0.1:8417"
	demoRoot = "/projects/demo-harbor-street"
)

// whole is the program as it is served, with the demo in it and a log that the
// test reads.
type whole struct {
	t       *testing.T
	handler http.Handler
	router  chi.Routes
	store   *store.Store
	log     bytes.Buffer
}

func newWhole(t *testing.T, scopes ...*domain.Scope) *whole {
	t.Helper()
	now := func() time.Time { return demoDay }
	judge := NewJudge(now)
	w := &whole{t: t, store: webtest.OpenStore(t, store.Options{Now: now, Summarize: judge.Summarize, Hash: export.RoomHash(now)}, scopes...)}
	o := Options{Store: w.store, Now: now, Judge: judge, Log: slog.New(slog.NewTextHandler(&w.log, &slog.HandlerOptions{Level: slog.LevelError}))}
	done := make(chan struct{})
	close(done) // live streams end at once
	w.handler = Handler(o, demoHost, done)
	w.router = routes(o, done).(chi.Routes)
	return w
}

func demoScope() *domain.Scope {
	scope := demo.Scope()
	demo.Sign(scope, export.RoomHash(func() time.Time { return demoDay }))
	return scope
}

func (w *whole) send(method, path, kind, body string, headers ...string) *httptest.ResponseRecorder {
	w.t.Helper()
	r := httptest.NewRequestWithContext(w.t.Context(), method, "http://"+demoHost+path, strings.NewReader(body))
	r.Host = demoHost
	if kind != "" {
		r.Header.Set("Content-Type", kind)
		r.Header.Set("Origin", "http://"+demoHost)
	}
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	answer := httptest.NewRecorder()
	w.handler.ServeHTTP(answer, r)
	return answer
}

// form sends a form as a browser without script does.
func (w *whole) form(path string, pairs ...string) *httptest.ResponseRecorder {
	w.t.Helper()
	return w.send(http.MethodPost, path, "application/x-www-form-urlencoded", webtest.Form(pairs...).Encode())
}

// upload sends a file as a browser without script does.
func (w *whole) upload(path, name, content string) *httptest.ResponseRecorder {
	w.t.Helper()
	body, kind := (&webtest.App{T: w.t}).FileForm(name, content)
	sent, err := io.ReadAll(body)
	require.NoError(w.t, err)
	return w.send(http.MethodPost, path, kind, string(sent))
}

// pattern gives the route that answers a path, "" for none.
func (w *whole) pattern(method, path string) string {
	c := chi.NewRouteContext()
	if !w.router.Match(c, method, path) {
		return ""
	}
	return c.RoutePattern()
}

// patterns lists all routes of a method.
func (w *whole) patterns(method string) (list []string) {
	w.t.Helper()
	require.NoError(w.t, chi.Walk(w.router, func(m, route string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		if m == method {
			list = append(list, route)
		}
		return nil
	}))
	return list
}

// askedFor are ends of addresses that an open page asks for, not a link, and
// those of pictures, of which the demo has none.
var askedFor = []string{"fresh", "live", "parts", "state", "findings", "plans", "progress", "picture", "below", "overlay", "why", "elsewhere", "light", "{sha}", "{page}"}

// A visitor who follows every link of the demo finds each page there, sound,
// and no screen that no link leads to.
func TestEveryPageOfTheDemoIsSoundAndWithinReach(t *testing.T) {
	w := newWhole(t, demoScope())
	stamp := func(path, field string) string {
		return valueOf(t, w.send(http.MethodGet, path, "", "").Body.String(), field)
	}
	issue := demoRoot + "/documents/issue"
	for range 2 {
		answer := w.form(issue, "author", "A. Designer", "purpose", "For review", "seen", stamp(issue, "seen"))
		require.Equal(t, http.StatusSeeOther, answer.Code, answer.Body)
	}
	sent := w.upload(demoRoot+"/import", "rooms.csv", "Number,Name,Area\n101,Lobby,400\n950,Store,90\n951,Store,x")
	require.Equal(t, http.StatusSeeOther, sent.Code, sent.Body)

	plans := w.uploadPlans()
	sheet := w.form(demoRoot+"/code/worksheets/add", "title", "Ours", "from", "iecc-2021")
	require.Equal(t, http.StatusSeeOther, sheet.Code, sheet.Body)

	c := &crawl{w: w, seen: map[string]bool{}, visits: map[string]int{}}
	c.found(plans...)
	c.found("/", sent.Header().Get("Location"), demoRoot+"/fresh?have=1", demoRoot+"/no-such-page")
	for len(c.queue) > 0 {
		path := c.queue[0]
		c.queue = c.queue[1:]
		c.visit(path)
	}
	for _, p := range w.patterns(http.MethodGet) {
		if slices.Contains(askedFor, p[strings.LastIndexByte(p, '/')+1:]) {
			continue
		}
		assert.NotZero(t, c.visits[p], "no link leads to %s", p)
	}
	t.Logf("%d addresses visited", len(c.seen))
	assert.Empty(t, w.log.String(), "nothing went wrong inside")
}

// uploadPlans brings in what makes the other pages of the import: a model with
// its preview and its report, a picture that waits and one beneath a storey, a
// PDF whose page is to be chosen, and a drawing.
func (w *whole) uploadPlans() []string {
	model, err := os.ReadFile("intake/testdata/three-rooms.gbxml.xml")
	require.NoError(w.t, err)
	scan, err := os.ReadFile(picture(w.t, 120, 80))
	require.NoError(w.t, err)
	at := func(name string, content []byte) string {
		sent := w.upload(demoRoot+"/import", name, string(content))
		require.Equal(w.t, http.StatusSeeOther, sent.Code, sent.Body)
		return sent.Header().Get("Location")
	}
	pages, err := os.ReadFile(planPDF(w.t))
	require.NoError(w.t, err)
	lines, err := os.ReadFile(tracedDXF(w.t))
	require.NoError(w.t, err)
	choice, drawn := at("plans.pdf", pages), at("level 1.dxf", lines)
	preview, report, waiting, placed := at("school.xml", model), at("school.xml", model), at("scan.png", scan), at("scan.png", scan)
	w.form(report+"/read", "storeys", "yes", "storey-1", "leave") // an empty room has no workbook, and says so
	applied := w.form(report+"/apply", "seen", valueOf(w.t, w.send(http.MethodGet, report, "", "").Body.String(), "seen"))
	require.Equal(w.t, http.StatusSeeOther, applied.Code, applied.Body)
	storey := valueOfSelect(w.t, w.send(http.MethodGet, placed, "", "").Body.String(), "storey")
	applied = w.form(placed+"/apply", "storey", storey, "ax", "0", "ay", "0", "bx", "100", "by", "0", "distance", "30 ft", "x", "0", "y", "0", "opacity", "50")
	require.Equal(w.t, http.StatusSeeOther, applied.Code, applied.Body)
	return []string{drawn, drawn + "/beneath", preview, report, waiting, choice, applied.Header().Get("Location")}
}

// valueOfSelect gives the first value that a field offers.
func valueOfSelect(t *testing.T, page, field string) string {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	require.NoError(t, err)
	for n := range root.Descendants() {
		if parent := n.Parent; n.Data == "option" && parent != nil {
			if name, _ := attribute(parent, "name"); name == field {
				value, _ := attribute(n, "value")
				return value
			}
		}
	}
	require.Fail(t, "no choices", field)
	return ""
}

// valueOf gives the value of a form's field.
func valueOf(t *testing.T, page, field string) string {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	require.NoError(t, err)
	for n := range root.Descendants() {
		if name, _ := attribute(n, "name"); name == field {
			value, _ := attribute(n, "value")
			return value
		}
	}
	require.Fail(t, "no field", field)
	return ""
}

// crawl follows links. Rooms are many and alike: of each kind of page some are
// visited.
type crawl struct {
	w      *whole
	seen   map[string]bool
	visits map[string]int
	queue  []string
	typed  bool // names are anything, also what looks like a slip
}

// visitsEach is how many of a kind are visited; of files, which are made alike
// and are tested where they are made, fewer.
const (
	visitsEach = 6
	filesEach  = 1
)

func (c *crawl) found(links ...string) {
	for _, link := range links {
		path, _, _ := strings.Cut(link, "#")
		if path == "" || c.seen[path] || strings.HasSuffix(path, "/live") {
			continue
		}
		c.seen[path] = true
		c.queue = append(c.queue, path)
	}
}

func (c *crawl) visit(path string) {
	t := c.w.t
	u, err := url.Parse(path)
	require.NoError(t, err, path)
	if u.Host != "" || u.Scheme != "" {
		assert.Fail(t, "a link leads out of the program", path)
		return
	}
	pattern := c.w.pattern(http.MethodGet, u.Path)
	kind := pattern + u.Path[strings.LastIndexByte(u.Path, '/')+1:]
	if strings.HasSuffix(pattern, "}") && !strings.HasSuffix(pattern, "{file}") {
		kind = pattern
	}
	most := visitsEach
	if strings.HasSuffix(pattern, "{file}") && !strings.HasSuffix(u.Path, ".html") {
		most = filesEach
	}
	if c.visits[kind]++; c.visits[kind] > most {
		return
	}
	c.visits[pattern]++
	answer := c.w.send(http.MethodGet, path, "", "")
	body := answer.Body.String()
	want := http.StatusOK
	switch {
	case strings.HasSuffix(u.Path, ".xlsx") && strings.Contains(body, "holds no table yet"):
		return // of an empty room
	case answer.Code == http.StatusSeeOther:
		c.found(answer.Header().Get("Location"))
		return
	case strings.HasSuffix(path, "/no-such-page"):
		want = http.StatusNotFound
	case strings.Contains(path, "/fresh?have=") && answer.Code == http.StatusNoContent:
		return
	}
	if !assert.Equal(t, want, answer.Code, "%s: %.300s", path, body) || !strings.HasPrefix(answer.Header().Get("Content-Type"), "text/html") {
		return
	}
	for i, fault := range faultsOf(body, !slices.Contains(askedFor, pattern[strings.LastIndexByte(pattern, '/')+1:])) {
		if i == 5 {
			break
		}
		if c.typed && strings.Contains(fault, "stands in the text") {
			continue
		}
		assert.Fail(t, fault, path)
	}
	c.found(linksOf(t, path, body)...)
}

// linksOf lists what a page leads to: links, files, and forms that only ask.
func linksOf(t *testing.T, from, page string) (links []string) {
	t.Helper()
	base, err := url.Parse(from)
	require.NoError(t, err)
	root, err := html.Parse(strings.NewReader(page))
	require.NoError(t, err)
	for n := range root.Descendants() {
		for _, name := range []string{"href", "src", "hx-get", "action"} {
			link, has := attribute(n, name)
			if name == "action" {
				link, has = asked(n)
			}
			if !has || link == "" || link[0] == '#' {
				continue
			}
			to, err := base.Parse(link)
			if !assert.NoError(t, err, "%s: %s", from, link) {
				continue
			}
			links = append(links, to.String())
		}
	}
	slices.Sort(links)
	return slices.Compact(links)
}

// asked gives the address that a form which only asks leads to, with what it
// holds when it is shown.
func asked(form *html.Node) (string, bool) {
	if method, _ := attribute(form, "method"); strings.EqualFold(method, "post") || strings.EqualFold(method, "dialog") {
		return "", false
	}
	action, has := attribute(form, "action")
	values := url.Values{}
	chosen := ""
	for n := range form.Descendants() {
		name, _ := attribute(n, "name")
		value, _ := attribute(n, "value")
		_, selected := attribute(n, "selected")
		switch {
		case n.Data == "select" && name != "":
			chosen = name
		case n.Data == "option" && (selected || !values.Has(chosen)):
			values.Set(chosen, value)
		case n.Data == "input" && name != "":
			values.Set(name, value)
		}
	}
	return action + "?" + values.Encode(), has
}
