package plan

import (
	"encoding/json"
	"fmt"
	"html"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/web/webtest"
)

// follow carries out changes of a list as the page's script does.
func follow(list []entry, puts []placed, gone []string) []entry {
	list = slices.DeleteFunc(slices.Clone(list), func(e entry) bool { return slices.Contains(gone, e.key) })
	find := func(key string) int { return slices.IndexFunc(list, func(e entry) bool { return e.key == key }) }
	for _, p := range puts {
		at := find(p.key)
		if !p.moves {
			list[at] = p.entry
			continue
		}
		if at >= 0 {
			list = slices.Delete(list, at, at+1)
		}
		list = slices.Insert(list, find(p.after)+1, p.entry)
	}
	return list
}

func TestDiffer_leadsFromOneListToTheOther(t *testing.T) {
	keys := []string{"a", "b", "c", "d", "e", "f", "g", "h"}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) []*group {
			order := rapid.Permutation(keys).Draw(t, name)
			var out []*group
			for _, k := range order[:rapid.IntRange(0, len(order)).Draw(t, name+" length")] {
				out = append(out, &group{{k, rapid.SampledFrom([]string{"1", "2"}).Draw(t, name+" text")}})
			}
			return out
		}
		from, to := draw("from"), draw("to")
		if n := min(len(from), len(to)); n > 0 { // share what lists begin with, where no key then stands twice
			if k := rapid.IntRange(0, n).Draw(t, "shared"); !slices.ContainsFunc(from[k:], func(g *group) bool { return slices.Contains(to[:k], g) }) {
				head := from[:k]
				rest := slices.DeleteFunc(slices.Clone(to), func(g *group) bool {
					return slices.ContainsFunc(head, func(h *group) bool { return (*h)[0].key == (*g)[0].key })
				})
				to = append(slices.Clone(head), rest...)
			}
		}
		was, is, last := apart(from, to)
		puts, gone := differ(was, is, last)
		assert.Equal(t, append([]entry{}, flat(to)...), append([]entry{}, follow(flat(from), puts, gone)...))
	})
}

// newsOf reads the news out of an answer.
func newsOf(t *testing.T, body string) news {
	t.Helper()
	_, rest, found := strings.Cut(body, `<div id="news" hidden>`)
	require.True(t, found, body)
	raw, _, _ := strings.Cut(rest, "</div>")
	var out news
	require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(raw)), &out), raw)
	return out
}

func haveOf(t *testing.T, body string) string {
	t.Helper()
	_, rest, found := strings.Cut(body, `data-have="`)
	require.True(t, found)
	have, _, _ := strings.Cut(rest, `"`)
	return have
}

func TestAnswer_tellsOnlyWhatIsNew(t *testing.T) {
	a := newApp(t)
	have := haveOf(t, a.Get(here).Body.String())
	thing, d := device(a, "r1", 0)
	code, body := gesture(a, map[string]any{"do": "move", "things": []string{thing}, "by": []float64{1, 0.5}}, "X-Have", have)
	require.Equal(t, 200, code)
	assert.NotContains(t, body, `id="board"`, "the page around is as it was")
	n := newsOf(t, body)
	assert.Equal(t, have, n.From)
	require.NotEqual(t, have, n.Now)
	devices := n.Sections["svg:devices"].Put
	require.Len(t, devices, 1)
	assert.Equal(t, "device-r1-"+string(d.ID), devices[0].Key)
	assert.Nil(t, devices[0].After, "it is replaced where it stands")
	assert.NotContains(t, n.Sections, "svg:rooms")
	require.Len(t, n.Sections["json:things"].Put, 1)
	assert.Contains(t, string(n.Sections["json:things"].Put[0].Value), `"at":[3,2.5]`)
	require.Len(t, n.Sections["base"].Put, 1)
	assert.Equal(t, "room:r1", n.Sections["base"].Put[0].Key)

	fresh := func(have string) (int, string) {
		w := a.Ask(http.MethodGet, here+"/fresh", nil, "X-Have", have)
		return w.Code, w.Body.String()
	}
	code, body = fresh(have)
	require.Equal(t, 200, code, "another window still shows the state before")
	assert.Equal(t, n, newsOf(t, body))
	code, _ = fresh(n.Now)
	assert.Equal(t, http.StatusNoContent, code)
	_, body = fresh("of another run")
	whole := newsOf(t, body)
	assert.Empty(t, whole.From)
	assert.Contains(t, string(whole.Sections["svg:devices"].All), "device-r1-"+string(d.ID))
	assert.Contains(t, body, `id="board"`)
}

func TestAnswer_bringsTheNewRoomAndThePageAroundIt(t *testing.T) {
	a := newApp(t)
	empty := "/projects/p1/storeys/s2/plan"
	page := a.Get(empty).Body.String()
	require.Contains(t, page, "Nothing is drawn on this storey")
	raw := `{"do":"draw room","number":"201","name":"Attic","outline":[[0,0],[30,0],[30,20],[0,20]]}`
	w := a.Ask(http.MethodPost, empty+"/gesture", webtest.Form("gesture", raw), "X-Have", haveOf(t, page))
	require.Equal(t, 200, w.Code, w.Body.String())
	n := newsOf(t, w.Body.String())
	assert.Contains(t, w.Body.String(), `id="board"`)
	assert.NotContains(t, w.Body.String(), "Nothing is drawn on this storey")
	assert.NotEmpty(t, n.Sections["frame"].All, "the room does not fit on the empty sheet")
	require.Len(t, n.Sections["svg:rooms"].Put, 1)
	assert.Equal(t, "", *n.Sections["svg:rooms"].Put[0].After)
}

func TestFound_listsAndMarksWhatTheRulesSayOfTheStorey(t *testing.T) {
	a := newApp(t)
	raw := `{"do":"draw room","number":"X1","name":"Too wide","outline":[[6,0],[12,0],[12,10],[6,10]]}`
	require.Equal(t, 200, a.Ask(http.MethodPost, here+"/gesture", webtest.Form("gesture", raw)).Code)
	body := a.Get(here).Body.String()
	assert.Contains(t, body, `id="finding-storey-plan-overlap-`)
	_, list, _ := strings.Cut(body, `id="found-list"`)
	list, _, _ = strings.Cut(list, "</ul>")
	assert.Contains(t, list, `data-look="7.000 5.000"`, "the middle of the 2 by 10 m that both share")
	assert.Contains(t, html.UnescapeString(list), "overlap by 215 sq ft") // 20 m2 / 0.09290304
}

func TestKept_forgetsOldStatesAndStoreys(t *testing.T) {
	k := newKept()
	at := storeyKey{"p", "s0"}
	first := k.keep(at, &shown{shell: "0"})
	assert.Same(t, first, k.keep(at, &shown{shell: "0"}), "what shows the same is the same state")
	for i := range mostStates {
		k.keep(at, &shown{shell: strings.Repeat("1", i+1)})
	}
	assert.Nil(t, k.find(at, first.name))
	for i := range mostStoreys {
		k.keep(storeyKey{"p", domain.ID(fmt.Sprint("t", i))}, &shown{})
	}
	assert.Nil(t, k.newest(at))
	assert.LessOrEqual(t, len(k.states), mostStoreys)
}
