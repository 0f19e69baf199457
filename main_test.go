package main

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// These tests keep the house in order: who may import whom, what lies at the
// top, and what no source may hold. They read the files themselves; a test that
// asks `go list` would be answered from the test cache.

const module = "scopewright"

// layer is one floor of the house: packages and what they may import of ours.
// A pattern is a package or, ending in "/...", everything below a folder.
type layer struct {
	packages []string
	uses     []string
}

var (
	leaves    = []string{"domain/units", "domain/delta", "domain/sun"}
	ground    = with(leaves, "domain/geom", "domain/equipment")
	scope     = with(ground, "domain")
	firstRing = []string{"domain/edit", "domain/sequence", "domain/radio", "domain/coverage", "domain/daylight", "domain/electrical"}
	allDomain = with(scope, append([]string{"domain/energy", "domain/energycode", "domain/propose", "domain/propose/design", "domain/sequence/prove"}, firstRing...)...)

	judgement = with(allDomain, "validate", "validate/rule")
	documents = with(judgement, "export", "export/...")
	// What every part of web may use below itself.
	underWeb = with(documents, "store", "store/...", "static", "domain/demo")

	screens = []string{"web/project", "web/building", "web/room", "web/plan", "web/rehearse", "web/book", "web/sheets", "web/review", "web/intake", "web/luminaires", "web/circuits", "web/code", "web/energy", "web/rules"}
)

// house lists the layers; the first that names a package rules it.
var house = []layer{
	{leaves, nil},
	{[]string{"domain/geom", "domain/equipment"}, leaves},
	{[]string{"domain"}, ground},
	{firstRing, scope},
	{[]string{"domain/energy", "domain/energycode", "domain/propose", "domain/sequence/prove"}, with(scope, firstRing...)},
	// A first design stands on all that the second ring proposes piece by piece.
	{[]string{"domain/propose/design"}, with(scope, append([]string{"domain/propose"}, firstRing...)...)},
	{[]string{"domain/domaintest", "domain/demo"}, with(scope, "domain/edit", "domain/sequence")},

	// A rule carries its worked example as a room, which domaintest builds.
	{[]string{"validate/rule"}, with(allDomain, "domain/domaintest")},
	{[]string{"validate/..."}, with(allDomain, "domain/domaintest", "validate/rule")},
	{[]string{"validate"}, with(allDomain, "validate/...")},

	// A sheet holds drawings as they are before a paper is chosen; renderers draw them.
	{[]string{"export/sheet"}, with(judgement, "export/drawing")},
	{[]string{"export/sheet/sheettest"}, with(judgement, "export/sheet", "export/drawing")},
	{[]string{"export/findings"}, judgement},
	{[]string{"export/drawing"}, allDomain},
	{[]string{"export/exchange"}, allDomain},
	{[]string{"export/html"}, []string{"export/sheet", "export/drawing", "export/html/..."}},
	{[]string{"export/pdf"}, []string{"export/sheet", "export/drawing", "export/pdf/..."}},
	{[]string{"export/xlsx"}, []string{"export/sheet"}},
	{[]string{"export/csv"}, []string{"export/sheet"}},
	{[]string{"export/html/...", "export/pdf/..."}, nil},
	{[]string{"export"}, documents},

	// What draws a PDF's pages sees bytes: of ours, only how files are named and pictures kept.
	{[]string{"store/intake/pdfpage"}, []string{"domain/units", "store/intake/building", "store/intake/raster"}},
	{[]string{"store/intake", "store/intake/..."}, with(allDomain, "store/intake/...")},
	{[]string{"store"}, with(allDomain, "migrations")},
	{[]string{"migrations", "static"}, nil},

	{[]string{"web/ui", "web/live"}, underWeb},
	{[]string{"web/edits"}, with(underWeb, "web/ui", "web/live")},
	{screens, with(underWeb, "web/edits", "web/ui", "web/live")},
	{[]string{"web/webtest"}, with(underWeb, "domain/domaintest")},
	{[]string{"web"}, with(underWeb, with(screens, "web/edits", "web/ui", "web/live")...)},

	// Some commands do what a screen does: they call it.
	{[]string{"."}, with(underWeb, with(screens, "web", "migrations")...)},
}

