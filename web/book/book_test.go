package book

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/web/webtest"
)

const path = "/projects/p1/equipment"

// send uploads a book from the open page.
func (s *screen) send(content string) *httptest.ResponseRecorder {
	s.T.Helper()
	body, kind := s.FileForm("book.json", content)
	return s.Send(http.MethodPost, path+"/file", body, kind, "HX-Request", "true")
}

func TestBook_showsKindsUseAndLimits(t *testing.T) {
	scope := webtest.School()
	scope.Project.Book[0].Name = "<i>Controller</i>"
	scope.Project.Limits[0].Value = 30
	body := open(t, scope).Get(path).Body.String()
	for _, k := range equipment.Kinds() {
		assert.Contains(t, body, k.Traits().Name)
	}
	assert.Contains(t, body, "&lt;i&gt;Controller&lt;/i&gt;")
	assert.Contains(t, body, "2 in 2 rooms")
	assert.Contains(t, body, `data-path="limits/devices-per-room/value"`)
	assert.Contains(t, body, "common practice, no published source", "each limit shows its source")
	assert.Contains(t, body, "Back to the generic value: Devices in one room")
	assert.Equal(t, 1, strings.Count(body, ">Back to generic<"), "only where it differs")
}

// Radio and sight stand in panels of their own; a type without a radio has no
// line in the first, one that senses nobody none in the second.
func TestBook_radioAndSight(t *testing.T) {
	s := open(t, webtest.School())
	body := s.Get(path).Body.String()
	panel := func(id string) string {
		_, rest, found := strings.Cut(body, `id="kind-`+id+`"`)
		require.True(t, found, id)
		text, _, _ := strings.Cut(rest, "</section>")
		return text
	}
	assert.Equal(t, 1, strings.Count(body, `data-path="book/ps-ceiling/sensitivity_dbm"`), "each field stands once")
	assert.Contains(t, panel("radio"), `data-path="book/ps-ceiling/sensitivity_dbm"`)
	assert.NotContains(t, panel("radio"), "book/ps-wired/")
	assert.Contains(t, panel("sight"), `data-path="book/ps-wired/major_m"`)
	assert.NotContains(t, panel("sight"), "book/gw-room/")

	answer := s.Post(path+"/set", "edits", `[["book/ps-ceiling/sensitivity_dbm","-98 dBm"],["book/ps-ceiling/senses","dual"],["book/ps-ceiling/major_m","12 ft"]]`)
	require.Equal(t, http.StatusOK, answer.Code, answer.Body)
	p, _, err := s.Store.Project(t.Context(), "p1")
	require.NoError(t, err)
	typ := p.Book.Find("ps-ceiling")
	assert.InDelta(t, -98, typ.Sensitivity, 0)
	assert.Equal(t, equipment.Dual, typ.Senses)
	assert.InDelta(t, 3.6576, float64(typ.MajorRadius), 1e-9)
	for cell, want := range map[string]string{"sensitivity_dbm\",\"-201": "-200 to 100 dBm", "senses\",\"sonar": "sonar", "angle_deg\",\"361": "0 to 360", "tx_dbm\",\"loud": "not a number"} {
		answer := s.Post(path+"/set", "edits", `[["book/ps-ceiling/`+strings.ReplaceAll(cell, `\"`, `"`)+`"]]`)
		assert.Contains(t, answer.Body.String(), want, cell)
	}
}

func TestBook_columnsFitTheKind(t *testing.T) {
	env := domain.Env{Project: &domain.Project{Units: "SI"}}
	names := func(k equipment.Kind, types ...*equipment.Type) string {
		var out []string
		for _, f := range fieldsOf(env, k, types) {
			out = append(out, f.Name)
		}
		return strings.Join(out, " ")
	}
	assert.NotContains(t, names(equipment.Gateway), "outputs")
	assert.Contains(t, names(equipment.Gateway, &equipment.Type{Outputs: 2}), "outputs", "what a type says is never hidden")
	assert.Contains(t, names(equipment.Controller), "output_a")
	assert.Contains(t, names(equipment.Station, &equipment.Type{Supply: equipment.Battery}), "life_years")
}

func TestSet_limitJudgesRooms(t *testing.T) {
	s := open(t, webtest.School())
	answer := s.Post(path+"/set", "path", "limits/devices-per-room/value", "text", "4")
	require.Equal(t, http.StatusOK, answer.Code)
	assert.Contains(t, answer.Body.String(), "Findings changed in 2 rooms: 2 more errors.")
	back := s.Post(path+"/generic", "row", "limits/devices-per-room")
	require.Equal(t, http.StatusOK, back.Code)
	assert.Contains(t, back.Body.String(), "Findings changed in 2 rooms: 2 fewer errors.")
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.InDelta(t, 4, s.Project("p1").Limits.Value(domain.DevicesPerRoom), 0)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/generic", "row", "limits/luck").Code)
}

