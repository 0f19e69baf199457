package intake

import (
	"bytes"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"scopewright/domain"
	"scopewright/export/exchange"
	"scopewright/store"
)

const roomList = "Room number,Room name,Area (sq ft),Storey\n" +
	"101,Art <b>room</b>,900,Ground\n" +
	"102,Office,,Ground\n" +
	"201,\"=HYPERLINK(\"\"x\"\")\",300,Upper\n" +
	",nobody,300,Upper\n"

var seenField = regexp.MustCompile(`name="seen" value="([0-9a-f]+)"`)

func seen(t *testing.T, body string) string {
	t.Helper()
	found := seenField.FindStringSubmatch(body)
	require.Len(t, found, 2)
	return found[1]
}

func TestPreview_saysLineByLineWhatHappens(t *testing.T) {
	a := newApp(t)
	before := a.rooms()
	address, body := a.preview("rooms.csv", roomList)
	for _, want := range []string{
		"What this room list would do", "Area (sq ft)", "Add 1 room and change 1", "All 4", "New 1", "Changed 1", "Unchanged 1", "Left out 1", "Not in the file 0",
		"Art &lt;b&gt;room&lt;/b&gt;", "the room has no number", "=HYPERLINK(&#34;x&#34;)",
	} {
		assert.Contains(t, body, want)
	}
	assert.NotContains(t, body, "<b>room")
	assert.Equal(t, before, a.rooms(), "nothing is stored yet")
	only := a.Get(address + "?show=skip").Body.String()
	assert.Contains(t, only, "nobody")
	assert.NotContains(t, only, "HYPERLINK")
}

func TestApply_isOneEditThatCanBeUndone(t *testing.T) {
	a := newApp(t)
	before := a.rooms()
	address, body := a.preview("rooms.csv", roomList)
	got := a.Plain(address+"/apply", "seen", seen(t, body))
	require.Equal(t, http.StatusSeeOther, got.Code, got.Body.String())
	assert.Equal(t, "/projects/p1", got.Header().Get("Location"))
	now := a.rooms()
	require.Len(t, now, 3)
	assert.Equal(t, "Art <b>room</b>", now["101"].Name)
	assert.Equal(t, before["101"].Design, now["101"].Design, "the design stays")
	assert.Equal(t, domain.ID("s2"), now["201"].StoreyID)
	assert.Equal(t, before["102"], now["102"])

	history, err := a.Store.History(t.Context(), "p1", store.HistoryFilter{})
	require.NoError(t, err)
	assert.Equal(t, "imported room list rooms.csv: 1 new, 1 changed", history[0].Said)
	_, err = a.Store.Undo(t.Context(), store.Request{ProjectID: "p1", Scope: "project:p1"})
	require.NoError(t, err)
	assert.Equal(t, before, a.rooms())
	assert.Equal(t, 404, a.Get(address).Code, "what was applied is no longer kept")
}

func TestApply_refusesWhatWasNotShown(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("rooms.csv", roomList)
	_, err := a.Store.Edit(t.Context(), store.Request{ProjectID: "p1", Who: "other"}, func(tx *store.Tx) (string, error) {
		return "added", tx.AddRoom(&domain.Room{ID: "r201", StoreyID: "s2", Number: "201", Name: "Store"})
	})
	require.NoError(t, err)
	got := a.Plain(address+"/apply", "seen", seen(t, body))
	assert.Equal(t, http.StatusConflict, got.Code)
	assert.Contains(t, got.Body.String(), "The project changed while this preview was open")
	assert.Contains(t, got.Body.String(), "name Store -&gt; =HYPERLINK", "now it would change that room")
	assert.Equal(t, "Store", a.rooms()["201"].Name)
	require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, got.Body.String())).Code)
	assert.Len(t, a.rooms(), 3)
}

func TestImportAgain_showsWhatIsMissing(t *testing.T) {
	a := newApp(t)
	_, body := a.preview("rooms.csv", "Number;Name\n101;Classroom\n")
	assert.Contains(t, body, "Not in the file 1")
	assert.Contains(t, body, "they stay as they are")
}

func TestPlaces_forRoomsWithoutAStorey(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("rooms.csv", "Number,Name\n101,Classroom\n301,Attic\n302,Loft\n")
	assert.Contains(t, body, "2 new rooms name no storey")
	require.Equal(t, 303, a.Plain(address+"/read", "storey", "s2").Code)
	body = a.Get(address).Body.String()
	require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, body)).Code)
	now := a.rooms()
	assert.Equal(t, domain.ID("s2"), now["301"].StoreyID)
	assert.Equal(t, domain.ID("s1"), now["101"].StoreyID, "a room that is there stays where it is")
}