// forTests may be imported by test files of any package.
var forTests = []string{"domain/domaintest", "domain/edit", "domain/demo", "export/sheet/sheettest", "web/webtest"}

// impure packages have no place in a functional core: no files, no network, no
// database, no log.
var impure = map[string][]string{
	"domain":   {"os", "os/exec", "net", "net/http", "database/sql", "log", "log/slog", "github.com/jmoiron/sqlx"},
	"validate": {"os", "os/exec", "net", "net/http", "database/sql", "log", "log/slog", "github.com/jmoiron/sqlx"},
	"export":   {"net", "net/http", "database/sql", "log", "log/slog", "github.com/jmoiron/sqlx"},
}

// source is what the checks need to know of one Go file.
type source struct {
	file    string // path from the top, with slashes
	name    string // of its package clause
	imports []string
	tool    bool // built by hand only (go:build ignore), for example a generator
}

func (s source) dir() string  { return path.Dir(s.file) }
func (s source) isTest() bool { return strings.HasSuffix(s.file, "_test.go") }

func TestImports_pointOneWay(t *testing.T) {
	sources := readSources(t)
	require.NotEmpty(t, sources)
	for _, offence := range slices.Concat(checkArrows(sources), checkPurity(sources)) {
		t.Error(offence)
	}
}

func TestImports_checkerCatchesForbiddenOnes(t *testing.T) {
	one := func(file string, imports ...string) []source {
		return []source{{file: file, name: "p", imports: imports}}
	}
	forbidden := map[string][]source{
		"model beside model":         one("domain/radio/room.go", module+"/domain/coverage"),
		"domain looks up":            one("domain/room.go", module+"/domain/edit"),
		"domain knows the web":       one("domain/room.go", module+"/web"),
		"leaf imports":               one("domain/units/watts.go", module+"/domain"),
		"family beside family":       one("validate/capacity/a.go", module+"/validate/presence"),
		"family knows the registry":  one("validate/capacity/a.go", module+"/validate"),
		"renderer knows the domain":  one("export/pdf/a.go", module+"/domain"),
		"renderer beside renderer":   one("export/pdf/a.go", module+"/export/html"),
		"store wants findings":       one("store/a.go", module+"/validate"),
		"intake writes":              one("store/intake/roomlist/a.go", module+"/store"),
		"store meets intake":         one("store/a.go", module+"/store/intake"),
		"screen beside screen":       one("web/room/a.go", module+"/web/building"),
		"ui knows edits":             one("web/ui/a.go", module+"/web/edits"),
		"web asks one rule family":   one("web/room/a.go", module+"/validate/capacity"),
		"package without a layer":    one("web/gadgets/a.go"),
		"package outside the house":  one("cmd/tool/a.go"),
		"test data outside of tests": one("web/room/a.go", module+"/domain/domaintest"),
		"test app outside of tests":  one("web/routes.go", module+"/web/webtest"),
	}
	for name, sources := range forbidden {
		assert.Len(t, checkArrows(sources), 1, name)
	}
	allowed := slices.Concat(
		one("domain/radio/room.go", module+"/domain", module+"/domain/units", "math"),
		one("domain/propose/a.go", module+"/domain/radio"),
		one("domain/room_test.go", module+"/domain", module+"/domain/domaintest"),
		one("validate/rules_gen.go", module+"/validate/capacity", module+"/validate/rule"),
		one("export/kinds.go", module+"/export/pdf", module+"/validate"),
		one("web/room/a.go", module+"/web/edits", module+"/store", module+"/export/html"),
		one("main.go", module+"/web", module+"/web/sheets", module+"/store", module+"/store/intake", module+"/domain/demo"),
	)
	assert.Empty(t, checkArrows(allowed))

	assert.Len(t, checkPurity(one("domain/edit/a.go", "os")), 1)
	assert.Len(t, checkPurity(one("validate/rule/a.go", "database/sql", "net/http")), 2)
	assert.Empty(t, checkPurity(one("domain/edit/a_test.go", "os")))
	assert.Empty(t, checkPurity(one("store/a.go", "os", "database/sql")))
}