func TestSet_limitThatTheProjectDoesNotState(t *testing.T) {
	scope := webtest.School()
	scope.Project.Limits = nil
	s := open(t, scope)
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "limits/rooms-per-server/source", "text", "Data sheet, 2026").Code)
	l := s.Project("p1").Limits.Find(domain.RoomsPerServer)
	assert.Equal(t, "Data sheet, 2026", l.Source)
	assert.InDelta(t, 200, l.Value, 0)
}

func TestSet_bookCell(t *testing.T) {
	s := open(t, webtest.School())
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "edits", `[["book/lc-4/output_a","10 A"],["book/lc-4/source","Data sheet"]]`).Code)
	assert.InDelta(t, 10, float64(s.Project("p1").Book.Find("lc-4").OutputAmps), 0)
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.Equal(t, webtest.School().Project.Book, s.Project("p1").Book)
}

func TestSet_refuses(t *testing.T) {
	s := open(t, webtest.School())
	for cell, text := range map[string]string{
		"book/lc-4/output_a": "much", "book/lc-4/name": "", "book/lc-4/dims": "wishful", "book/lc-4/outputs": "0", "book/st-4-mains/outputs": "2",
		"book/none/name": "x", "book/lc-4/wings": "2", "limits/devices-per-room/value": "-1", "limits/devices-per-room/source": "",
		"limits/luck/value": "7", "book/lc-2/name": s.Project("p1").Book.Find("lc-4").Name,
	} {
		answer := s.Post(path+"/set", "path", cell, "text", text)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, cell)
		assert.Contains(t, answer.Header().Get("HX-Trigger"), cell)
	}
	battery := s.Post(path+"/set", "path", "book/lc-4/supply", "text", "battery")
	assert.Equal(t, http.StatusUnprocessableEntity, battery.Code)
	assert.Contains(t, battery.Body.String(), "only a mains-powered type can route")
	assert.Equal(t, http.StatusNotFound, s.Get("/projects/none/equipment").Code)
	assert.Equal(t, webtest.School().Project.Book, s.Project("p1").Book)
}

func TestSet_staleShowsBothValues(t *testing.T) {
	s := open(t, webtest.School())
	base := s.Base("p1")
	require.Equal(t, http.StatusOK, s.Post(path+"/set", "path", "limits/devices-per-room/value", "text", "28").Code)
	stale := s.Ask(http.MethodPost, path+"/set", url.Values{"path": {"limits/devices-per-room/value"}, "text": {"30"}}, "X-Base-Version", base)
	require.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "you typed</span>30")
	assert.Contains(t, stale.Body.String(), "now</span>28")
}

func TestAdd_copiesAType(t *testing.T) {
	s := open(t, webtest.School())
	n := len(s.Project("p1").Book)
	require.Equal(t, http.StatusOK, s.Post(path+"/add", "from", "lc-4", "name", "Our controller").Code)
	require.Equal(t, http.StatusOK, s.Post(path+"/duplicate", "row", "book/lc-4").Code)
	b := s.Project("p1").Book
	require.Len(t, b, n+2)
	ours, again := b.Find("lc-4-v2"), b.Find("lc-4-v3")
	require.NotNil(t, ours)
	require.NotNil(t, again)
	assert.Equal(t, "Our controller", ours.Name)
	assert.Equal(t, 4, ours.Outputs)
	assert.Empty(t, ours.Source, "whoever copies a type must say where its ratings come from")
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/add", "from", "lc-4", "name", "our CONTROLLER").Code)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/add", "from", "nothing").Code)
}

func TestAdd_builtInTypeComesBackUnderItsOwnID(t *testing.T) {
	s := open(t, webtest.School())
	require.Equal(t, http.StatusOK, s.Post(path+"/remove", "row", "book/lc-phase").Code)
	require.Nil(t, s.Project("p1").Book.Find("lc-phase"))
	assert.Contains(t, s.Get(path).Body.String(), "Built-in types not in the book")
	require.Equal(t, http.StatusOK, s.Post(path+"/add", "from", "lc-phase").Code)
	assert.NotNil(t, s.Project("p1").Book.Find("lc-phase"))
}

func TestRemove_refusedWhileUsed(t *testing.T) {
	s := open(t, webtest.School())
	refused := s.Post(path+"/remove", "row", "book/lc-4")
	require.Equal(t, http.StatusUnprocessableEntity, refused.Code)
	assert.Contains(t, refused.Body.String(), "rooms 101, 103 and in typical CR-1")
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/remove", "row", "book/none").Code)
}

