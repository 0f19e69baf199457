package static

import (
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPath_carriesAVersionOfTheContent(t *testing.T) {
	content, err := FS.ReadFile("css/app.css")
	require.NoError(t, err)
	sum := sha256.Sum256(content)
	version := hex.EncodeToString(sum[:])[:8]

	assert.Equal(t, "/static/css/app.css?v="+version, Path("css/app.css"))
	assert.True(t, Current("css/app.css", version))
	assert.False(t, Current("css/app.css", "00000000"))
	assert.False(t, Current("css/app.css", ""))
}

func TestPath_unknownFileHasNoVersion(t *testing.T) {
	assert.Equal(t, "/static/css/missing.css", Path("css/missing.css"))
	assert.Empty(t, Hash("css/missing.css"))
	assert.False(t, Current("css/missing.css", ""))
}

func TestHash_changesWithContent(t *testing.T) {
	write := func(text string) string {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "a.css"), []byte(text), 0o600))
		return hashAll(os.DirFS(dir))["a.css"]
	}
	assert.NotEqual(t, write("a{}"), write("b{}"))
	// SHA-256 of the empty string: FIPS 180-4 (value from memory).
	assert.Equal(t, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", write(""))
}

// pathCall finds Path("...") calls of this package in Go and templ sources.
var pathCall = regexp.MustCompile(`static\.Path\("([^"]+)"\)`)

func TestPath_everyNameInTheSourcesIsOnTheShelf(t *testing.T) {
	err := filepath.WalkDir("..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		// The shelf itself names made-up files in its tests.
		if entry.IsDir() && (entry.Name() == ".git" || entry.Name() == "static") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, ".templ") {
			return nil
		}
		source, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, call := range pathCall.FindAllStringSubmatch(string(source), -1) {
			assert.NotEmpty(t, Hash(call[1]), "%s asks for static/%s, which does not exist", path, call[1])
		}
		return nil
	})
	require.NoError(t, err)
}