func TestTop_holdsOnlyTheHouse(t *testing.T) {
	house := []string{"README.md", "DEVELOPERS.md", "LICENSE", "go.mod", "go.sum", "main.go", "main_test.go", "main_cmd_test.go",
		"web", "store", "domain", "validate", "export", "migrations", "static", "testdata", ".ci", ".gitignore", ".git"}
	ignored := readIgnored(t)
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	for _, entry := range entries {
		name := entry.Name()
		if !slices.Contains(house, name) && !matchesAny(name, ignored) {
			t.Errorf("%s does not belong at the top: put it in the folder it serves", name)
		}
	}
}

func TestPackages_haveANounOfTheirOwn(t *testing.T) {
	assert.True(t, vague.MatchString("util"), "the check must catch what it is for")
	assert.False(t, vague.MatchString("units"))
	for _, s := range readSources(t) {
		for _, name := range append(strings.Split(s.dir(), "/"), strings.TrimSuffix(s.name, "_test")) {
			assert.False(t, vague.MatchString(name), "%s: %q says nothing: name the package after what it holds", s.file, name)
		}
	}
}

var vague = regexp.MustCompile(`^(utils?|common|helpers?|managers?|misc|shared)$`)

// unsafeTempl would let words from users reach the page unescaped.
var unsafeTempl = regexp.MustCompile(`templ\.(Raw|SafeURL|JSUnsafeFuncCall|SafeScript|SafeCSS)\b`)

// blocked is markup that our content security policy refuses: the page looks
// right and does nothing, so find it here.
var blocked = regexp.MustCompile(`\sstyle=|<style\b|\shx-on\b|\son[a-z]+=|=['"]js:|hx-trigger="[^"]*\[`)

// deferred scripts of the partial update library start in no certain order: its
// stream of server events then sometimes never opens.
var deferred = regexp.MustCompile(`\b(defer|async|module)\b`)

var scriptTag = regexp.MustCompile(`<script\b[^>]*>`)

// findBlocked gives the first piece of a templ source that the policy refuses,
// or that cannot work, or "". A JSON block is data, the policy lets it be.
func findBlocked(text string) string {
	for _, tag := range scriptTag.FindAllString(text, -1) {
		if !strings.Contains(tag, "src=") && !strings.Contains(tag, "application/json") {
			return tag
		}
		if strings.Contains(tag, "vendor/htmx") && deferred.MatchString(tag) {
			return tag
		}
	}
	return blocked.FindString(text)
}

func TestPages_noUnescapedWordsNothingThePolicyBlocks(t *testing.T) {
	for _, bad := range []string{"@templ.Raw(name)", "templ.SafeURL(x)", "templ.JSUnsafeFuncCall(x)"} {
		assert.Regexp(t, unsafeTempl, bad)
	}
	for _, bad := range []string{`<p style="x">`, `<b onclick="x">`, `<a hx-on:click="x">`, `hx-vals="js:{}"`, `<script>x`,
		`<script src={ static.Path("vendor/htmx-4.0.1/htmx.min.js") } defer>`, `<button hx-trigger="click[ctrlKey]">`} {
		assert.NotEmpty(t, findBlocked(bad), bad)
	}
	assert.Empty(t, findBlocked(`<script type="module" src={ static.Path("js/morph-fields.js") }></script><script type="application/json" id="room">`))
	walkSources(t, func(file, text string) {
		if file == "main_test.go" || strings.HasSuffix(file, "_templ.go") {
			return
		}
		if found := unsafeTempl.FindString(text); found != "" {
			t.Errorf("%s uses %s: let templ escape it", file, found)
		}
		if found := findBlocked(text); found != "" && strings.HasSuffix(file, ".templ") {
			t.Errorf("%s holds %q, which the content security policy blocks: use a class or an ES module", file, found)
		}
	})
}

