package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/web/webtest"
)

// hostile are texts that somebody may type, paste or send into any field.
var hostile = map[string]string{
	"nothing":         "",
	"space":           " \t\r\n ",
	"script":          `<script>alert(1)</script>`,
	"attribute":       `"><img src=x onerror=alert(1)>'`,
	"template":        `{{.Secret}} ${1+1} <%= 1 %> {%x%}`,
	"formula":         `=HYPERLINK("http://x.example","y")`,
	"command":         `+cmd|' /C calc'!A0`,
	"right to left":   "\u202Egnp.exe\u2069 \u05d0\u05d1",
	"emoji":           "\U0001F469\u200D\U0001F52C \U0001F600",
	"long":            strings.Repeat("x", 10000),
	"long word":       strings.Repeat("\u00e4", 200),
	"zero byte":       "a\x00b",
	"escape":          "a\x1b[31mb",
	"no UTF-8":        "a\xff\xfeb",
	"huge":            "9999999999999999999999999999",
	"tiny":            "-1e-320",
	"exponent":        "1e999",
	"not a number":    "NaN",
	"infinite":        "Inf",
	"hexadecimal":     "0x7fffffffffffffff",
	"path":            "../../etc/passwd",
	"statement":       `'; DROP TABLE rooms; --`,
	"path of a field": "loads/none/watts",
	"row":             "devices/none",
	"list":            `[["facts/name","x"]]`,
	"broken list":     `[["facts/name",1],{}]`,
	"deep":            strings.Repeat("[", 5000),
}

// fieldNames are those that handlers read from forms.
var fieldNames = []string{"all", "answer", "author", "back", "base", "building", "clause", "code", "comment", "count", "date", "duty", "mark", "q", "show", "sign", "source", "who", "withdraw", "words", "worksheet", "do", "edits", "entry", "field", "from", "hash", "item",
	"key", "kind", "luminaire", "name", "note", "number", "part", "pasted", "path", "purpose", "reason", "replace", "role", "room", "rooms", "row", "rule", "seen",
	"sheet", "stamp", "start", "step", "storey", "subject", "sure", "text", "theme", "title", "type", "typical", "units", "use", "value", "verdict", "waiver", "what"}

// seeded is a project whose every text is hostile.
func seeded() *domain.Scope {
	s := webtest.School()
	bad := hostile["attribute"] + hostile["script"]
	s.Project.Name, s.Project.Client, s.Project.Brief = bad, bad, bad
	s.Project.Buildings[0].Name, s.Project.Buildings[0].Storeys[0].Name = bad, hostile["right to left"]
	s.Typicals[0].Name, s.Typicals[0].Title = bad, hostile["template"]
	for i := range s.Rooms {
		s.Rooms[i].Name, s.Rooms[i].Notes = bad, hostile["template"]+bad
	}
	s.Project.CodePack, s.Project.Worksheets = "ws", []domain.CodeWorksheet{{ID: "ws", Seq: 1, Title: bad, Base: "iecc-2021", Note: bad, Amendments: bad, Confirmed: bad}}
	s.Project.Worksheets[0].Put(domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: 15, Unit: bad, Mark: "read", Clause: bad, Source: bad, Note: bad})
	s.Project.Worksheets[0].Put(domain.CodeChange{Kind: domain.DutyRow, Control: "full_off", Space: "classroom_lecture_training", Duty: "R", Mark: "read", Clause: bad, Source: bad, Note: bad})
	d := &s.Rooms[0].Design
	for i := range d.Loads {
		d.Loads[i].Name, d.Loads[i].Circuit = bad, hostile["formula"]
	}
	for i := range d.Devices {
		d.Devices[i].Place = bad
	}
	return s
}

// addresses puts real, foreign and unknown IDs into a route.
func addresses(route string) (list []string) {
	for _, ids := range []map[string]string{
		{"project": "p1", "room": "r2", "typical": "t1", "worksheet": "ws", "token": "none", "number": "1", "file": "scope.pdf"},
		{"project": "demo-harbor-street", "room": "r2", "typical": "t1", "worksheet": "none", "token": "none", "number": "999999999999999999999", "file": "set.exe"},
		{"project": "nowhere", "room": "%00", "typical": "..%2f..", "worksheet": "%00", "token": "%ff", "number": "-1", "file": "%2e%2e%2fgo.mod"},
	} {
		path := route
		for name, id := range ids {
			path = strings.ReplaceAll(path, "{"+name+"}", id)
		}
		list = append(list, path)
	}
	return list
}

// Whatever is sent to whatever address gets a refusal that says so, never a
// failure inside, and leaves pages that are sound.
func TestGarbageIsRefusedEverywhere(t *testing.T) {
	w := newWhole(t, seeded(), demoScope())
	posts := w.patterns(http.MethodPost)
	require.Greater(t, len(posts), 50)
	for _, route := range posts {
		for i, path := range addresses(route) {
			w.garbage(path, i > 0)
		}
	}
	assert.Empty(t, w.log.String())
	w.soundAfterwards()
}

// few are the texts sent to addresses that lead nowhere.
var few = []string{"nothing", "script", "zero byte", "broken list"}

