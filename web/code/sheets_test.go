package code

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/energycode"
)

func TestSheets_addCopyRemove(t *testing.T) {
	s := open(t, school("iecc-2021"))
	assert.Contains(t, s.Get(path+"/worksheets").Body.String(), "There is none yet")
	id := s.sheet("Harbor amendments", "iecc-2021")
	blank := s.sheet("From nothing", "")
	require.Equal(t, http.StatusOK, s.Post(path+"/worksheets/"+string(id)+"/set", "path", "figure/full_off.delay/value", "text", "15").Code)
	twin := s.sheet("Harbor, second reading", string(id))
	p := s.Project("p1")
	require.Len(t, p.Worksheets, 3)
	assert.Equal(t, domain.CodePack(""), p.Worksheet(blank).Base)
	assert.Equal(t, p.Worksheet(id).Changes, p.Worksheet(twin).Changes)
	for _, form := range [][]string{{"title", "harbor AMENDMENTS", "from", "iecc-2021"}, {"title", " ", "from", "iecc-2021"}, {"title", "X", "from", "iecc-1066"}, {"title", "X", "from", "washington-2021"}} {
		assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/worksheets/add", form...).Code, form)
	}
	require.Equal(t, http.StatusOK, s.Post(path+"/choose", "code", string(id)).Code)
	body := s.Get(path).Body.String()
	assert.Contains(t, body, "Harbor amendments (IECC 2021)")
	assert.Contains(t, body, "unconfirmed")
	removed := s.Post(path+"/worksheets/remove", "worksheet", string(id))
	require.Equal(t, http.StatusOK, removed.Code)
	assert.Contains(t, removed.Body.String(), "no code is chosen now")
	assert.Empty(t, s.Project("p1").CodePack)
	require.Equal(t, http.StatusOK, s.Post(path+"/worksheets/undo").Code)
	assert.Equal(t, domain.CodePack(id), s.Project("p1").CodePack, "undo brings both back")
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/worksheets/remove", "worksheet", "none").Code)
	assert.Equal(t, http.StatusNotFound, s.Get(path+"/worksheets/none").Code)
	assert.Equal(t, http.StatusNotFound, s.Get(path+"/worksheets/none/file").Code)
}

func TestSheets_areBounded(t *testing.T) {
	scope := school("")
	for i := range domain.MaxWorksheets - 1 {
		scope.Project.Worksheets = append(scope.Project.Worksheets, domain.CodeWorksheet{ID: domain.ID(fmt.Sprint("w", i)), Seq: i, Title: fmt.Sprint("Sheet ", i)})
	}
	s := open(t, scope)
	s.sheet("The last", "")
	assert.Contains(t, s.Get(path+"/worksheets").Body.String(), "as many worksheets as fit")
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(path+"/worksheets/add", "title", "One more", "from", "").Code)
}

func TestSheet_rows(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	at := path + "/worksheets/" + string(s.sheet("Ours", "ashrae-90.1-2019"))
	set := func(cell, text string) *domain.CodeWorksheet {
		answer := s.Post(at+"/set", "path", cell, "text", text)
		require.Equal(t, http.StatusOK, answer.Code, "%s: %s", cell, answer.Body)
		return &s.Project("p1").Worksheets[0]
	}
	w := set("figure/full_off.delay/value", "15")
	require.Len(t, w.Changes, 1)
	assert.Equal(t, domain.CodeChange{ID: "figure:full-off:delay", Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: 15, Unit: "min", Clause: w.Changes[0].Clause, Mark: "memory"}, w.Changes[0],
		"a changed figure was not seen in the base's source")
	set("figure/full_off.delay/mark", "read")
	w = set("figure/full_off.delay/source", "adopted text, page 12")
	assert.Equal(t, domain.CodeMark("read"), w.Changes[0].Mark)
	w = set("figure/full_off.delay/value", "10")
	assert.Equal(t, domain.CodeMark("read"), w.Changes[0].Mark, "the person's own mark stays")
	set("duty/full_off.corridor/duty", "none")
	set("duty/manual_on.any/duty", "R")
	w = set("density/corridor/value", "0.5")
	assert.Len(t, w.Changes, 4)
	assert.Equal(t, domain.AnyCodeSpace, w.Change("duty:manual-on:any").Space)
	w = set("figure/receptacles.unread/words", "some words")
	assert.Len(t, w.Changes, 5)
	body := s.Get(at).Body.String()
	assert.Contains(t, body, "5 rows changed")
	assert.Contains(t, body, "at most 20 min", "the base's figure beside it")
	only := s.Get(at + "?part=duties&only=changed").Body.String()
	assert.Contains(t, only, `data-path="duty/full_off.corridor/duty"`)
	assert.NotContains(t, only, "stairwell</th>")
	assert.Contains(t, s.Get(at+"?part=duties&control=full_off").Body.String(), `data-path="duty/full_off.stairwell/clause"`)
	assert.Contains(t, s.Get(at+"?part=densities").Body.String(), `data-path="density/corridor/value"`)
	require.Equal(t, http.StatusOK, s.Post(at+"/revert", "row", "duty/full_off.corridor").Code)
	require.Equal(t, http.StatusOK, s.Post(at+"/takeout", "row", "density/classroom_lecture_training").Code)
	w = &s.Project("p1").Worksheets[0]
	assert.Nil(t, w.Change("duty:full-off:corridor"))
	assert.Zero(t, w.Change("density:classroom-lecture-training").Value)
	require.Equal(t, http.StatusOK, s.Post(at+"/undo").Code)
	assert.Nil(t, s.Project("p1").Worksheets[0].Change("density:classroom-lecture-training"))
}

