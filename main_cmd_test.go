package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/export/exchange"
	"scopewright/store"
)

// These tests run commands as a person types them, on real files and databases.

func day() time.Time { return time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC) }

// typed runs a command line in a folder and gives its exit code, what it said
// and what it complained of.
func typed(t *testing.T, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(t.Context(), args, &o, &e, day)
	return code, o.String(), e.String()
}

func mustType(t *testing.T, args ...string) string {
	t.Helper()
	code, out, errs := typed(t, args...)
	require.Equal(t, exitDone, code, "%v: %s", args, errs)
	return out
}

// demoFile writes the demo's exchange file, demoDB imports it.
func demoFile(t *testing.T) string {
	path := filepath.Join(t.TempDir(), "demo.json")
	mustType(t, "demo", "--to", path)
	return path
}

func demoDB(t *testing.T) (db, file string) {
	file = demoFile(t)
	db = filepath.Join(filepath.Dir(file), "demo.db")
	mustType(t, "import", "--db", db, file)
	return db, file
}

func read(t *testing.T, path string) string {
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(b)
}

func TestCommands_areThoseOfTheDesign(t *testing.T) {
	var names []string
	for _, cmd := range commands() {
		names = append(names, cmd.name)
		assert.NotEmpty(t, cmd.short, cmd.name)
	}
	assert.Equal(t, []string{"serve", "demo", "check", "export", "import", "backup", "restore", "rules", "schema", "version"}, names)
	_, help, _ := typed(t, "help")
	for _, name := range names {
		assert.Contains(t, help, "scopewright "+name+" ")
	}
}

func TestCommandLine_mistakesEndWithTwo(t *testing.T) {
	for _, args := range [][]string{
		{"nonsense"}, {"check", "--what"}, {"check"}, {"check", "a", "b"}, {"check", "--db", "a", "b"}, {"check", "x", "--format", "xml"},
		{"import"}, {"backup"}, {"restore"}, {"rules", "--format", "pdf"}, {"export", "--db", "nowhere.db"}, {"export", "--revision", "x"}, {"--wrong"},
	} {
		code, out, errs := typed(t, args...)
		assert.Equal(t, exitFailed, code, args)
		assert.NotEmpty(t, errs, args)
		assert.Empty(t, out, args)
	}
	code, _, errs := typed(t, "check", "-h")
	assert.Equal(t, exitDone, code)
	assert.Contains(t, errs, "--db FILE")
}

func TestCheck_demoHasErrors(t *testing.T) {
	code, out, _ := typed(t, "check", demoFile(t), "--format", "json") // flags may stand behind
	assert.Equal(t, exitFound, code)
	var doc struct {
		Errors   int
		Findings []struct {
			Rule, Severity, Room string
			Measured, Limit      *float64
			Waived               bool
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &doc))
	assert.Equal(t, 1, doc.Errors)
	seen := map[string]bool{}
	for _, f := range doc.Findings {
		seen[f.Rule] = true
		if f.Rule == "capacity-devices" {
			assert.Equal(t, "301", f.Room)
			assert.Equal(t, 40.0, *f.Measured)
			assert.Equal(t, 32.0, *f.Limit)
		}
	}
	assert.Equal(t, map[string]bool{"capacity-devices": true, "controls-egress-bypass": true, "energycode-bilevel": true, "energycode-daylight-side": true, "energycode-full-off": true,
		"energycode-local-control": true, "energycode-power-density": true, "energycode-receptacles": true, "energycode-separate-control": true, "energycode-space-type": true, "sight-leak": true, "sight-seat": true, "sight-share": true}, seen)
}

// smallProject is the demo without the room that is over its limit.
func smallProject(t *testing.T) string {
	s := demo.Scope()
	s.Rooms = slices.DeleteFunc(s.Rooms, func(r domain.Room) bool { return r.Number == "301" })
	s.Reviews = nil
	path := filepath.Join(t.TempDir(), "small.json")
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, exchange.Write(f, s))
	require.NoError(t, f.Close())
	return path
}

func TestCheck_cleanProjectEndsWithZero(t *testing.T) {
	file := smallProject(t)
	out := mustType(t, "check", file)
	assert.Contains(t, out, "55 rooms: 0 errors, 8 warnings")
	db := filepath.Join(t.TempDir(), "small.db")
	mustType(t, "import", file, "--db", db)
	assert.Equal(t, out, mustType(t, "check", "--db", db), "a database says the same as the file")
	assert.Equal(t, out, mustType(t, "check", db), "a database is known by its contents")
	assert.Equal(t, out, mustType(t, "check", "--db", db, "--project", "d-0417"))
	code, _, errs := typed(t, "check", "--db", db, "--project", "elsewhere")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "Harbor Street")
}

