package building

import (
	"bytes"
	"strings"
)

// FileKind is what a file is, told from its first bytes and never its name.
type FileKind string

// Kinds of file that people bring for a plan. Those that no reader takes are
// told apart so that a sentence can name them.
const (
	UnknownFile FileKind = ""
	EmptyFile   FileKind = "empty"
	GBXMLFile   FileKind = "gbXML"
	DXFFile     FileKind = "DXF"
	DXFBinary   FileKind = "binary DXF"
	IFCFile     FileKind = "IFC"
	PNGFile     FileKind = "PNG"
	JPEGFile    FileKind = "JPEG"
	PDFFile     FileKind = "PDF"
	DWGFile     FileKind = "DWG"
	ZIPFile     FileKind = "ZIP"
	GZIPFile    FileKind = "GZIP"
	HTMLFile    FileKind = "HTML"
	XMLFile     FileKind = "XML" // with another root than gbXML
)

// HeadSize is how many bytes KindOf likes to see.
const HeadSize = 4096

// KindOf tells a file's kind from its first bytes.
func KindOf(head []byte) FileKind {
	for _, m := range []struct {
		start string
		kind  FileKind
	}{
		{"PK\x03\x04", ZIPFile}, {"\x1f\x8b", GZIPFile}, {"%PDF-", PDFFile}, {"\x89PNG\r\n\x1a\n", PNGFile}, {"\xff\xd8\xff", JPEGFile},
		{"AutoCAD Binary DXF", DXFBinary}, {"AC10", DWGFile},
	} {
		if bytes.HasPrefix(head, []byte(m.start)) {
			return m.kind
		}
	}
	text := strings.TrimSpace(plainText(head))
	switch {
	case text == "" && len(head) < HeadSize:
		return EmptyFile
	case strings.HasPrefix(text, "ISO-10303-21"):
		return IFCFile
	case strings.HasPrefix(text, "<"):
		return xmlKind(text)
	case looksLikeDXF(text):
		return DXFFile
	}
	return UnknownFile
}

func xmlKind(text string) FileKind {
	lower := strings.ToLower(text)
	switch {
	case strings.Contains(lower, "<gbxml") || strings.Contains(lower, ":gbxml"):
		return GBXMLFile
	case strings.Contains(lower, "<html") || strings.HasPrefix(lower, "<!doctype html"):
		return HTMLFile
	}
	return XMLFile
}

// looksLikeDXF sees a group code on the first line: comments (999) may stand
// before the first section (0 SECTION).
func looksLikeDXF(text string) bool {
	line, rest, more := strings.Cut(text, "\n")
	if !more {
		return false
	}
	value, _, _ := strings.Cut(rest, "\n")
	switch strings.TrimSpace(line) {
	case "0":
		return strings.EqualFold(strings.TrimSpace(value), "SECTION")
	case "999":
		return true
	}
	return false
}

// plainText takes byte order marks off and the zero bytes of UTF-16 out, which
// is enough to tell a kind.
func plainText(head []byte) string {
	head = bytes.TrimPrefix(head, []byte("\xef\xbb\xbf"))
	wide := bytes.HasPrefix(head, []byte("\xff\xfe")) || bytes.HasPrefix(head, []byte("\xfe\xff"))
	if wide {
		head = head[2:]
	}
	if wide || bytes.HasPrefix(head, []byte("<\x00")) || bytes.HasPrefix(head, []byte("\x00<")) {
		head = bytes.ReplaceAll(head, []byte{0}, nil)
	}
	return strings.ToValidUTF8(string(head), "?")
}

// Sentence says what the file is where another kind was expected.
func (k FileKind) Sentence(expected FileKind) string {
	switch k {
	case EmptyFile:
		return "The file is empty."
	case ZIPFile:
		return "This is a ZIP archive; unpack it first."
	case GZIPFile:
		return "This is a compressed (GZIP) file; unpack it first."
	case DWGFile:
		return "This is a DWG drawing, not " + string(expected) + ". Save it as DXF."
	case UnknownFile:
		return "This is not a " + string(expected) + " file, nor another kind of plan that can be read here."
	case XMLFile:
		return "This is an XML file, but not " + string(expected) + "."
	case PNGFile, JPEGFile:
		return "This is a picture (" + string(k) + "), not " + string(expected) + ". It can be placed under a storey."
	}
	return "This is a file in " + string(k) + ", not " + string(expected) + "."
}