func TestSheet_refusesBadInput(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	at := path + "/worksheets/" + string(s.sheet("Ours", "ashrae-90.1-2019"))
	s.sheet("Other", "")
	for cell, text := range map[string]string{"figure/full_off.delay/value": "-1", "figure/full_off.delay/sign": "at least", "figure/full_off.delay/mark": "", "figure/none.delay/value": "1",
		"figure/full_off.invented/value": "1", "duty/full_off.corridor/duty": "perhaps", "duty/full_off.dungeon/duty": "R", "duty/power_density.corridor/duty": "R", "duty/full_off.corridor/also": "full off",
		"density/corridor/value": "101", "density/dungeon/value": "1", "density/corridor/wings": "2", "head/title": "other", "head/zone_rules": "mine", "head/confirmed": "Me", "x": "y", "": "z"} {
		answer := s.Post(at+"/set", "edits", fmt.Sprintf(`[[%q,%q]]`, cell, text))
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, "%s: %s", cell, text)
		assert.Contains(t, answer.Header().Get("HX-Trigger"), "cell-refused", cell)
	}
	for _, form := range [][]string{{"row", "figure/full_off.delay"}, {"row", "x"}} {
		assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/revert", form...).Code)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/takeout", "row", "x").Code)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/row", "row", "density/corridor", "value", "1").Code, "without a mark")
	assert.Empty(t, s.Project("p1").Worksheets[0].Changes)
}

func TestSheet_staleShowsBothValues(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	at := path + "/worksheets/" + string(s.sheet("Ours", "ashrae-90.1-2019"))
	base := s.Base("p1")
	require.Equal(t, http.StatusOK, s.Post(at+"/set", "path", "figure/full_off.delay/value", "text", "15").Code)
	stale := s.Ask(http.MethodPost, at+"/set", url.Values{"path": {"figure/full_off.delay/value"}, "text": {"10"}}, "X-Base-Version", base)
	require.Equal(t, http.StatusConflict, stale.Code)
	assert.Contains(t, stale.Body.String(), "15")
	assert.Contains(t, stale.Body.String(), "full off, delay, value: you typed")
}

// A whole row at once, also without script.
func TestSheet_writesAWholeRow(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	at := path + "/worksheets/" + string(s.sheet("Ours", ""))
	assert.Equal(t, http.StatusSeeOther, s.Plain(at+"/row", "row", "figure/full_off.delay", "sign", "at most", "value", "12", "clause", "C405", "mark", "read", "source", "p. 3").Code)
	w := s.Project("p1").Worksheets[0]
	require.Len(t, w.Changes, 1)
	assert.Equal(t, "at most 12 min", w.Changes[0].Says())
	assert.Equal(t, "p. 3", w.Changes[0].Source)
}

