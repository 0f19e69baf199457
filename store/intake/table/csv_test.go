package table

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/charmap"
	"pgregory.net/rapid"
)

func read(t *testing.T, text string) *Table {
	t.Helper()
	got, err := Read("list.csv", []byte(text), Options{})
	require.NoError(t, err)
	return got
}

func cells(t *Table) [][]string {
	var out [][]string
	for _, r := range t.Rows {
		out = append(out, r.Cells)
	}
	return out
}

func TestRead_findsTheSeparator(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		sep  rune
	}{
		"comma":                        {"No,Name,Area\n1,Lobby,20\n2,Hall,30\n", ','},
		"semicolon with decimal comma": {"No;Name;Area;Height\n1;Lobby;80,3;2,7\n2;Hall;12,5;2,7\n", ';'},
		"only decimal commas":          {"No;Area\n1,1;80,3\n1,2;12,5\n", ';'},
		"tab":                          {"No\tName\n1\tLobby, main\n", '\t'},
		"pipe":                         {"No|Name\n1|Lobby\n", '|'},
		"semicolons in remarks":        {"No,Name,Notes\n1,Lobby,a; b\n2,Hall,c; d\n3,Stair,e\n", ','},
		"commas within quotes":         {"No;Name\n1;\"a,b,c\"\n2;\"d,e,f\"\n", ';'},
		"said by the file":             {"sep=|\nNo|Name, or so\n1|Lobby, main\n", '|'},
		"titles above":                 {"Invented building\n\nNo;Name;Area\n1;a;1,5\n2;b;2,5\n", ';'},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, string(c.sep), string(read(t, c.text).Separator))
		})
	}
}

// RFC 4180, section 2, points 1 to 7, and what people write beyond it.
func TestRead_quotationMarksAndLineEndings(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want [][]string
	}{
		"RFC 4180 point 1, CRLF":            {"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"RFC 4180 point 2, no last CRLF":    {"aaa,bbb,ccc\r\nzzz,yyy,xxx", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"RFC 4180 point 5, quoted":          {"\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"RFC 4180 point 6, break in a cell": {"\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", [][]string{{"aaa", "b\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"RFC 4180 point 7, doubled":         {"\"aaa\",\"b\"\"bb\",\"ccc\"", [][]string{{"aaa", "b\"bb", "ccc"}}},
		"CR alone":                          {"a,b\rc,d\r", [][]string{{"a", "b"}, {"c", "d"}}},
		"marks of feet and inches":          {"101,9'-6\",x\n102,\"9'-0\"\"\",y\n", [][]string{{"101", "9'-6\"", "x"}, {"102", "9'-0\"", "y"}}},
		"letters after the closing mark":    {"\"2x4\" troffer,b\nc,d\n", [][]string{{"2x4 troffer", "b"}, {"c", "d"}}},
		"blank before the mark":             {"a, \"b, c\"\nd,e\n", [][]string{{"a", "b, c"}, {"d", "e"}}},
		"ragged rows":                       {"a,b,c\nd\n\ne,f,g,h,,,\n", [][]string{{"a", "b", "c"}, {"d"}, {"e", "f", "g", "h"}}},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := Read("x.csv", []byte(c.text), Options{Separator: ','})
			require.NoError(t, err)
			assert.Equal(t, c.want, cells(got))
		})
	}
}

func TestRead_linesAreThoseOfTheFile(t *testing.T) {
	got := read(t, "a,b\r\n\r\n\"c\r\nc\",d\r\ne,f\r\n")
	var lines []int
	for _, r := range got.Rows {
		lines = append(lines, r.Line)
	}
	assert.Equal(t, []int{1, 3, 5}, lines)
}

func TestRead_encodings(t *testing.T) {
	const text = "No;Name\n1;Entrée – Łódź\n2;Größe\n"
	want := [][]string{{"No", "Name"}, {"1", "Entrée – Łódź"}, {"2", "Größe"}}
	utf16 := func(mark string, low, high int) []byte {
		out := []byte(mark)
		for _, r := range text {
			pair := [2]byte{}
			pair[low], pair[high] = byte(r), byte(r>>8)
			out = append(out, pair[:]...)
		}
		return out
	}
	for name, data := range map[string][]byte{
		"UTF-8":                             []byte(text),
		"UTF-8 with mark":                   []byte("\xEF\xBB\xBF" + text),
		"UTF-16 little endian":              utf16("\xFF\xFE", 0, 1),
		"UTF-16 big endian":                 utf16("\xFE\xFF", 1, 0),
		"UTF-16 little endian without mark": utf16("", 0, 1),
	} {
		t.Run(name, func(t *testing.T) {
			got, err := Read("x", data, Options{})
			require.NoError(t, err)
			assert.Equal(t, want, cells(got))
			assert.Empty(t, got.Notes)
		})
	}
	t.Run("Windows-1252, and says so with the line", func(t *testing.T) {
		data, err := charmap.Windows1252.NewEncoder().Bytes([]byte("No;Name\n1;Hall\n2;Café – „Ost“\n"))
		require.NoError(t, err)
		got, err := Read("x", data, Options{})
		require.NoError(t, err)
		assert.Equal(t, "Café – „Ost“", got.Rows[2].Cells[1])
		require.Len(t, got.Notes, 1)
		assert.Contains(t, got.Notes[0], "line 3")
		assert.Contains(t, got.Notes[0], "Windows-1252")
	})
	t.Run("a zero byte is refused with its line", func(t *testing.T) {
		_, err := Read("x", []byte("No,Name of a room\n1,Hall and more text\n2,H\x00ll\n"), Options{})
		assert.ErrorContains(t, err, "line 3 holds a zero byte")
	})
}