func TestWorkbook_anotherWorksheet(t *testing.T) {
	a := newApp(t)
	book := excelize.NewFile()
	require.NoError(t, book.SetSheetRow("Sheet1", "A1", &[]any{"Number", "Name"}))
	require.NoError(t, book.SetSheetRow("Sheet1", "A2", &[]any{"401", "From the first"}))
	_, err := book.NewSheet("Second")
	require.NoError(t, err)
	require.NoError(t, book.SetSheetRow("Second", "A1", &[]any{"Number", "Name"}))
	require.NoError(t, book.SetSheetRow("Second", "A2", &[]any{"501", "From the second"}))
	var file bytes.Buffer
	require.NoError(t, book.Write(&file))
	address, body := a.preview("rooms.xlsx", file.String())
	assert.Contains(t, body, "From the first")
	require.Equal(t, 303, a.Plain(address+"/read", "sheet", "Second").Code)
	assert.Contains(t, a.Get(address).Body.String(), "From the second")
	assert.Equal(t, 422, a.Plain(address+"/read", "sheet", "Third").Code)
	assert.Contains(t, a.Get(address).Body.String(), "From the second", "a refusal changes nothing")
}

func TestLuminaires_keepTheirIDs(t *testing.T) {
	a := newApp(t)
	got := a.send("schedule.csv", "Type,Description,Watts,Volts,Dimming\nA,Recessed 2x4,35,277,0-10V\nZ9,New <i>,12,277,0-10V\n", "luminaires", "")
	require.Equal(t, 303, got.Code, got.Body.String())
	address := got.Header().Get("Location")
	body := a.Get(address).Body.String()
	assert.Contains(t, body, "Add 1 luminaire type and change 1")
	assert.Contains(t, body, "New &lt;i&gt;")
	applied := a.Plain(address+"/apply", "seen", seen(t, body))
	require.Equal(t, 303, applied.Code)
	assert.Equal(t, "/projects/p1/luminaires", applied.Header().Get("Location"))
	p, _, err := a.Store.Project(t.Context(), "p1")
	require.NoError(t, err)
	assert.EqualValues(t, 35, p.Luminaire("a").Watts)
	assert.Equal(t, "Z9", p.Luminaires[len(p.Luminaires)-1].Tag)
	_, err = a.Store.Undo(t.Context(), store.Request{ProjectID: "p1", Scope: "project:p1"})
	require.NoError(t, err)
}

func TestPaste(t *testing.T) {
	a := newApp(t)
	got := a.send("", "", "", "Number\tName\n901\tPasted\n")
	require.Equal(t, 303, got.Code)
	assert.Contains(t, a.Get(got.Header().Get("Location")).Body.String(), "901 Pasted")
	bad := a.send("", "", "rooms", "no headings <b> here\n")
	assert.Equal(t, 422, bad.Code)
	assert.Contains(t, bad.Body.String(), "no headings &lt;b&gt; here", "what was pasted is kept to be mended")
}

