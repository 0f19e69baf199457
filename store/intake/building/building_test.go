package building

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestKindOf(t *testing.T) {
	for head, want := range map[string]FileKind{
		"":                                        EmptyFile,
		"\xef\xbb\xbf \r\n":                       EmptyFile,
		"\xef\xbb\xbf<?xml?><gbXML>":              GBXMLFile,
		"\xff\xfe<\x00g\x00b\x00X\x00M\x00L":      GBXMLFile,
		"\x00<\x00g\x00b\x00X\x00M\x00L":          GBXMLFile,
		"<?xml?><a:gbXML xmlns:a='x'>":            GBXMLFile,
		"<?xml?><!-- B\xc3\xbcro \xe9 --><gbXML>": GBXMLFile,
		"<!DOCTYPE html>":                         HTMLFile,
		"<svg>":                                   XMLFile,
		"  0\r\nSECTION\r\n  2\r\nHEADER":         DXFFile,
		"999\nmade by hand\n0\nSECTION":           DXFFile,
		"0\nbanana":                               UnknownFile,
		"AutoCAD Binary DXF\r\n\x1a\x00":          DXFBinary,
		"AC1027":                                  DWGFile,
		"ISO-10303-21;":                           IFCFile,
		"\n ISO-10303-21;":                        IFCFile,
		"\x89PNG\r\n\x1a\n":                       PNGFile,
		"\xff\xd8\xff\xe0":                        JPEGFile,
		"%PDF-1.7":                                PDFFile,
		"PK\x03\x04":                              ZIPFile,
		"\x1f\x8b\x08":                            GZIPFile,
		"Number;Name":                             UnknownFile,
		strings.Repeat(" ", HeadSize):             UnknownFile,
	} {
		assert.Equal(t, want, KindOf([]byte(head)), "%q", head)
	}
}

func TestProblemList_keepsSomeAndCountsTheRest(t *testing.T) {
	l := ProblemList{PerKind: 2}
	for range 1500 {
		l.Add("doors without a wall", "Door 1", "A door stands alone.")
	}
	l.Add("odd names", "", "One %s.", "name")
	all := l.All()
	assert.Len(t, all, 4)
	assert.Equal(t, "One name.", all[2].Message)
	assert.Equal(t, "And 1,498 more: doors without a wall.", all[3].Message)
	assert.Len(t, l.All(), 4, "asking twice gives the same")
}

func TestNumbersInSentences(t *testing.T) {
	assert.Equal(t, "0", Count(0))
	assert.Equal(t, "999", Count(999))
	assert.Equal(t, "-1,000,000", Count(int64(-1000000)))
	assert.Equal(t, "1,042.7 m2", SquareMeters(1042.68))
	assert.Equal(t, "9.99 m2", SquareMeters(9.99))
	assert.Equal(t, "1,234,567.0 m2", SquareMeters(1234567))
}

func TestCleanText(t *testing.T) {
	clean, cut := CleanText(" A\tB\r\n\x00C\u202E\u200E  D ")
	assert.Equal(t, "A B C D", clean)
	assert.False(t, cut)
	clean, cut = CleanText(strings.Repeat("é", 300))
	assert.True(t, cut)
	assert.Equal(t, LongestText, len([]rune(clean)))
}

func TestRefusal(t *testing.T) {
	cause := errors.New("x")
	err := error(&Refusal{Message: "No.", Cause: cause})
	assert.ErrorIs(t, err, cause)
	assert.EqualError(t, Refuse("At most %d.", 3), "At most 3.")
}