// What was read was another figure: a changed row takes the confirmation back.
func TestSheet_confirmation(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	id := s.sheet("Ours", "ashrae-90.1-2019")
	at := path + "/worksheets/" + string(id)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/confirm", "who", "", "date", "2026-03-01").Code)
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/confirm", "who", "A. Reader", "date", "").Code)
	for day, want := range map[int]int{1: http.StatusUnprocessableEntity, 0: http.StatusOK, -1: http.StatusOK} {
		date := s.Time.AddDate(0, 0, day).Format("2006-01-02")
		assert.Equal(t, want, s.Post(at+"/confirm", "who", "A. Reader", "date", date).Code, date)
	}
	assert.Contains(t, s.Post(at+"/confirm", "who", "A. Reader", "date", "2099-01-01").Body.String(), "has not come yet")
	assert.Equal(t, http.StatusUnprocessableEntity, s.Post(at+"/confirm", "who", "A. Reader", "date", "last week").Code)
	require.Equal(t, http.StatusOK, s.Post(at+"/confirm", "who", "A. Reader", "date", "2026-03-01").Code)
	assert.Equal(t, "A. Reader, 2026-03-01", s.Project("p1").Worksheets[0].Confirmed)
	require.Equal(t, http.StatusOK, s.Post(path+"/choose", "code", string(id)).Code)
	assert.Contains(t, s.Get(path).Body.String(), "Confirmed by A. Reader, 2026-03-01")
	require.Equal(t, http.StatusOK, s.Post(at+"/set", "path", "head/note", "text", "A note").Code)
	assert.NotEmpty(t, s.Project("p1").Worksheets[0].Confirmed, "a note is no figure")
	require.Equal(t, http.StatusOK, s.Post(at+"/set", "path", "figure/full_off.delay/value", "text", "15").Code)
	assert.Empty(t, s.Project("p1").Worksheets[0].Confirmed)
	require.Equal(t, http.StatusOK, s.Post(at+"/undo").Code)
	assert.NotEmpty(t, s.Project("p1").Worksheets[0].Confirmed)
	require.Equal(t, http.StatusOK, s.Post(at+"/confirm", "withdraw", "yes").Code)
	assert.Empty(t, s.Project("p1").Worksheets[0].Confirmed)
}

func TestSheet_goesOutAndComesInAsAFile(t *testing.T) {
	s := open(t, school("ashrae-90.1-2019"))
	at := path + "/worksheets/" + string(s.sheet("Ours", "ashrae-90.1-2019"))
	require.Equal(t, http.StatusOK, s.Post(at+"/set", "edits", `[["figure/full_off.delay/value","15"],["duty/full_off.corridor/duty","none"],["density/corridor/value","0.5"]]`).Code)
	require.Equal(t, http.StatusOK, s.Post(at+"/takeout", "row", "density/stairwell").Code)
	file := s.Get(at + "/file")
	require.Equal(t, http.StatusOK, file.Code)
	assert.Contains(t, file.Header().Get("Content-Disposition"), "energy-code-worksheet.json")
	again := s.Upload(path+"/worksheets/import", "sheet.json", file.Body.String())
	assert.Equal(t, http.StatusUnprocessableEntity, again.Code, "the title is taken")
	assert.Equal(t, http.StatusSeeOther, s.Upload(path+"/worksheets/import", "sheet.json", file.Body.String(), "title", "Ours again").Code)
	p := s.Project("p1")
	require.Len(t, p.Worksheets, 2)
	assert.Equal(t, p.Worksheets[0].Base, p.Worksheets[1].Base)
	a, _ := energycode.Compile(&p.Worksheets[0])
	b, _ := energycode.Compile(&p.Worksheets[1])
	b.Title, b.ID = a.Title, a.ID
	assert.Equal(t, text(t, a), text(t, b))
	for name, bad := range map[string]string{"nothing": "", "no JSON": "{", "another file": `{"format":"x"}`, "line": strings.Replace(file.Body.String(), `"at most"`, `"at moist"`, 1),
		"kind of space": strings.Replace(file.Body.String(), `"id": "corridor"`, `"id": "dungeon"`, 1)} {
		answer := s.Upload(path+"/worksheets/import", "sheet.json", bad, "title", "Bad")
		assert.Equal(t, http.StatusUnprocessableEntity, answer.Code, name)
		assert.Contains(t, answer.Body.String(), "othing was taken in", name)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, s.Plain(path+"/worksheets/import", "title", "x").Code, "no file")
	assert.Len(t, s.Project("p1").Worksheets, 2)
}

func text(t *testing.T, p *energycode.Pack) string {
	var b bytes.Buffer
	require.NoError(t, energycode.Write(&b, p))
	return b.String()
}

// Rows from elsewhere that no check can read are told; the base's hold.
func TestSheet_tellsRowsThatCannotBeRead(t *testing.T) {
	scope := school("ws")
	w := domain.CodeWorksheet{ID: "ws", Seq: 1, Title: "Ours", Base: "ashrae-90.1-2019"}
	w.Put(domain.CodeChange{Kind: domain.FigureRow, Control: "full_off", Name: "delay", Sign: "at most", Value: 15, Unit: "fortnights", Mark: "read"})
	scope.Project.Worksheets = []domain.CodeWorksheet{w}
	assert.Contains(t, open(t, scope).Get(path+"/worksheets/ws").Body.String(), "fortnights")
}
