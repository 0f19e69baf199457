package exchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"scopewright/domain"
)

// Sizes that no honest file reaches. A project of 10,000 rooms without
// typicals takes some 100 MB.
const (
	MaxBytes = 256 << 20
	maxDepth = 64
)

// checkBytes refuses what is no JSON document of ours before anything is made
// of it: nothing at all, other kinds of files, bytes that are no UTF-8, broken
// JSON, names given twice, depth without end.
func checkBytes(data []byte) error {
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return refuse("", "the file is empty: choose the file that export wrote")
	case bytes.IndexByte(data, 0) >= 0:
		return refuse("", "this is a binary file, not an exchange file: choose the file that export wrote")
	case !utf8.Valid(data):
		return refuse("", "line %d holds bytes that are not UTF-8: save the file as UTF-8", lineOf(data, invalidAt(data)))
	}
	var syntax *json.SyntaxError
	if err := json.Unmarshal(data, &struct{}{}); errors.As(err, &syntax) {
		return syntaxProblem(data, syntax)
	}
	return scan(data)
}

func syntaxProblem(data []byte, e *json.SyntaxError) error {
	line := lineOf(data, int(e.Offset)-1)
	switch text := e.Error(); {
	case strings.Contains(text, "unexpected end"):
		return refuse("", "the file ends in the middle, at line %d: it was cut off, fetch it again", line)
	case strings.Contains(text, "after top-level value"):
		return refuse("", "line %d: something follows after the end of the document: take it out", line)
	case strings.Contains(text, "max depth"):
		return refuse("", "line %d: the document nests deeper than %d levels", line, maxDepth)
	case line == 1 && data[0] != '{':
		return refuse("", "this is not an exchange file: it does not start as JSON")
	default:
		return refuse("", "line %d is not JSON: %s", line, text)
	}
}

func invalidAt(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

func lineOf(data []byte, at int) int {
	return 1 + bytes.Count(data[:min(max(at, 0), len(data))], []byte("\n"))
}

// frame is an object or a list that the scan is inside of.
type frame struct {
	names map[string]bool // nil: a list
	name  string          // the newest, or
	index int
	key   bool // the next string is a name
}

// scan walks valid JSON and refuses a name that an object has twice, of which
// the decoder would silently keep the last, and too much depth.
func scan(data []byte) error {
	var in []frame
	for i := 0; i < len(data); i++ {
		switch data[i] {
		case '{', '[':
			if len(in) == maxDepth {
				return refuse("", "line %d: the document nests deeper than %d levels", lineOf(data, i), maxDepth)
			}
			f := frame{}
			if data[i] == '{' {
				f.names, f.key = map[string]bool{}, true
			}
			in = append(in, f)
		case '}', ']':
			in = in[:len(in)-1]
		case ',':
			f := &in[len(in)-1]
			f.key = f.names != nil
			f.index++
		case ':':
			in[len(in)-1].key = false
		case '"':
			end := endOfString(data, i)
			if len(in) > 0 && in[len(in)-1].key {
				if name, twice := in[len(in)-1].take(data[i : end+1]); twice {
					return refuse(pointer(in), "line %d: %q stands here twice: keep one", lineOf(data, i), short(name))
				}
			}
			i = end
		}
	}
	return nil
}

// take notes a name and tells whether it was there before.
func (f *frame) take(quoted []byte) (name string, twice bool) {
	name = string(quoted[1 : len(quoted)-1])
	if strings.IndexByte(name, '\\') >= 0 {
		_ = json.Unmarshal(quoted, &name) // the whole document is valid
	}
	f.name, twice = name, f.names[name]
	f.names[name] = true
	return name, twice
}

func endOfString(data []byte, at int) int {
	for at++; data[at] != '"'; at++ {
		if data[at] == '\\' {
			at++
		}
	}
	return at
}

func pointer(in []frame) string {
	var b strings.Builder
	for _, f := range in {
		b.WriteByte('/')
		if f.names == nil {
			b.WriteString(strconv.Itoa(f.index))
		} else {
			b.WriteString(escaped(f.name))
		}
	}
	return b.String()
}

func escaped(step string) string {
	return strings.NewReplacer("~", "~0", "/", "~1").Replace(short(step))
}

func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:57]) + "..."
	}
	return s
}

// Refused says why a file was not taken in. Nothing of it was used.
type Refused struct{ Problems []domain.Problem }

func (r *Refused) Error() string {
	const shown = 10
	var b strings.Builder
	for i, p := range r.Problems {
		if i == shown {
			fmt.Fprintf(&b, "\nand %d more", len(r.Problems)-shown)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		if p.Path == "" {
			b.WriteString(p.Message)
		} else {
			b.WriteString(p.String())
		}
	}
	return b.String()
}

func refuse(path, format string, args ...any) error {
	return &Refused{[]domain.Problem{{Path: path, Message: fmt.Sprintf(format, args...)}}}
}
