// Package static is the shelf of files that browsers fetch: style sheets, ES
// modules and the vendored browser libraries with their checksums and
// licenses. It only holds and names them; web serves them.
package static

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"sync"
)

// FS holds the files by their path below static/, for example "css/app.css".
//
//go:embed css js vendor icon.svg
var FS embed.FS

// Prefix is where web serves FS.
const Prefix = "/static/"

// versionLength is how many hex digits of the SHA-256 go into a URL.
const versionLength = 8

var hashes = sync.OnceValue(func() map[string]string { return hashAll(FS) })

// Path gives the URL of a file with a version that changes with its content,
// so that it may be cached for ever: "/static/css/app.css?v=1a2b3c4d". A name
// that is not on the shelf gets no version and will answer 404; a test looks
// for such names in the sources.
//
// A module that other modules import by a relative path ("./fields.js") is
// fetched without a version: serve those with the ETag of [Hash] and
// "no-cache", and do not also name them here, or the browser runs them twice.
func Path(name string) string {
	hash := Hash(name)
	if hash == "" {
		return Prefix + name
	}
	return Prefix + name + "?v=" + hash[:versionLength]
}

// Hash gives the SHA-256 of a file in hex, and "" when there is no such file.
func Hash(name string) string { return hashes()[name] }

// Current tells whether version is the one that [Path] gives for name: only
// then may an answer be marked as never changing.
func Current(name, version string) bool {
	hash := Hash(name)
	return hash != "" && version == hash[:versionLength]
}

func hashAll(files fs.FS) map[string]string {
	found := map[string]string{}
	// An embedded file system cannot fail to read what it lists.
	_ = fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(content)
		found[name] = hex.EncodeToString(sum[:])
		return nil
	})
	return found
}