func (w *whole) garbage(path string, nowhere bool) {
	const form = "application/x-www-form-urlencoded"
	for name, text := range hostile {
		if nowhere && !slices.Contains(few, name) {
			continue
		}
		values := url.Values{}
		for _, field := range fieldNames {
			values.Set(field, text)
		}
		w.refused(path, name, form, values.Encode(), "HX-Request", "true", "X-Base-Version", text)
		values.Set("edits", "")
		values.Del("path") // now the list of cells is read
		if slices.Contains(few, name) || name == "long" || name == "list" {
			w.refused(path, name+" without script", form, values.Encode())
		}
	}
	w.refused(path, "broken form", form, "path=%zz&text=%")
	w.refused(path, "many fields", form, strings.Repeat("a&", 20000))
	w.refused(path, "JSON", "application/json", `{"path":"facts/name"}`)
	w.refused(path, "no type", "", "path=facts/name")
	w.refused(path, "nonsense type", ";;;", "x")
	w.refused(path, "cut off upload", "multipart/form-data; boundary=x", "--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a.csv\"\r\n\r\nNum")
	w.refused(path, "upload without boundary", "multipart/form-data", "--x")
}

// refused sends something and holds that the program stays in charge.
func (w *whole) refused(path, name, kind, body string, headers ...string) {
	w.t.Helper()
	for i := 1; i < len(headers); i += 2 {
		headers[i] = strings.ToValidUTF8(strings.Map(printable, headers[i]), "")
	}
	answer := w.send(http.MethodPost, path, kind, body, headers...)
	if answer.Code >= 500 || answer.Code < 200 {
		assert.Fail(w.t, "the program failed", "%s (%s): %d %.200s", path, name, answer.Code, answer.Body)
	}
	if trigger := answer.Header().Get("HX-Trigger"); trigger != "" {
		assert.True(w.t, json.Valid([]byte(trigger)), "%s (%s): %s", path, name, trigger)
	}
	if !utf8.Valid(answer.Body.Bytes()) {
		assert.Fail(w.t, "the answer is not UTF-8", "%s (%s)", path, name)
	}
}

// printable keeps what a client can put into a header at all.
func printable(r rune) rune {
	if r < ' ' || r == 0x7f {
		return -1
	}
	return r
}

// soundAfterwards reads every page again, with what garbage found its way into
// names.
func (w *whole) soundAfterwards() {
	c := &crawl{w: w, seen: map[string]bool{}, visits: map[string]int{}, typed: true}
	c.found("/", "/projects/p1")
	for len(c.queue) > 0 {
		path := c.queue[0]
		c.queue = c.queue[1:]
		c.visit(path)
	}
	assert.Empty(w.t, w.log.String())
}

// Every cell of a page takes any text or refuses it with words, and what it
// took stands there again.
func TestHostileTextInEveryCell(t *testing.T) {
	school := webtest.School()
	sheet := domain.CodeWorksheet{ID: "ws", Seq: 1, Title: "Ours", Base: "iecc-2021"}
	sheet.Put(domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: 15, Unit: "min", Mark: "read"})
	sheet.Put(domain.CodeChange{Kind: domain.DutyRow, Control: "full_off", Space: "corridor", Duty: "R", Mark: "read"})
	school.Project.Worksheets = []domain.CodeWorksheet{sheet}
	w := newWhole(t, school)
	for _, page := range []string{"/projects/p1", "/projects/p1/rooms/r1", "/projects/p1/rooms/r2", "/projects/p1/rooms/r3", "/projects/p1/typicals/t1?edit=1", "/projects/p1/luminaires", "/projects/p1/circuits", "/projects/p1/energy", "/projects/p1/code", "/projects/p1/code/rooms/r1", "/projects/p1/code/worksheets", "/projects/p1/code/worksheets/ws?only=changed", "/projects/p1/code/worksheets/ws?part=duties&control=full_off&only=changed", "/projects/p1/equipment", "/projects/p1/settings", "/projects/p1/checklist"} {
		body := w.send(http.MethodGet, page, "", "").Body.String()
		paths := valuesOf(t, body, "data-path")
		set := valuesOf(t, body, "data-edits")
		require.NotEmpty(t, set, page)
		for i, path := range paths {
			for name, text := range hostile {
				if i > 20 && name != "script" && name != "exponent" {
					continue // rows are alike
				}
				values := url.Values{"path": {path}, "text": {text}}
				w.refused(set[0], fmt.Sprintf("%s into %s", name, path), "application/x-www-form-urlencoded", values.Encode(), "HX-Request", "true")
			}
		}
	}
	w.soundAfterwards()
}

// Odd questions get an answer, whatever stands in the address.
func TestOddAddressesAreAnswered(t *testing.T) {
	w := newWhole(t, seeded(), demoScope())
	for _, route := range w.patterns(http.MethodGet) {
		for _, path := range addresses(route) {
			for name, text := range hostile {
				query := url.Values{}
				for _, field := range []string{"have", "made", "open", "v", "what", "from", "to", "paper", "q", "revision", "rooms", "room", "show", "state", "storey", "table", "edit", "sort", "rule", "severity", "typical", "use", "review", "page"} {
					query.Set(field, text)
				}
				if strings.HasSuffix(path, ".pdf") && name != "huge" && name != "script" {
					continue
				}
				answer := w.send(http.MethodGet, path+"?"+query.Encode(), "", "")
				assert.Less(t, answer.Code, 500, "%s (%s): %.200s", path, name, answer.Body)
				assert.True(t, strings.HasSuffix(path, ".pdf") || utf8.Valid(answer.Body.Bytes()), "%s (%s)", path, name)
			}
		}
		for _, method := range []string{http.MethodPut, http.MethodDelete, http.MethodPatch, "BREW"} {
			answer := w.send(method, addresses(route)[0], "", "")
			assert.Contains(t, []int{http.StatusMethodNotAllowed, http.StatusNotFound, http.StatusForbidden}, answer.Code, "%s %s", method, route)
		}
	}
	assert.Empty(t, w.log.String())
}
