package static

import (
	"io/fs"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A vendored file must be exactly what its publisher released: README.md beside
// the sums says which release and with which integrity value it was fetched.
func TestVendor_everyFileMatchesItsChecksum(t *testing.T) {
	listed := readSums(t)
	vendored, err := fs.Sub(FS, "vendor")
	require.NoError(t, err)
	found := hashAll(vendored)
	delete(found, "SHA256SUMS")
	delete(found, "README.md")

	assert.Equal(t, listed, found, "mend with: cd static/vendor && sha256sum */* > SHA256SUMS, after checking the source")
}

func TestVendor_everyLibraryHasALicenseAndAnEntry(t *testing.T) {
	readme, err := FS.ReadFile("vendor/README.md")
	require.NoError(t, err)
	entries, err := FS.ReadDir("vendor")
	require.NoError(t, err)
	libraries := 0
	for _, entry := range entries {
		if !entry.IsDir() {
			continue
		}
		libraries++
		license, err := FS.ReadFile("vendor/" + entry.Name() + "/LICENSE")
		require.NoError(t, err)
		assert.NotEmpty(t, license)
		assert.Contains(t, string(readme), "`"+entry.Name()+"`", "name the library, its version, license and source in vendor/README.md")
	}
	assert.Positive(t, libraries)
}

func readSums(t *testing.T) map[string]string {
	t.Helper()
	text, err := FS.ReadFile("vendor/SHA256SUMS")
	require.NoError(t, err)
	sums := map[string]string{}
	for line := range strings.Lines(string(text)) {
		hash, name, ok := strings.Cut(strings.TrimSpace(line), "  ")
		require.True(t, ok, "line %q of SHA256SUMS is not 'hash  file'", line)
		sums[name] = hash
	}
	require.NotEmpty(t, sums)
	return sums
}
