package dxf

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"scopewright/store/intake/building"
)

// pair is one group: a code and its value, which stays as bytes in a text file
// and is a number already in a binary one.
type pair struct {
	code   int
	text   []byte // not yet decoded
	num    float64
	binary bool // num holds the value
	line   int  // of the code in a text file; byte offset in a binary one
}

// pairs yields the groups of a file in order.
type pairs interface {
	next() (pair, bool, error)
	offset() int64
	place(line int) string
}

// textPairs reads the text form: two lines a group. Codes may be padded with
// blanks; lines end in CR LF, LF or CR.
type textPairs struct {
	data []byte
	at   int
	line int
	end  byte // '\n', or '\r' in files that have no other
}

func newTextPairs(data []byte) *textPairs {
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	t := &textPairs{data: data, end: '\n'}
	if head := data[:min(len(data), 4096)]; !bytes.Contains(head, []byte("\n")) && bytes.Contains(head, []byte("\r")) {
		t.end = '\r'
	}
	return t
}

func (t *textPairs) offset() int64         { return int64(t.at) }
func (t *textPairs) place(line int) string { return "line " + building.Count(line) }

func (t *textPairs) readLine() ([]byte, bool) {
	if t.at >= len(t.data) {
		return nil, false
	}
	rest := t.data[t.at:]
	t.line++
	i := bytes.IndexByte(rest, t.end)
	if i < 0 {
		t.at = len(t.data)
		return bytes.TrimSuffix(rest, []byte("\r")), true
	}
	t.at += i + 1
	return bytes.TrimSuffix(rest[:i], []byte("\r")), true
}

func (t *textPairs) next() (pair, bool, error) {
	head, ok := t.readLine()
	if !ok {
		return pair{}, false, nil
	}
	line := t.line
	code, err := strconv.Atoi(string(bytes.TrimSpace(head)))
	if err != nil {
		if len(bytes.TrimSpace(head)) == 0 && len(bytes.TrimSpace(t.data[t.at:])) == 0 {
			return pair{}, false, nil // blank lines behind the end
		}
		return pair{}, false, fmt.Errorf("line %s should hold a group code (a whole number) but holds %q: the file is damaged or no DXF drawing", building.Count(line), cut(string(head), 30))
	}
	value, ok := t.readLine()
	if !ok {
		return pair{}, false, nil // a code without its value: cut short
	}
	return pair{code: code, text: value, line: line}, true, nil
}

// number gives the group's value as a number. Only plain decimal notation
// counts: no NaN, infinity, hexadecimal digits or underscores.
func (p pair) number() (float64, error) {
	if p.binary {
		if math.IsNaN(p.num) || math.IsInf(p.num, 0) {
			return 0, fmt.Errorf("'%v' is not a number", p.num)
		}
		return p.num, nil
	}
	t := strings.TrimSpace(string(p.text))
	for _, r := range t {
		if !strings.ContainsRune("0123456789+-.eE", r) {
			return 0, fmt.Errorf("'%s' is not a number", cut(t, 30))
		}
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Errorf("'%s' is not a number", cut(t, 30))
	}
	return v, nil
}

// whole gives the value as an integer, 0 where it is none: flags and counts
// are believed only as far as they fit what follows.
func (p pair) whole() int {
	v, err := p.number()
	if err != nil || math.Abs(v) > 1e9 {
		return 0
	}
	return int(v)
}

func (p pair) is(code int, text string) bool {
	return p.code == code && !p.binary && strings.EqualFold(strings.TrimSpace(string(p.text)), text)
}

// cut shortens a text to at most n letters, for a message.
func cut(text string, n int) string {
	if r := []rune(text); len(r) > n {
		return string(r[:n]) + "..."
	}
	return text
}