func TestRead_saysWhatAFileIsThatIsNoTable(t *testing.T) {
	for data, says := range map[string]string{
		"":                                 "The file is empty",
		"\xEF\xBB\xBF\r\n  \n":             "The file is empty",
		",,,\n , ,\n":                      "every line of it is blank",
		"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1": "old .xls workbook",
		"%PDF-1.7\n":                       "This is a PDF",
		"\x89PNG\r\n\x1a\n":                "picture (PNG)",
		"\xFF\xD8\xFF\xE0":                 "picture (JPEG)",
		"\x1F\x8B\x08\x00":                 "gzip",
		"\x7FELF\x02\x01":                  "a program",
		"<!DOCTYPE html><table>":           "a web page",
		"<?xml version=\"1.0\"?><a/>":      "an XML file",
		"{\"project\": 1}":                 "looks like JSON",
		"\x01\x02\x03\x04\x05\x06ab\x07":   "most of it is not text",
		"PK\x03\x04 and no more":           "damaged or cut off",
		"AC1032\x00\x00\x00":               "a drawing (DWG)",
	} {
		_, err := Read("x", []byte(data), Options{})
		assert.ErrorContains(t, err, says, "%q", data)
	}
	assert.Equal(t, "AC10", read(t, "AC10,Plant\nAC11,Plant\n").Rows[0].Cells[0], "a room number that looks like a drawing's first bytes")
}

func TestRead_quotationMarkNeverClosed(t *testing.T) {
	_, err := Read("x", []byte("a,b\nc,\"d\ne,f\n"), Options{})
	assert.ErrorContains(t, err, "opens on line 2")
}

func rowsOf(n int) []byte {
	var b bytes.Buffer
	for i := range n {
		fmt.Fprintf(&b, "%d,Room %d,Level %d,%d.5,2.7,yes,%d\n", i, i, i%9, i%300, i%40)
	}
	return b.Bytes()
}

func TestRead_limits(t *testing.T) {
	t.Run("letters of a cell", func(t *testing.T) {
		read(t, "a,b\nc,"+strings.Repeat("é", 10_000)+"\n")
		_, err := Read("x", []byte("a,b\nc,"+strings.Repeat("é", 10_001)+"\n"), Options{})
		assert.ErrorContains(t, err, "line 2, column 2: the cell has 10,001 letters")
	})
	t.Run("columns", func(t *testing.T) {
		read(t, strings.Repeat("a,", 511)+"a\n")
		_, err := Read("x", []byte("a,b\n"+strings.Repeat("a,", 512)+"a\n"), Options{})
		assert.ErrorContains(t, err, "line 2 has a cell in column 513")
		read(t, "a"+strings.Repeat(",", 5000)+"\n") // blank ones cost nothing
	})
	t.Run("rows are counted to the end", func(t *testing.T) {
		_, err := Read("x", rowsOf(102_000), Options{})
		assert.ErrorContains(t, err, "102,000 rows")
	})
	t.Run("bytes", func(t *testing.T) {
		_, err := Read("x", make([]byte, 20<<20+1), Options{})
		assert.ErrorContains(t, err, "at most 20.0 MB")
	})
	t.Run("cells", func(t *testing.T) {
		_, err := Read("x", []byte("a,b\nc,d\ne,f\n"), Options{Limits: Limits{Cells: 5}})
		assert.ErrorContains(t, err, "more than 5 cells up to line 3")
	})
}

// cell draws text with all that may confuse a reader of CSV.
func cell(first string) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		return first + rapid.StringOfN(rapid.SampledFrom([]rune("ab1 ,;|\t\"'\n.é–=")), 0, 12, -1).Draw(t, "text")
	})
}

// The writer is the standard library's, so that reader and writer cannot share
// a mistake. First and last cells hold a letter: blank ones are left out.
func TestRead_readsWhatAWriterWrote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sep := rapid.SampledFrom([]rune(separators)).Draw(t, "separator")
		rows := drawRows(t)
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Comma, w.UseCRLF = sep, rapid.Bool().Draw(t, "CRLF")
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		got, err := Read("x", b.Bytes(), Options{Separator: sep})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.EqualFunc(cells(got), rows, slices.Equal) {
			t.Fatalf("wrote %q\nread  %q", rows, cells(got))
		}
	})
}

func drawRows(t *rapid.T) [][]string {
	width := rapid.IntRange(2, 6).Draw(t, "columns")
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) []string {
		row := make([]string, width)
		for i := range row {
			first := ""
			if i == 0 || i == width-1 {
				first = "x"
			}
			row[i] = cell(first).Draw(t, "cell")
		}
		return row
	}), 1, 8).Draw(t, "rows")
}

// Where all cells are quoted, nothing in them may mislead the search for the
// separator.
func TestRead_findsTheSeparatorOfQuotedCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sep := rapid.SampledFrom([]rune(separators)).Draw(t, "separator")
		rows := drawRows(t)
		var b strings.Builder
		for _, row := range rows {
			for i, c := range row {
				if i > 0 {
					b.WriteRune(sep)
				}
				b.WriteString(`"` + strings.ReplaceAll(c, `"`, `""`) + `"`)
			}
			b.WriteString("\r\n")
		}
		got, err := Read("x", []byte(b.String()), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got.Separator != sep || !slices.EqualFunc(cells(got), rows, slices.Equal) {
			t.Fatalf("wrote %q with %q\nread  %q with %q", rows, sep, cells(got), got.Separator)
		}
	})
}

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1,000", 100_001: "100,001", 1_234_567: "1,234,567"} {
		assert.Equal(t, want, Count(n))
	}
}
