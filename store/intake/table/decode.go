package table

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

const (
	bomUTF8    = "\uFEFF"
	bomLittle  = "\xFF\xFE"
	bomBig     = "\xFE\xFF"
	little     = 'l'
	big        = 'b'
	sampleUTF8 = 2048 // bytes looked at for UTF-16 without a mark
)

// utf16Order gives the byte order of text in UTF-16, 0 for other text. Without
// a byte order mark it goes by the zero bytes that Latin letters have there.
func utf16Order(data []byte) rune {
	switch {
	case bytes.HasPrefix(data, []byte(bomLittle)):
		return little
	case bytes.HasPrefix(data, []byte(bomBig)):
		return big
	}
	head := data[:min(len(data), sampleUTF8)&^1]
	var zeros [2]int
	for i, b := range head {
		if b == 0 {
			zeros[i%2]++
		}
	}
	most := len(head) / 2
	switch {
	case most < 4:
		return 0
	case zeros[1]*10 > most*6 && zeros[0]*10 < most:
		return little
	case zeros[0]*10 > most*6 && zeros[1]*10 < most:
		return big
	}
	return 0
}

// decode gives the text of a CSV file as valid UTF-8, and says what it assumed.
func decode(data []byte) (text, note string, err error) {
	if order := utf16Order(data); order != 0 {
		return decodeUTF16(data, order)
	}
	data = bytes.TrimPrefix(data, []byte(bomUTF8))
	if i := bytes.IndexByte(data, 0); i >= 0 {
		return "", "", fmt.Errorf("line %d holds a zero byte, so this is not plain text: save the table again as CSV (UTF-8) or .xlsx", lineAt(data, i))
	}
	if utf8.Valid(data) {
		return string(data), "", nil
	}
	bad := firstInvalid(data)
	decoded, err := charmap.Windows1252.NewDecoder().Bytes(data)
	if err != nil {
		return "", "", fmt.Errorf("line %d holds letters in an unknown encoding: save the table again as CSV (UTF-8) or .xlsx", lineAt(data, bad))
	}
	return string(decoded), fmt.Sprintf("The file is not UTF-8 (first seen on line %d); it was read as Windows-1252. Look at names with accents.", lineAt(data, bad)), nil
}

func decodeUTF16(data []byte, order rune) (text, note string, err error) {
	endian := unicode.LittleEndian
	if order == big {
		endian = unicode.BigEndian
	}
	decoded, err := unicode.UTF16(endian, unicode.UseBOM).NewDecoder().Bytes(data)
	if err != nil {
		return "", "", fmt.Errorf("the file starts like UTF-16 text but cannot be read as such: save the table again as CSV (UTF-8) or .xlsx")
	}
	text = strings.TrimPrefix(string(decoded), bomUTF8)
	if i := strings.IndexByte(text, 0); i >= 0 {
		return "", "", fmt.Errorf("line %d holds a zero letter, so this is not plain text: save the table again as CSV (UTF-8) or .xlsx", lineAt([]byte(text), i))
	}
	if i := strings.IndexRune(text, utf8.RuneError); i >= 0 {
		note = fmt.Sprintf("Line %d holds letters that could not be read as UTF-16; they show as %c.", lineAt([]byte(text), i), utf8.RuneError)
	}
	return text, note, nil
}

func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(data)
}

// lineAt gives the line, from 1, that holds the byte at an offset.
func lineAt(data []byte, offset int) int {
	line := 1
	for i := range offset {
		if data[i] == '\n' || data[i] == '\r' && (i+1 >= len(data) || data[i+1] != '\n') {
			line++
		}
	}
	return line
}