func TestFile_savedAndTakenInElsewhere(t *testing.T) {
	from := webtest.School()
	from.Project.Book[0].Name, from.Project.Limits[0].Value = "Größer & <b>", 20
	from.Project.Book = append(from.Project.Book, equipment.Type{ID: "extra", Seq: 99, Name: "Extra", Kind: equipment.Gateway, Supply: equipment.Mains, Source: "data sheet"})
	saved := open(t, from).Get(path + "/file")
	require.Equal(t, http.StatusOK, saved.Code)
	assert.Contains(t, saved.Header().Get("Content-Disposition"), "attachment")

	s := open(t, webtest.School())
	answer := s.send(saved.Body.String())
	require.Equal(t, http.StatusOK, answer.Code, answer.Body.String())
	assert.Contains(t, answer.Body.String(), "1 type added, 1 changed")
	assert.Contains(t, answer.Body.String(), "1 limit changed")
	assert.Equal(t, "Größer & <b>", s.Project("p1").Book[0].Name)
	assert.InDelta(t, 20, s.Project("p1").Limits.Value(domain.DevicesPerRoom), 0)
	assert.Equal(t, places.ReplaceAllString(saved.Body.String(), ""), places.ReplaceAllString(s.Get(path+"/file").Body.String(), ""), "the same file comes out again, but for the places in the list")
	require.Equal(t, http.StatusOK, s.Post(path+"/undo").Code)
	assert.Equal(t, webtest.School().Project.Book, s.Project("p1").Book)
}

var places = regexp.MustCompile(`"seq": \d+,`)

func TestFile_refused(t *testing.T) {
	s := open(t, webtest.School())
	good := `{"format":"scopewright-equipment","version":1,"book":%s,"limits":%s}`
	for content, want := range map[string]string{
		"":                                 "the file is empty",
		"  \n":                             "the file is empty",
		"\x89PNG\r\n":                      "no equipment file",
		`[1,2]`:                            "no equipment file",
		`{"format":"other"}`:               "no equipment file",
		fmt.Sprintf(good, "[]", "[]")[:50]: "no equipment file",
		`{"format":"scopewright-equipment","version":2}`:                                                   "newer version",
		`{"format":"scopewright-equipment","version":1,"surprise":1}`:                                      "surprise",
		fmt.Sprintf(good, `"x"`, "[]"):                                                                     "cannot be read",
		fmt.Sprintf(good, `[{"id":"a b","seq":1,"name":"x","kind":"gateway","supply":"mains"}]`, "[]"):     "/book/0",
		fmt.Sprintf(good, `[{"id":"a","seq":1,"name":"x","kind":"robot","supply":"mains"}]`, "[]"):         "robot",
		fmt.Sprintf(good, `[{"id":"a","seq":1,"name":"x\u0007","kind":"gateway","supply":"mains"}]`, "[]"): "control character",
		fmt.Sprintf(good, "[]", `[{"id":"luck","title":"","value":1,"source":"s"}]`):                       "luck",
		fmt.Sprintf(good, "[]", `[{"id":"devices-per-room","title":"","value":-1,"source":"s"}]`):          "out of range",
	} {
		answer := s.send(content)
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, content)
		assert.Contains(t, answer.Body.String(), want, content)
	}
	twice := `{"id":"lc-4","seq":1,"name":"x","kind":"gateway","supply":"mains"}`
	assert.Equal(t, http.StatusUnprocessableEntity, s.send(fmt.Sprintf(good, "["+twice+","+twice+"]", "[]")).Code, "an ID twice")
	assert.Equal(t, http.StatusUnprocessableEntity, s.send(strings.Repeat(" ", mostFile+1)).Code)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/file").Code, "no file")
	assert.Equal(t, webtest.School().Project.Book, s.Project("p1").Book)
}

func FuzzReadFile(f *testing.F) {
	var out bytes.Buffer
	p := domain.Project{Book: equipment.Generic()[:2]}
	require.NoError(f, writeFile(&out, &p))
	f.Add(out.Bytes())
	f.Add([]byte(`{"format":"scopewright-equipment","version":1}`))
	f.Add([]byte("\xef\xbb\xbf{}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		read, err := readFile(data)
		if err != nil {
			return
		}
		p := domain.Project{Book: equipment.Generic(), Limits: domain.GenericLimits()}
		if _, err := read.takeIn(&p); err != nil {
			return
		}
		for _, typ := range p.Book {
			require.NoError(t, typ.Validate())
		}
	})
}
