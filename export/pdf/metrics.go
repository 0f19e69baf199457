package pdf

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// metrics is what laying out needs of a TrueType font: which characters it has and how
// wide they are. Widths are thousandths of the type size; -1 marks a missing character.
// Only the basic plane is read, because fpdf writes two bytes a character.
type metrics struct {
	width [1 << 16]int16
}

func (m *metrics) has(r rune) bool {
	return r >= 0 && int(r) < len(m.width) && m.width[r] >= 0
}

// readMetrics reads the tables head, hhea, hmtx and cmap (format 4) of a TrueType font.
// Source: ISO/IEC 14496-22 (Open Font Format), from memory.
func readMetrics(font []byte) (m *metrics, err error) {
	defer func() {
		if recover() != nil { // an index beyond the file: the tables lie about their size
			m, err = nil, errors.New("the embedded font is cut short")
		}
	}()
	tables := fontTables(font)
	for _, name := range []string{"head", "hhea", "hmtx", "cmap"} {
		if tables[name] == nil {
			return nil, fmt.Errorf("the embedded font has no %q table", name)
		}
	}
	unitsPerEm := int(u16(tables["head"], 18))
	longMetrics := int(u16(tables["hhea"], 34))
	hmtx := tables["hmtx"]
	advance := func(glyph int) int16 {
		glyph = min(glyph, longMetrics-1) // the last width stands for all that follow
		return int16((int(u16(hmtx, 4*glyph))*1000 + unitsPerEm/2) / unitsPerEm)
	}
	m = &metrics{}
	for i := range m.width {
		m.width[i] = -1
	}
	cmap, err := basicPlane(tables["cmap"])
	if err != nil {
		return nil, err
	}
	eachGlyph(cmap, func(char, glyph int) { m.width[char] = advance(glyph) })
	return m, nil
}

func u16(b []byte, at int) uint16 { return binary.BigEndian.Uint16(b[at:]) }
func u32(b []byte, at int) uint32 { return binary.BigEndian.Uint32(b[at:]) }

func fontTables(font []byte) map[string][]byte {
	tables := map[string][]byte{}
	for i := range int(u16(font, 4)) {
		entry := font[12+16*i:]
		at, size := u32(entry, 8), u32(entry, 12)
		tables[string(entry[:4])] = font[at : at+size]
	}
	return tables
}

func basicPlane(cmap []byte) ([]byte, error) {
	for i := range int(u16(cmap, 2)) {
		sub := cmap[u32(cmap, 4+8*i+4):]
		if u16(sub, 0) == 4 {
			return sub, nil
		}
	}
	return nil, errors.New("the embedded font has no character table of format 4")
}

// eachGlyph walks a format 4 table: runs of characters, each with an offset to glyphs.
func eachGlyph(sub []byte, visit func(char, glyph int)) {
	segments := int(u16(sub, 6)) / 2
	ends, starts := 14, 16+2*segments
	deltas, offsets := starts+2*segments, starts+4*segments
	for s := range segments {
		start, end := int(u16(sub, starts+2*s)), int(u16(sub, ends+2*s))
		delta, offset := int(u16(sub, deltas+2*s)), int(u16(sub, offsets+2*s))
		for char := start; char <= end && char < 0xFFFF; char++ {
			glyph := char
			if offset != 0 {
				glyph = int(u16(sub, offsets+2*s+offset+2*(char-start)))
				if glyph == 0 {
					continue
				}
			}
			if glyph = (glyph + delta) & 0xFFFF; glyph != 0 {
				visit(char, glyph)
			}
		}
	}
}