func TestCheck_badFilesEndWithTwoAndASentence(t *testing.T) {
	good, folder := read(t, demoFile(t)), t.TempDir()
	for name, c := range map[string]struct{ content, says string }{
		"empty.json":     {"", "empty"},
		"picture.json":   {"\x89PNG\r\n\x1a\n\x00\x00\x00", "binary"},
		"cut.json":       {good[:len(good)/2], "cut off"},
		"newer.json":     {strings.Replace(good, `"version": 1`, `"version": 7`, 1), "newer version"},
		"other.json":     {`{"name": "something else"}`, "not an exchange file"},
		"list.csv":       {"Room,Name\n101,Lobby\n", "does not start as JSON"},
		"lost.json":      {strings.Replace(good, `"storey": "level-1"`, `"storey": "level-9"`, 1), "/rooms/"},
		"no.db":          {"SQLite format 3\x00 and then nothing", "database"},
		"twice.json":     {strings.Replace(good, `"version": 1`, `"version": 1, "version": 1`, 1), "twice"},
		"odd-bytes.json": {strings.Replace(good, "Lobby", "L\xffbby", 1), "UTF-8"},
	} {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, []byte(c.content), 0o644))
		code, out, errs := typed(t, "check", path)
		assert.Equal(t, exitFailed, code, name)
		assert.Contains(t, errs, c.says, name)
		assert.Contains(t, errs, name, "the file is named")
		assert.Empty(t, out, name)
		assert.Equal(t, c.content, read(t, path), "%s is left as it was", name)
	}
	for _, path := range []string{filepath.Join(folder, "missing.json"), folder} {
		code, _, errs := typed(t, "check", path)
		assert.Equal(t, exitFailed, code)
		assert.NotEmpty(t, errs)
	}
}

func TestImportThenExport_givesTheSameBytes(t *testing.T) {
	db, file := demoDB(t)
	to := t.TempDir()
	mustType(t, "export", "--db", db, "--kind", "json", "--to", to)
	assert.Equal(t, read(t, file), read(t, filepath.Join(to, "d-0417_project.json")))

	code, _, errs := typed(t, "import", "--db", db, file)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "--replace")
	mustType(t, "import", "--db", db, "--replace", file)
	mustType(t, "export", "--db", db, "--kind", "json", "--to", to)
	assert.Equal(t, read(t, file), read(t, filepath.Join(to, "d-0417_project.json")), "replaced, and the old file too")
}

func TestImport_refusedFileStoresNothing(t *testing.T) {
	bad := filepath.Join(t.TempDir(), "bad.json")
	require.NoError(t, os.WriteFile(bad, []byte(read(t, demoFile(t))[:1000]), 0o644))
	db := filepath.Join(t.TempDir(), "new.db")
	code, _, errs := typed(t, "import", "--db", db, bad)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "cut off")
	assert.NoFileExists(t, db)
}

func TestExport_writesEachKindAndFormat(t *testing.T) {
	db, _ := demoDB(t)
	to := filepath.Join(t.TempDir(), "out") // made on the way
	for _, c := range []struct {
		args  []string
		file  string
		start string
	}{
		{[]string{"--kind", "sheets", "--room", "201"}, "d-0417_scope_201.pdf", "%PDF"},
		{[]string{"--kind", "sheets", "--room", "1s1", "--paper", "a4"}, "d-0417_scope_1s1.pdf", "%PDF"},
		{[]string{"--kind", "schedule", "--format", "xlsx"}, "d-0417_devices.xlsx", "PK"},
		{[]string{"--kind", "loads", "--format", "csv"}, "d-0417_loads.csv", "\xef\xbb\xbf"},
		{[]string{"--kind", "bill", "--format", "html"}, "d-0417_bill.html", "<!doctype html>"},
		{[]string{"--kind", "installer", "--room", "106"}, "d-0417_installer_106.pdf", "%PDF"},
		{nil, "d-0417_set.pdf", "%PDF"},
	} {
		out := mustType(t, append([]string{"export", "--db", db, "--to", to}, c.args...)...)
		path := filepath.Join(to, c.file)
		assert.Contains(t, out, "wrote "+path+"\n", "it says what it wrote")
		assert.True(t, strings.HasPrefix(read(t, path), c.start), c.file)
	}
	entries, err := os.ReadDir(to)
	require.NoError(t, err)
	for _, e := range entries {
		assert.NotContains(t, e.Name(), ".part", "nothing half made is left")
	}
	for _, args := range [][]string{{"--kind", "poem"}, {"--kind", "scope", "--format", "csv"}, {"--format", "doc"}, {"--paper", "b5"}, {"--room", "999"}, {"--project", "x"}, {"--revision", "4"}} {
		code, _, errs := typed(t, append([]string{"export", "--db", db, "--to", t.TempDir()}, args...)...)
		assert.Equal(t, exitFailed, code, args)
		assert.NotEmpty(t, errs, args)
	}
}

