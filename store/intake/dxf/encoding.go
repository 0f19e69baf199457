package dxf

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// codePages are the values of $DWGCODEPAGE, in force until release 2004
// (source: ezdxf documentation, dxfinternals/fileencoding).
var codePages = map[string]encoding.Encoding{
	"874": charmap.Windows874, "932": japanese.ShiftJIS, "936": simplifiedchinese.GBK,
	"949": korean.EUCKR, "950": traditionalchinese.Big5,
	"1250": charmap.Windows1250, "1251": charmap.Windows1251, "1252": charmap.Windows1252,
	"1253": charmap.Windows1253, "1254": charmap.Windows1254, "1255": charmap.Windows1255,
	"1256": charmap.Windows1256, "1257": charmap.Windows1257, "1258": charmap.Windows1258,
}

// decoder turns bytes of the file into text.
type decoder struct {
	name string
	page encoding.Encoding // nil: UTF-8
}

// newDecoder chooses by the header. A file that names no code page (R12 from a
// modern program) is UTF-8 if its letters are.
func newDecoder(version, page string, data []byte) decoder {
	if version >= "AC1021" {
		return decoder{name: "UTF-8"}
	}
	number := strings.TrimLeft(page, "ANSIansidDOo_ ")
	if enc, ok := codePages[number]; ok {
		return decoder{name: "ANSI_" + number, page: enc}
	}
	if utf8.Valid(data) {
		return decoder{name: "UTF-8"}
	}
	return decoder{name: "ANSI_1252", page: charmap.Windows1252}
}

var escaped = regexp.MustCompile(`\\U\+([0-9A-Fa-f]{4})`)

// text decodes a value, its \U+nnnn escapes included, and drops control
// characters. What cannot be decoded as UTF-8 is taken as Windows-1252, in
// which most such files turn out to be.
func (d decoder) text(raw []byte) string {
	if len(raw) > maxTextBytes {
		raw = raw[:maxTextBytes]
		for i := 0; i < utf8.UTFMax && len(raw) > 0 && !utf8.RuneStart(raw[len(raw)-1]); i++ {
			raw = raw[:len(raw)-1] // a letter cut in two
		}
		if n := len(raw); n > 0 && raw[n-1] >= utf8.RuneSelf {
			raw = raw[:n-1]
		}
	}
	page := d.page
	if page == nil && !utf8.Valid(raw) {
		page = charmap.Windows1252
	}
	s := string(raw)
	if page != nil {
		if out, err := page.NewDecoder().Bytes(raw); err == nil {
			s = string(out)
		}
	}
	s = strings.ToValidUTF8(s, "\uFFFD")
	if strings.Contains(s, `\U+`) {
		s = escaped.ReplaceAllStringFunc(s, func(m string) string {
			v, err := strconv.ParseUint(m[3:], 16, 32)
			if err != nil || !utf8.ValidRune(rune(v)) {
				return m
			}
			return string(rune(v))
		})
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u202e' || r == '\u202d' || r == '\u2066' || r == '\u2067' {
			return -1
		}
		return r
	}, s)
}
