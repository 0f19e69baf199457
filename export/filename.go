package export

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// longestPart keeps a file name well below the 255 bytes that file systems take.
const longestPart = 40

// FileName gives a name that every file system takes: small ASCII letters, digits and
// dashes, no reserved names. Parts are the project's number or name, the kind, the room
// ("" for none), the revision ("" before the first issue) and the extension.
func FileName(project, kind, room, revision, ext string) string {
	parts := []string{part(project), part(kind)}
	if parts[0] == "" {
		parts[0] = "project"
	}
	if room = part(room); room != "" {
		parts = append(parts, room)
	}
	if revision = part(revision); revision != "" {
		parts = append(parts, "rev-"+revision)
	}
	return strings.Join(parts, "_") + "." + part(ext)
}

// part folds accents away and turns all else into dashes.
func part(text string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(text) {
		switch {
		case r >= 'A' && r <= 'Z', r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(unicode.ToLower(r))
		case !unicode.Is(unicode.Mn, r):
			gap = true
		}
		if b.Len() >= longestPart {
			break
		}
	}
	return b.String()
}