func TestSend_bad(t *testing.T) {
	a := newApp(t)
	for _, c := range []struct{ name, content, want string }{
		{"", "", "Choose a file, or paste a block"},
		{"empty.csv", "", "The file is empty"},
		{"blank.csv", "\n\n", "is empty"},
		{"old.xls", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("\x00", 600), ".xls"},
		{"plan.pdf", "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "PDF"},
		{"list.csv", "Color,Shape\nred,round\n", "neither a room list"},
		{"project.json", `{"format":"scopewright-project","version":1,"project":`, ""},
		{"project.json", `{"format":"scopewright-project","version":99,"project":{}}`, "newer"},
	} {
		got := a.send(c.name, c.content, "", "")
		assert.Equal(t, 422, got.Code, c.name)
		assert.Contains(t, got.Body.String(), "The file was not taken.", c.name)
		assert.Contains(t, got.Body.String(), c.want, c.name)
	}
	large := a.send("large.csv", strings.Repeat("x", mostUpload+formAround+1), "", "")
	assert.Equal(t, http.StatusRequestEntityTooLarge, large.Code)
	assert.Contains(t, large.Body.String(), "at most 20 MB")
	assert.Equal(t, 404, a.Get("/projects/nope/import").Code)
	assert.Equal(t, 200, a.Get(imports).Code)
	cut := a.Plain(imports, "what", "rooms")
	assert.GreaterOrEqual(t, cut.Code, 400, "no multipart form")
}

func TestToken_isOfOneProjectAndPasses(t *testing.T) {
	a := newApp(t)
	address, _ := a.preview("rooms.csv", roomList)
	token := address[strings.LastIndexByte(address, '/')+1:]
	assert.Equal(t, 404, a.Get("/projects/p2/import/"+token).Code)
	for _, path := range []string{"/apply", "/read"} {
		assert.Equal(t, 404, a.Plain(imports+"/"+strings.Repeat("0", 32)+path).Code)
	}
	a.Time = a.Time.Add(keepFor + time.Minute)
	gone := a.Get(address)
	assert.Equal(t, 404, gone.Code)
	assert.Contains(t, gone.Body.String(), "Send the file again.")
}

func TestDiscard(t *testing.T) {
	a := newApp(t)
	address, _ := a.preview("rooms.csv", roomList)
	assert.Equal(t, imports, a.Plain(address+"/discard").Header().Get("Location"))
	assert.Equal(t, 404, a.Get(address).Code)
}

func TestShelf_isBounded(t *testing.T) {
	a := newApp(t)
	s := a.screen.shelf
	first := s.put(&parcel{project: "p1", data: make([]byte, 10)})
	for range mostParcels {
		a.Time = a.Time.Add(time.Second)
		s.put(&parcel{project: "p1", data: make([]byte, 10)})
	}
	_, err := s.get("p1", first)
	assert.ErrorIs(t, err, errForgotten, "the oldest went")
	assert.Len(t, s.byKey, mostParcels)
	a.Time = a.Time.Add(time.Second)
	big := s.put(&parcel{project: "p1", data: make([]byte, mostKept+1)})
	assert.Len(t, s.byKey, 1, "a large one is kept alone")
	_, err = s.get("p1", big)
	assert.NoError(t, err)
}

func TestProjectFile_inPlaceOfThisProject(t *testing.T) {
	a := newApp(t)
	scope, err := a.Store.Load(t.Context(), "p1")
	require.NoError(t, err)
	copied, err := scope.Copy()
	require.NoError(t, err)
	copied.Rooms[0].Name = "Renamed <b> in the file"
	var file bytes.Buffer
	require.NoError(t, exchange.Write(&file, copied))
	address, body := a.preview("project.json", file.String())
	assert.Contains(t, body, "1 room and 0 facts of the project would change")
	assert.Contains(t, body, "Renamed &lt;b&gt; in the file")
	assert.Equal(t, 422, a.Plain(address+"/apply", "seen", seen(t, body)).Code, "the box was not ticked")
	assert.Equal(t, http.StatusConflict, a.Plain(address+"/apply", "seen", "old", "sure", "yes").Code)
	assert.NotEqual(t, "Renamed <b> in the file", a.rooms()["101"].Name)
	require.Equal(t, 303, a.Plain(address+"/apply", "seen", seen(t, body), "sure", "yes").Code)
	assert.Equal(t, "Renamed <b> in the file", a.rooms()["101"].Name)
}

func TestProjectFile_ofAnotherProject(t *testing.T) {
	a := newApp(t)
	scope, err := a.Store.Load(t.Context(), "p1")
	require.NoError(t, err)
	copied, err := scope.Copy()
	require.NoError(t, err)
	copied.Project.ID, copied.Project.Name = "p9", "Other house"
	var file bytes.Buffer
	require.NoError(t, exchange.Write(&file, copied))
	address, body := a.preview("project.json", file.String())
	assert.Contains(t, body, "This file holds another project, <strong>Other house</strong>")
	assert.Equal(t, 422, a.Plain(address+"/apply", "seen", "x", "sure", "yes").Code)
	assert.Len(t, a.rooms(), 2)
}

func TestPreview_pagesOfALongFile(t *testing.T) {
	a := newApp(t)
	var list strings.Builder
	list.WriteString("Number,Name,Storey\n")
	for i := range 450 {
		list.WriteString("A" + string(rune('a'+i%26)) + strings.Repeat("x", i/26) + ",Room,Upper\n")
	}
	address, body := a.preview("rooms.csv", list.String())
	assert.Contains(t, body, "1 to 200 of 450")
	last := a.Get(address + "?from=400").Body.String()
	assert.Contains(t, last, "401 to 450 of 450")
	assert.Equal(t, 200, a.Get(address+"?from=99999&show=new").Code)
}

func TestPreview_moreRoomsThanFit(t *testing.T) {
	a := newApp(t)
	var list strings.Builder
	list.WriteString("Number,Name,Storey\n")
	for i := range domain.MaxRooms {
		fmt.Fprintf(&list, "N%d,Room,Upper\n", i)
	}
	_, body := a.preview("rooms.csv", list.String())
	assert.Contains(t, body, "The project would have 20002 rooms; at most 20000 fit.")
	assert.NotContains(t, body, "/apply")
}
