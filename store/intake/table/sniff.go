package table

import (
	"bytes"
	"strings"
)

// magics are the first bytes of files that are often sent by mistake, with the
// sentence that helps. From the formats' own descriptions, from memory.
// Those that are plain letters count only where a zero byte follows soon: a
// room list may well start with "AC10".
var magics = []struct{ start, says string }{
	{"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1", "This is an old .xls workbook, or a workbook locked with a password. Open it and save it as .xlsx without a password, or as CSV."},
	{"%PDF", "This is a PDF. Ask for the table as .xlsx or CSV; a table in a PDF cannot be read safely."},
	{"\x89PNG", "This is a picture (PNG), not a table. Ask for the table as .xlsx or CSV."},
	{"\xFF\xD8\xFF", "This is a picture (JPEG), not a table. Ask for the table as .xlsx or CSV."},
	{"GIF8", "This is a picture (GIF), not a table. Ask for the table as .xlsx or CSV."},
	{"II*\x00", "This is a picture (TIFF), not a table. Ask for the table as .xlsx or CSV."},
	{"MM\x00*", "This is a picture (TIFF), not a table. Ask for the table as .xlsx or CSV."},
	{"RIFF", "This is a picture, a sound or a film, not a table. Ask for the table as .xlsx or CSV."},
	{"\x1F\x8B", "This is a packed file (gzip). Unpack it and choose the .xlsx or CSV file in it."},
	{"7z\xBC\xAF\x27\x1C", "This is a packed file (7z). Unpack it and choose the .xlsx or CSV file in it."},
	{"Rar!", "This is a packed file (RAR). Unpack it and choose the .xlsx or CSV file in it."},
	{"PK\x05\x06", "This is an empty packed file. Choose an .xlsx or CSV file."},
	{"{\\rtf", "This is a text document (RTF), not a table. Save the table in it as .xlsx or CSV."},
	{"\x7FELF", "This is a program, not a table. Choose an .xlsx or CSV file."},
	{"MZ\x90", "This is a program, not a table. Choose an .xlsx or CSV file."},
	{"SQLite format 3\x00", "This is a database, not a table. Choose an .xlsx or CSV file."},
	{"AC10", "This is a drawing (DWG), not a table. Export the room schedule from it as CSV."},
}

// sniff tells a workbook from text by content, for names lie, and refuses what
// is neither.
func sniff(data []byte) (kind Format, refusal string) {
	if len(bytes.TrimSpace(bytes.TrimPrefix(data, []byte(bomUTF8)))) == 0 {
		return "", "The file is empty. Check that it was saved, then choose it again."
	}
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		return Workbook, ""
	}
	for _, m := range magics {
		if bytes.HasPrefix(data, []byte(m.start)) && (!letters(m.start) || bytes.IndexByte(data[:min(len(data), 512)], 0) >= 0) {
			return "", m.says
		}
	}
	head := strings.ToLower(strings.TrimSpace(strings.TrimPrefix(string(data[:min(len(data), 400)]), bomUTF8)))
	switch {
	case strings.HasPrefix(head, "<!doctype html"), strings.HasPrefix(head, "<html"):
		return "", "This is a web page, perhaps with the ending .xls. Open it in a spreadsheet and save it as .xlsx or CSV."
	case strings.HasPrefix(head, "<?xml"):
		return "", "This is an XML file. Open it in a spreadsheet and save it as .xlsx or CSV."
	case strings.HasPrefix(head, `{"`), strings.HasPrefix(head, "{\n"), strings.HasPrefix(head, "{\r\n"):
		return "", "This looks like JSON, not a table. A whole project in an exchange file is imported as a project; a list must be .xlsx or CSV."
	}
	if binary(data) {
		return "", "This is not a table: most of it is not text. Choose an .xlsx or CSV file."
	}
	return CSV, ""
}

// letters tells that a magic could start a table too.
func letters(magic string) bool {
	return strings.IndexFunc(magic, func(r rune) bool {
		return !(r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r == '!')
	}) < 0
}

// binary tells text with a few stray bytes from something that is no text: of
// the first 4,096 bytes one in ten is a control character that no text editor
// writes. Text in UTF-16 has zero bytes, so files with its mark are let through.
func binary(data []byte) bool {
	if utf16Order(data) != 0 {
		return false
	}
	head := data[:min(len(data), 4096)]
	control := 0
	for _, b := range head {
		if b < ' ' && b != '\t' && b != '\n' && b != '\r' && b != '\f' || b == 0x7F {
			control++
		}
	}
	return control*10 > len(head)
}