func TestExport_reprintsAnIssuedRevision(t *testing.T) {
	db, _ := demoDB(t)
	s, err := store.Open(t.Context(), store.Options{Path: db, Now: day})
	require.NoError(t, err)
	id := demo.Scope().Project.ID
	_, err = s.Issue(t.Context(), id, store.IssueInput{Author: "A. Designer", Purpose: "for review"})
	require.NoError(t, err)
	_, err = s.Edit(t.Context(), store.Request{ProjectID: id, Who: "A. Designer"}, func(tx *store.Tx) (string, error) {
		r, err := tx.Room("room-101")
		if err != nil {
			return "", err
		}
		r.Name = "Entrance hall"
		return "renamed", tx.PutRoom(r)
	})
	require.NoError(t, err)
	require.NoError(t, s.Close())
	to := t.TempDir()
	mustType(t, "export", "--db", db, "--to", to, "--kind", "scope", "--room", "101", "--format", "html")
	mustType(t, "export", "--db", db, "--to", to, "--kind", "scope", "--room", "101", "--format", "html", "--revision", "1")
	assert.Contains(t, read(t, filepath.Join(to, "d-0417_scope_101.html")), "Entrance hall")
	assert.Contains(t, read(t, filepath.Join(to, "d-0417_scope_101_rev-1.html")), "Lobby")
	assert.NotContains(t, read(t, filepath.Join(to, "d-0417_scope_101_rev-1.html")), "Entrance hall")
}

func TestImport_roomListIsShownFirstAndStoredWhenTold(t *testing.T) {
	db, _ := demoDB(t)
	list := filepath.Join(t.TempDir(), "rooms.csv")
	require.NoError(t, os.WriteFile(list, []byte("Room,Name,Area (sq ft),Level\n201,Classroom,870,Level 2\n401,Attic,300,Level 4\n402,Pit,-5,Level 4\n"), 0o644))
	names := func() (out []string) {
		s, err := store.Open(t.Context(), store.Options{Path: db, ReadOnly: true})
		require.NoError(t, err)
		defer s.Close()
		scope, err := s.Load(t.Context(), demo.Scope().Project.ID)
		require.NoError(t, err)
		for _, r := range scope.Rooms {
			out = append(out, r.Number)
		}
		return out
	}
	out := mustType(t, "import", "--db", db, list)
	assert.Contains(t, out, "area 860 sq ft -> 870 sq ft")
	assert.Contains(t, out, "1 new, 1 changed, 0 the same, 1 skipped")
	assert.Contains(t, out, "--yes")
	assert.NotContains(t, names(), "401", "shown only")
	out = mustType(t, "import", "--db", db, list, "--yes")
	assert.NotContains(t, out, "--yes")
	assert.Contains(t, names(), "401")
	assert.Len(t, names(), 57)
	assert.Contains(t, mustType(t, "import", "--db", db, list), "0 new, 0 changed, 2 the same")

	schedule := filepath.Join(t.TempDir(), "types.csv")
	require.NoError(t, os.WriteFile(schedule, []byte("Type,Description,Watts\nA1,Recessed panel 2x2 ft,30\nZ9,Lamp,12\n"), 0o644))
	assert.Contains(t, mustType(t, "import", "--db", db, schedule, "--yes"), "luminaire schedule: 1 new, 1 changed")

	for name, content := range map[string]string{"poem.csv": "roses,red\nviolets,blue\n", "empty.csv": "", "old.xls": "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("x", 600), "doc.pdf": "%PDF-1.4\n"} {
		path := filepath.Join(t.TempDir(), name)
		require.NoError(t, os.WriteFile(path, []byte(content), 0o644))
		code, out, errs := typed(t, "import", "--db", db, path, "--yes")
		assert.Equal(t, exitFailed, code, name)
		assert.NotEmpty(t, errs, name)
		assert.Empty(t, out, name)
	}
}

