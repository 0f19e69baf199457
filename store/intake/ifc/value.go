package ifc

import (
	"math"
	"strconv"
	"strings"
)

// valueKind tells what an attribute holds.
type valueKind uint8

const (
	unset   valueKind = iota // $ or *
	number                   // 1, -2.5E-3
	text                     // 'words'
	word                     // .ENUM.
	ref                      // #12
	list                     // (...)
	wrapped                  // IFCLABEL('words'): a list with the type's name
)

// value is one attribute.
type value struct {
	kind  valueKind
	num   float64
	id    int
	words string
	list  []value
}

// at gives a part of a list, unset where there is none.
func (v value) at(i int) value {
	if i < 0 || i >= len(v.list) {
		return value{}
	}
	return v.list[i]
}

// bare takes the type's name off a value that carries one.
func (v value) bare() value {
	for n := 0; v.kind == wrapped && n < maxDepth; n++ {
		v = v.at(0)
	}
	return v
}

// float gives the number, and false where it is none or out of reach.
func (v value) float() (float64, bool) {
	v = v.bare()
	return v.num, v.kind == number && math.Abs(v.num) <= 1e12
}

func (v value) string() string {
	v = v.bare()
	if v.kind != text {
		return ""
	}
	return v.words
}

// refs gives the ids of a list of references, or of a single one.
func (v value) refs() (out []int) {
	if v.kind == ref {
		return []int{v.id}
	}
	for _, e := range v.list {
		if e.kind == ref {
			out = append(out, e.id)
		}
	}
	return out
}

// args reads the attributes of an instance; none where it does not exist.
func (f *file) args(id int) value {
	in, ok := f.find(id)
	if !ok || f.values > maxValues {
		return value{}
	}
	if f.calls++; f.calls%4096 == 0 && f.ctx.Err() != nil {
		return value{} // the step that asked ends soon and gives the reason
	}
	p := valueParser{f: f, data: f.data[in.from:in.to]}
	return value{kind: list, list: p.list(0)}
}

// kindOf gives the kind of an instance, "" where it does not exist.
func (f *file) kindOf(id int) string {
	in, _ := f.find(id)
	return in.kind
}

type valueParser struct {
	f    *file
	data []byte
	at   int
}

func (p *valueParser) blank() { p.at += blanks(p.data[p.at:]) }

// list reads values up to the closing bracket or the end.
func (p *valueParser) list(depth int) (out []value) {
	for {
		p.blank()
		if p.at >= len(p.data) {
			return out
		}
		switch p.data[p.at] {
		case ')':
			p.at++
			return out
		case ',':
			p.at++
			continue
		}
		if p.f.values++; p.f.values > maxValues || depth > maxDepth {
			p.at = len(p.data)
			return out
		}
		out = append(out, p.value(depth))
	}
}

func (p *valueParser) value(depth int) value {
	switch c := p.data[p.at]; {
	case c == '(':
		p.at++
		return value{kind: list, list: p.list(depth + 1)}
	case c == '\'':
		return value{kind: text, words: decode(p.quoted())}
	case c == '#':
		p.at++
		n, err := strconv.Atoi(p.run(func(c byte) bool { return c >= '0' && c <= '9' }))
		if err != nil {
			return value{}
		}
		return value{kind: ref, id: n}
	case c == '.' && !p.digitNext():
		p.at++
		w := p.run(isLetter)
		if p.at < len(p.data) && p.data[p.at] == '.' {
			p.at++
		}
		return value{kind: word, words: strings.ToUpper(w)}
	case c == '+' || c == '-' || c == '.' || c >= '0' && c <= '9':
		v, err := strconv.ParseFloat(p.run(isNumeral), 64)
		if err != nil || math.IsInf(v, 0) {
			return value{}
		}
		return value{kind: number, num: v}
	case isLetter(c):
		name := p.run(isLetter)
		p.blank()
		if p.at < len(p.data) && p.data[p.at] == '(' {
			p.at++
			return value{kind: wrapped, words: strings.ToUpper(name), list: p.list(depth + 1)}
		}
		return value{}
	}
	p.at++ // $, * and what no value starts with
	return value{}
}

func (p *valueParser) digitNext() bool {
	return p.at+1 < len(p.data) && p.data[p.at+1] >= '0' && p.data[p.at+1] <= '9'
}

func (p *valueParser) run(is func(byte) bool) string {
	from := p.at
	for p.at < len(p.data) && is(p.data[p.at]) {
		p.at++
	}
	return string(p.data[from:p.at])
}

func isLetter(c byte) bool {
	return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c == '_' || c >= '0' && c <= '9'
}

func isNumeral(c byte) bool {
	return c >= '0' && c <= '9' || c == '+' || c == '-' || c == '.' || c == 'e' || c == 'E'
}

// quoted gives what stands between quotes, doubled ones still doubled.
func (p *valueParser) quoted() []byte {
	p.at++
	from := p.at
	for p.at < len(p.data) {
		if p.data[p.at] == '\'' {
			if p.at+1 < len(p.data) && p.data[p.at+1] == '\'' {
				p.at += 2
				continue
			}
			p.at++
			return p.data[from : p.at-1]
		}
		p.at++
	}
	return p.data[from:]
}
