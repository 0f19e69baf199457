package ifc

import (
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"scopewright/store/intake/building"
)

// pages are the alphabets that \PA\ ... \PI\ choose for \S\: ISO 8859-1 to -9
// (ISO 10303-21, from memory).
var pages = []*charmap.Charmap{
	charmap.ISO8859_1, charmap.ISO8859_2, charmap.ISO8859_3, charmap.ISO8859_4, charmap.ISO8859_5,
	charmap.ISO8859_6, charmap.ISO8859_7, charmap.ISO8859_8, charmap.ISO8859_9,
}

// decode turns the inside of a quoted text into words fit to show: doubled
// quotes, \\, \S\c, \X\hh, \X2\hhhh...\X0\ and \X4\hhhhhhhh...\X0\.
func decode(raw []byte) string {
	if len(raw) > 10_000 {
		raw = raw[:10_000]
	}
	s := string(raw)
	if !utf8.ValidString(s) { // beyond the standard, yet written
		if out, err := charmap.Windows1252.NewDecoder().String(s); err == nil {
			s = out
		}
	}
	var b strings.Builder
	page := pages[0]
	for i := 0; i < len(s); {
		switch rest := s[i:]; {
		case strings.HasPrefix(rest, "''"):
			b.WriteByte('\'')
			i += 2
		case strings.HasPrefix(rest, `\\`):
			b.WriteByte('\\')
			i += 2
		case strings.HasPrefix(rest, `\S\`) && len(rest) > 3:
			b.WriteRune(page.DecodeByte(rest[3] | 0x80))
			i += 4
		case strings.HasPrefix(rest, `\P`) && len(rest) > 3 && rest[3] == '\\' && rest[2] >= 'A' && rest[2] <= 'I':
			page = pages[rest[2]-'A']
			i += 4
		case strings.HasPrefix(rest, `\X\`) && len(rest) > 4:
			if v, err := strconv.ParseUint(rest[3:5], 16, 8); err == nil {
				b.WriteRune(rune(v))
			}
			i += 5
		case strings.HasPrefix(rest, `\X2\`), strings.HasPrefix(rest, `\X4\`):
			hex, after, _ := strings.Cut(rest[4:], `\X0\`)
			b.WriteString(fromHex(hex, rest[2] == '4'))
			i = len(s) - len(after)
		default:
			b.WriteByte(s[i])
			i++
		}
	}
	clean, _ := building.CleanText(b.String())
	return clean
}

// fromHex reads UTF-16 in groups of four digits, or whole letters in eight.
func fromHex(hex string, wide bool) string {
	size := 4
	if wide {
		size = 8
	}
	var units []uint16
	var b strings.Builder
	for ; len(hex) >= size; hex = hex[size:] {
		v, err := strconv.ParseUint(hex[:size], 16, 32)
		if err != nil {
			break
		}
		if wide {
			if utf8.ValidRune(rune(v)) {
				b.WriteRune(rune(v))
			}
			continue
		}
		units = append(units, uint16(v))
	}
	return b.String() + string(utf16.Decode(units))
}