// checkArrows tells every import that the layers do not allow.
func checkArrows(sources []source) []string {
	var offences []string
	for _, s := range sources {
		rules, known := layerOf(s.dir())
		if !known {
			offences = append(offences, fmt.Sprintf("%s: package %s has no layer: give it a line in the house table of main_test.go", s.file, s.dir()))
			continue
		}
		for _, imported := range s.imports {
			target, ours := strings.CutPrefix(imported, module+"/")
			allowed := !ours || target == s.dir() || matchesPackage(target, rules.uses) || s.isTest() && slices.Contains(forTests, target)
			if !allowed {
				offences = append(offences, fmt.Sprintf("%s: %s may not import %s", s.file, s.dir(), target))
			}
		}
	}
	return offences
}

func checkPurity(sources []source) []string {
	var offences []string
	for _, s := range sources {
		if s.isTest() || s.tool {
			continue
		}
		room, _, _ := strings.Cut(s.dir(), "/")
		for _, imported := range s.imports {
			if slices.Contains(impure[room], imported) {
				offences = append(offences, fmt.Sprintf("%s: %s takes and returns values only, it may not import %s", s.file, room, imported))
			}
		}
	}
	return offences
}

func layerOf(dir string) (layer, bool) {
	for _, l := range house {
		if matchesPackage(dir, l.packages) {
			return l, true
		}
	}
	return layer{}, false
}

func matchesPackage(name string, patterns []string) bool {
	return slices.ContainsFunc(patterns, func(pattern string) bool {
		if folder, below := strings.CutSuffix(pattern, "..."); below {
			return strings.HasPrefix(name, folder)
		}
		return name == pattern
	})
}

func with(list []string, more ...string) []string { return slices.Concat(list, more) }

func readSources(t *testing.T) []source {
	t.Helper()
	var sources []source
	walkSources(t, func(file, text string) {
		if !strings.HasSuffix(file, ".go") {
			return
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, text, parser.ImportsOnly)
		if err != nil {
			t.Errorf("%s: %v", file, err)
			return
		}
		s := source{file: file, name: parsed.Name.Name, tool: strings.Contains(text, "\n//go:build ignore\n") || strings.HasPrefix(text, "//go:build ignore\n")}
		for _, spec := range parsed.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			s.imports = append(s.imports, imported)
		}
		sources = append(sources, s)
	})
	return sources
}

// walkSources visits each Go and templ file outside of testdata and dot folders.
func walkSources(t *testing.T, visit func(file, text string)) {
	t.Helper()
	err := filepath.WalkDir(".", func(file string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		hidden := strings.HasPrefix(entry.Name(), ".") && file != "."
		if entry.IsDir() && (hidden || entry.Name() == "testdata") {
			return fs.SkipDir
		}
		if ext := filepath.Ext(file); entry.IsDir() || ext != ".go" && ext != ".templ" {
			return nil
		}
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		visit(filepath.ToSlash(file), string(text))
		return nil
	})
	require.NoError(t, err)
}

func readIgnored(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile(".gitignore")
	require.NoError(t, err)
	var patterns []string
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			patterns = append(patterns, strings.Trim(line, "/"))
		}
	}
	return patterns
}

func matchesAny(name string, patterns []string) bool {
	return slices.ContainsFunc(patterns, func(pattern string) bool {
		ok, err := path.Match(pattern, name)
		return ok && err == nil
	})
}