func TestImport_planIsShownFirstAndStoredWhenTold(t *testing.T) {
	db, _ := demoDB(t)
	plan := filepath.Join("web", "intake", "testdata", "three-rooms.gbxml.xml")
	out := mustType(t, "import", "--db", db, plan)
	assert.Contains(t, out, "gbXML 6.01, read in feet")
	assert.Contains(t, out, "storey Ground at 0 ft -> Level 1 (it has 2 of the file's room numbers)")
	assert.Contains(t, out, "Nothing is stored yet")
	assert.Contains(t, mustType(t, "import", "--db", db, plan, "--yes"), "plan: 1 new, 2 changed,")
	assert.Contains(t, mustType(t, "import", "--db", db, plan), "plan: 0 new, 0 changed, 3 the same,")
	code, _, errs := typed(t, "import", "--db", db, plan, "--storey", "Level 1")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "more than one storey")
}

func TestBackupAndRestore(t *testing.T) {
	db, file := demoDB(t)
	folder := t.TempDir()
	kept := filepath.Join(folder, "kept.db")
	mustType(t, "backup", "--db", db, kept)
	assert.FileExists(t, kept+".sha256")
	code, _, errs := typed(t, "backup", "--db", db, kept)
	assert.Equal(t, exitFailed, code, "nothing is overwritten")
	assert.Contains(t, errs, "kept.db")
	again := filepath.Join(folder, "again.db")
	mustType(t, "restore", "--db", again, kept)
	mustType(t, "export", "--db", again, "--kind", "json", "--to", folder)
	assert.Equal(t, read(t, file), read(t, filepath.Join(folder, "d-0417_project.json")))
	code, _, _ = typed(t, "restore", "--db", again, kept)
	assert.Equal(t, exitFailed, code)
	mustType(t, "restore", "--db", again, kept, "--replace")
	code, _, errs = typed(t, "restore", "--db", filepath.Join(folder, "new.db"), file)
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "database")
}

func TestReferencePrints(t *testing.T) {
	assert.Contains(t, mustType(t, "rules"), "capacity-devices")
	assert.True(t, json.Valid([]byte(mustType(t, "rules", "--format", "json"))))
	assert.Equal(t, string(exchange.Schema()), mustType(t, "schema"))
	assert.Contains(t, mustType(t, "version"), "scopewright")
}

func TestServe_answersOnThisMachineOnlyAndStops(t *testing.T) {
	db := filepath.Join(t.TempDir(), "served.db")
	code, _, errs := typed(t, "serve", "--db", db, "--listen", "0.0.0.0:0")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errs, "127.0.0.1")
	for _, args := range [][]string{{"serve", "--db", db, "--listen", "127.0.0.1:0"}, {"--db", db, "--listen", "127.0.0.1:0"}, {"demo", "--listen", "127.0.0.1:0"}} {
		ctx, stop := context.WithCancel(t.Context())
		said, out := io.Pipe()
		ended := make(chan int, 1)
		go func() { ended <- run(ctx, args, out, io.Discard, day) }()
		lines := bufio.NewReader(said)
		line, err := lines.ReadString('\n')
		require.NoError(t, err)
		go func() { _, _ = io.Copy(io.Discard, lines) }()
		url := strings.TrimSpace(strings.TrimPrefix(line, "Scopewright is at "))
		answer, err := http.Get(url + "static/css/app.css")
		require.NoError(t, err, line)
		require.NoError(t, answer.Body.Close())
		assert.Equal(t, http.StatusOK, answer.StatusCode)
		stop()
		select {
		case code := <-ended:
			assert.Equal(t, exitDone, code, args)
		case <-time.After(10 * time.Second):
			t.Fatal("the server does not stop")
		}
	}
}

// goisms are words of the language and its library that say nothing to a
// person at the keyboard.
var goisms = regexp.MustCompile(`strconv\.|parse error|<nil>|goroutine|panic|\b(open|read|rename|mkdir|stat|listen tcp|bind)\b [^ ]*:|\.part\b|\[[a-z]+( [a-z]+)+\]|level=`)

