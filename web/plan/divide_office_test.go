package plan

import (
	"fmt"
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/validate"
	"scopewright/validate/rule"
	"scopewright/web/webtest"
)

const office = "/projects/demo-harbor-street/storeys/level-3/plan"

func newOffice(t testing.TB) *webtest.App {
	return webtest.Open(t, func(a *webtest.App, r chi.Router) {
		judge := func(p *domain.Project, r *domain.Resolved) []rule.Finding { return validate.Room(p, r, a.Time) }
		Screen{Store: a.Store, Log: a.Log, Now: a.Now, Judge: judge}.Routes(r)
	}, demo.Scope())
}

func onLevelThree(a *webtest.App) map[string]*domain.Resolved {
	a.T.Helper()
	states, err := a.Store.StoreyRooms(a.T.Context(), "demo-harbor-street", "level-3")
	require.NoError(a.T, err)
	out := map[string]*domain.Resolved{}
	for _, s := range states {
		out[s.Resolved.Number] = s.Resolved
	}
	return out
}

var (
	anyRow   = regexp.MustCompile(`(?s)<tr[^>]*>.*?</tr>`)
	anyBadge = regexp.MustCompile(`class="badge [a-z]+">([^<]+)<`)
	anyWay   = regexp.MustCompile(`href="([^"]*way=[a-z0-9]+)"`)
)

// rowOf gives the row of a table that has a text.
func rowOf(t testing.TB, body, text string) string {
	t.Helper()
	for _, row := range anyRow.FindAllString(body, -1) {
		if strings.Contains(row, text) {
			return row
		}
	}
	require.Fail(t, "no row", text)
	return ""
}

func badges(row string) (out []string) {
	for _, m := range anyBadge.FindAllStringSubmatch(row, -1) {
		out = append(out, m[1])
	}
	return out
}

// counted writes a verdict as its badges do.
func counted(v verdict) (out []string) {
	for _, k := range []struct {
		n    int
		noun string
	}{{v.errors, "error"}, {v.warnings, "warning"}, {v.infos, "note"}} {
		switch {
		case k.n == 1:
			out = append(out, "1 "+k.noun)
		case k.n > 1:
			out = append(out, fmt.Sprint(k.n, " ", k.noun, "s"))
		}
	}
	if len(out) == 0 {
		out = append(out, "clear")
	}
	return out
}

// The open office has 40 devices where 32 may be. Whatever way is taken, the rules
// find of the stored rooms what the page said they would, and the best one leaves
// no area with an error.
func TestDivide_openOfficeComesToWhatIsSaid(t *testing.T) {
	a := newOffice(t)
	before := onLevelThree(a)["301"]
	now := verdictOf(validate.Room(a.Project("demo-harbor-street"), before, a.Time))
	raw := asJSON(t, before.Room)
	page := a.Get(office + "/divide?room=room-301").Body.String()
	assert.Equal(t, counted(now), badges(rowOf(t, page, "As it is")))
	links := []string{office + "/divide?room=room-301"}
	for _, m := range anyWay.FindAllStringSubmatch(page, -1) {
		links = append(links, html.UnescapeString(m[1]))
	}
	require.Len(t, links, waysShown, "the one that is shown and two more")
	last := verdict{}
	for i, link := range links {
		v := appliedAsSaid(t, a, link)
		if i == 0 {
			assert.Zero(t, v.errors, "less than the %d of the whole room", now.errors)
			assert.Positive(t, now.errors)
		}
		worse := v.errors > last.errors || v.errors == last.errors && v.warnings >= last.warnings
		assert.True(t, worse, "%s: the best come first", link)
		last = v
		require.Equal(t, 200, a.Post(office+"/undo").Code)
		require.Equal(t, raw, asJSON(t, onLevelThree(a)["301"].Room), "back to the same bytes")
	}
}

// appliedAsSaid takes a way and holds the rooms that come of it to its page.
func appliedAsSaid(t *testing.T, a *webtest.App, link string) verdict {
	page := a.Get(link).Body.String()
	said := badges(rowOf(t, page, "shown below"))
	var form []string
	_, rest, found := strings.Cut(page, `id="divide-form"`)
	require.True(t, found)
	for _, m := range hiddenField.FindAllStringSubmatch(rest, -1) {
		form = append(form, m[1], m[2])
	}
	w := a.Plain(office+"/divide", append(form, "number", "")...)
	require.Equal(t, http.StatusSeeOther, w.Code, w.Body.String())
	rooms := onLevelThree(a)
	require.Contains(t, rooms, "301A")
	var lists [][]rule.Finding
	messages := ""
	for _, r := range []*domain.Resolved{rooms["301"], rooms["301A"]} {
		found := validate.Room(a.Project("demo-harbor-street"), r, a.Time)
		lists = append(lists, found)
		for _, f := range found {
			messages += f.Message + "\n"
		}
	}
	v := verdictOf(lists...)
	assert.Equal(t, counted(v), said)
	assert.Equal(t, counted(verdictOf(lists[0])), badges(rowOf(t, rest, "<th scope=\"row\">301</th>")))
	assert.Equal(t, counted(verdictOf(lists[1])), badges(rowOf(t, rest, `value="301A"`)))
	_, then, _ := strings.Cut(page, "Then: rooms 301 and 301A")
	named := regexp.MustCompile(`</strong><p>([^<]+)</p>`).FindAllStringSubmatch(then, -1)
	assert.NotEmpty(t, named)
	for _, m := range named {
		assert.Contains(t, messages, html.UnescapeString(m[1]))
	}
	return v
}

func BenchmarkDivide_openOffice(b *testing.B) {
	a := newOffice(b)
	for b.Loop() {
		require.Equal(b, 200, a.Get(office+"/divide?room=room-301").Code)
	}
}
