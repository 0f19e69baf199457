package dxf

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"

	"scopewright/store/intake/building"
)

// binaryMark opens a file in the binary form.
var binaryMark = []byte("AutoCAD Binary DXF\r\n\x1a\x00")

// valueKind tells how the value of a group is stored in the binary form.
type valueKind uint8

const (
	textValue valueKind = iota
	doubleValue
	byteValue
	shortValue
	longValue
	wideValue
	chunkValue
)

// kindOf gives the kind of value behind a group code (from memory of the
// format's reference, "Group code value types").
func kindOf(code int) valueKind {
	switch {
	case code >= 10 && code <= 59, code >= 110 && code <= 149, code >= 210 && code <= 239,
		code >= 460 && code <= 469, code >= 1010 && code <= 1059:
		return doubleValue
	case code >= 290 && code <= 299:
		return byteValue
	case code >= 60 && code <= 79, code >= 170 && code <= 179, code >= 270 && code <= 289,
		code >= 370 && code <= 389, code >= 400 && code <= 409, code >= 1060 && code <= 1070:
		return shortValue
	case code >= 90 && code <= 99, code >= 420 && code <= 429, code >= 440 && code <= 459, code == 1071:
		return longValue
	case code >= 160 && code <= 169:
		return wideValue
	case code >= 310 && code <= 319, code == 1004:
		return chunkValue
	}
	return textValue
}

// binaryPairs reads the binary form. Until R12 a code takes one byte (255
// announces two more), from R13 on two.
type binaryPairs struct {
	data  []byte
	at    int
	short bool
}

func newBinaryPairs(data []byte) *binaryPairs {
	at := len(binaryMark)
	// The first group is 0 SECTION: a second zero is the code's high byte.
	return &binaryPairs{data: data, at: at, short: len(data) > at+1 && data[at] == 0 && data[at+1] != 0}
}

func (b *binaryPairs) offset() int64       { return int64(b.at) }
func (b *binaryPairs) place(at int) string { return "byte " + building.Count(at) }

func (b *binaryPairs) take(n int) ([]byte, bool) {
	if n < 0 || len(b.data)-b.at < n {
		b.at = len(b.data)
		return nil, false
	}
	out := b.data[b.at : b.at+n]
	b.at += n
	return out, true
}

func (b *binaryPairs) code() (int, bool) {
	if b.short {
		one, ok := b.take(1)
		if !ok || one[0] != 255 {
			return codeOf(one), ok
		}
	}
	two, ok := b.take(2)
	if !ok {
		return 0, false
	}
	return int(int16(binary.LittleEndian.Uint16(two))), true
}

func codeOf(one []byte) int {
	if len(one) == 0 {
		return 0
	}
	return int(one[0])
}

func (b *binaryPairs) next() (pair, bool, error) {
	at := b.at
	code, ok := b.code()
	if !ok {
		return pair{}, false, nil
	}
	if code < -5 || code > 1071 {
		return pair{}, false, fmt.Errorf("byte %s should hold a group code but holds %d: the binary drawing is damaged", building.Count(at), code)
	}
	p := pair{code: code, line: at, binary: true}
	var raw []byte
	switch kindOf(code) {
	case textValue:
		p.binary = false
		end := bytes.IndexByte(b.data[b.at:], 0)
		if end < 0 {
			b.at = len(b.data)
			return pair{}, false, nil
		}
		p.text = b.data[b.at : b.at+end]
		b.at += end + 1
	case doubleValue:
		if raw, ok = b.take(8); ok {
			p.num = math.Float64frombits(binary.LittleEndian.Uint64(raw))
		}
	case byteValue:
		if raw, ok = b.take(1); ok {
			p.num = float64(raw[0])
		}
	case shortValue:
		if raw, ok = b.take(2); ok {
			p.num = float64(int16(binary.LittleEndian.Uint16(raw)))
		}
	case longValue:
		if raw, ok = b.take(4); ok {
			p.num = float64(int32(binary.LittleEndian.Uint32(raw)))
		}
	case wideValue:
		if raw, ok = b.take(8); ok {
			p.num = float64(int64(binary.LittleEndian.Uint64(raw)))
		}
	case chunkValue:
		if raw, ok = b.take(1); ok {
			_, ok = b.take(int(raw[0]))
		}
	}
	return p, ok, nil
}