// Whatever goes wrong is said in one sentence that names the thing, ends with
// exit code 2, and leaves nothing behind.
func TestMistakes_areToldInOneSentence(t *testing.T) {
	db, file := demoDB(t)
	folder := t.TempDir()
	at := func(name string) string { return filepath.Join(folder, name) }
	write := func(name, content string) string {
		require.NoError(t, os.WriteFile(at(name), []byte(content), 0o600))
		return at(name)
	}
	require.NoError(t, os.Mkdir(at("folder"), 0o700))
	empty, binary := write("empty", ""), write("binary", "\x7fELF\x02\x01\x00\x00\xff\xfe")
	cut := write("cut.json", read(t, file)[:20000])
	newer := write("newer.json", strings.Replace(read(t, file), `"version": 1`, `"version": 99`, 1))
	poem := write("poem.csv", "roses,red\nviolets,blue\n")
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer taken.Close()
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"check", at("missing.json")}, "no such file"},
		{[]string{"check", ""}, `"" cannot be read`},
		{[]string{"check", at("folder")}, "is a folder"},
		{[]string{"check", empty}, "empty"},
		{[]string{"check", binary}, "binary"},
		{[]string{"check", cut}, "cut off"},
		{[]string{"check", newer}, "newer version"},
		{[]string{"check", file, "--project", "x"}, "leave --project out"},
		{[]string{"check", "--db", at("folder")}, "is a folder"},
		{[]string{"check", "--db", db, "--project", "nowhere"}, "D-0417"},
		{[]string{"check", file, "--format", "yaml"}, "text or json"},
		{[]string{"import", "--db", db, at("folder")}, "is a folder"},
		{[]string{"import", "--db", db, empty}, empty},
		{[]string{"import", "--db", db, binary}, binary},
		{[]string{"import", "--db", db, poem, "--yes"}, poem},
		{[]string{"import", "--db", db, file, "--project", "D-0417"}, "leave --project out"},
		{[]string{"import", "--db", at("none/x.db"), file}, "does not exist"},
		{[]string{"export", "--db", db, "--to", at("out"), "--kind", "poem"}, "schedule or json"},
		{[]string{"export", "--db", db, "--to", at("out"), "--format", "docx"}, "html or pdf"},
		{[]string{"export", "--db", db, "--to", at("out"), "--paper", "b5"}, "letter"},
		{[]string{"export", "--db", db, "--to", at("out"), "--room", "999"}, "no room 999"},
		{[]string{"export", "--db", db, "--to", at("out"), "--revision", "7"}, "revision 7"},
		{[]string{"export", "--db", db, "--to", at("out"), "--revision", "-1"}, "numbered from 1"},
		{[]string{"export", "--db", db, "--to", at("out"), "--revision", "one"}, `--revision cannot be "one"`},
		{[]string{"export", "--db", db, "--to", at("out"), "--kind", "json", "--room", "101"}, "whole project"},
		{[]string{"export", "--db", db, "--to", file}, "is a file"},
		{[]string{"export", "--db", db, "--to", filepath.Join(file, "x")}, "cannot be made"},
		{[]string{"demo", "--to", at("none/x.json")}, "its folder"},
		{[]string{"demo", "--to", at("folder")}, "is a folder"},
		{[]string{"backup", "--db", db, at("folder")}, "not overwritten"},
		{[]string{"restore", "--db", at("new.db"), empty}, "not a Scopewright database"},
		{[]string{"restore", "--db", at("folder"), db, "--replace"}, "is a folder"},
		{[]string{"serve", "--db", at("new.db"), "--listen", "127.0.0.1:99999"}, "up to 65535"},
		{[]string{"serve", "--db", at("new.db"), "--listen", "127.0.0.1:http"}, "up to 65535"},
		{[]string{"serve", "--db", db, "--listen", taken.Addr().String()}, "another program listens"},
		{[]string{"demo", "--listen", taken.Addr().String()}, "another program listens"},
		{[]string{"check", "--what"}, "no flag --what"},
		{[]string{"check", "--db"}, "--db needs a value"},
		{[]string{"import", "--yes=perhaps", file}, `--yes cannot be "perhaps"`},
	} {
		code, out, errs := typed(t, c.args...)
		assert.Equal(t, exitFailed, code, c.args)
		assert.Empty(t, out, c.args)
		told := strings.TrimSpace(regexp.MustCompile(`(?m)^time=.*level=INFO.*\n`).ReplaceAllString(errs, ""))
		assert.NotContains(t, told, "\n", "%v: one sentence", c.args)
		assert.Contains(t, told, c.says, c.args)
		assert.NotRegexp(t, goisms, told, c.args)
	}
	assert.NoDirExists(t, at("out"), "nothing is left of what was refused")
	assert.NoFileExists(t, at("new.db"))
	assert.DirExists(t, at("folder"))
}

func TestHelpAndVersion(t *testing.T) {
	code, _, errs := typed(t, "help", "export")
	assert.Equal(t, exitDone, code)
	assert.Contains(t, errs, "--paper")
	for _, flag := range []string{"-v", "--version"} {
		assert.Contains(t, mustType(t, flag), "scopewright ")
	}
}
