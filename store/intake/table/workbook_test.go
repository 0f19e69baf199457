package table

import (
	"archive/zip"
	"bytes"
	"fmt"
	"hash/crc32"
	"io"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// workbook makes a workbook with the library's own writer.
func workbook(t testing.TB, fill func(f *excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	fill(f)
	b, err := f.WriteToBuffer()
	require.NoError(t, err)
	return b.Bytes()
}

func put(t testing.TB, f *excelize.File, sheet string, rows [][]any) {
	t.Helper()
	for i, row := range rows {
		require.NoError(t, f.SetSheetRow(sheet, fmt.Sprintf("A%d", i+1), &row))
	}
}

func TestReadWorkbook_numbersAsStored(t *testing.T) {
	data := workbook(t, func(f *excelize.File) {
		put(t, f, "Sheet1", [][]any{{"No", "Area", "Share", "Day"}, {"101", 80.349999999999994, 0.1, 45292.0}, {102, 1234.5, 0.005, 45293.0}})
		style := func(format int, from, to string) {
			s, err := f.NewStyle(&excelize.Style{NumFmt: format})
			require.NoError(t, err)
			require.NoError(t, f.SetCellStyle("Sheet1", from, to, s))
		}
		style(1, "B2", "B3")  // shown without decimals
		style(9, "C2", "C3")  // percent
		style(14, "D2", "D3") // date
	})
	got, err := Read("x.xlsx", data, Options{})
	require.NoError(t, err)
	assert.Equal(t, Workbook, got.Format)
	assert.Equal(t, []string{"101", "80.35", "10%"}, got.Rows[1].Cells[:3])
	assert.Equal(t, []string{"102", "1234.5", "0.5%"}, got.Rows[2].Cells[:3])
	// 45292 days after 1899-12-30 is 2024-01-01 in the 1900 date system of ECMA-376.
	assert.Contains(t, got.Rows[1].Cells[3], "24")
	assert.Contains(t, fmt.Sprint(got.Notes), "2 cells hold dates")
}

func TestReadWorkbook_sheets(t *testing.T) {
	data := workbook(t, func(f *excelize.File) {
		_, err := f.NewSheet("Rooms")
		require.NoError(t, err)
		put(t, f, "Rooms", [][]any{{"No", "Name"}, {"101", "Lobby"}})
		_, err = f.NewSheet("Other")
		require.NoError(t, err)
		put(t, f, "Other", [][]any{{"x", "y"}})
	})
	got, err := Read("x.xlsx", data, Options{})
	require.NoError(t, err)
	assert.Equal(t, "Rooms", got.Sheet, "the first that holds something")
	assert.Equal(t, []string{"Sheet1", "Rooms", "Other"}, got.Sheets)
	got, err = Read("x.xlsx", data, Options{Sheet: "other"})
	require.NoError(t, err)
	assert.Equal(t, [][]string{{"x", "y"}}, cells(got))
	_, err = Read("x.xlsx", data, Options{Sheet: "Nowhere"})
	assert.ErrorContains(t, err, `no worksheet "Nowhere"; it has Sheet1, Rooms, Other`)
}

func TestReadWorkbook_mergedBlocksDownAColumn(t *testing.T) {
	data := workbook(t, func(f *excelize.File) {
		put(t, f, "Sheet1", [][]any{{"Invented building"}, {"Level", "No"}, {"Level 1", "101"}, {nil, "102"}, {nil, "103"}, {"Level 2", "201"}})
		require.NoError(t, f.MergeCell("Sheet1", "A1", "D1"))
		require.NoError(t, f.MergeCell("Sheet1", "A3", "A5"))
	})
	got, err := Read("x.xlsx", data, Options{})
	require.NoError(t, err)
	assert.Equal(t, [][]string{{"Invented building"}, {"Level", "No"}, {"Level 1", "101"}, {"Level 1", "102"}, {"Level 1", "103"}, {"Level 2", "201"}}, cells(got))
	assert.Contains(t, fmt.Sprint(got.Notes), "2 cells below the first one of a merged block")
}

func TestReadWorkbook_hiddenRowsAndFormulas(t *testing.T) {
	data := workbook(t, func(f *excelize.File) {
		put(t, f, "Sheet1", [][]any{{"No", "Name"}, {"101", "=1+1"}, {"102", "<b>Lobby</b>"}})
		require.NoError(t, f.SetRowVisible("Sheet1", 3, false))
	})
	got, err := Read("x.xlsx", data, Options{})
	require.NoError(t, err)
	assert.Equal(t, "=1+1", got.Rows[1].Cells[1], "text is text")
	assert.Contains(t, fmt.Sprint(got.Notes), "1 hidden rows")
}

func TestReadWorkbook_boundsAndDamage(t *testing.T) {
	good := workbook(t, func(f *excelize.File) { put(t, f, "Sheet1", [][]any{{"No"}, {"101"}}) })
	t.Run("cut off at every kilobyte", func(t *testing.T) {
		for n := 4; n < len(good); n += 1000 {
			_, err := Read("x", good[:n], Options{})
			assert.Error(t, err)
		}
	})
	t.Run("too many parts", func(t *testing.T) {
		_, err := Read("x", good, Options{Limits: Limits{Entries: 3}})
		assert.ErrorContains(t, err, "at most 3 are read")
	})
	t.Run("unpacks too far", func(t *testing.T) {
		_, err := Read("x", good, Options{Limits: Limits{Unpacked: 1000}})
		assert.ErrorContains(t, err, "unpacks to more than may be read")
	})
	t.Run("a bomb", func(t *testing.T) {
		bomb := archive(t, map[string]string{"xl/workbook.xml": string(make([]byte, 30<<20))})
		require.Less(t, len(bomb), 100<<10)
		start := time.Now()
		_, err := Read("x", bomb, Options{})
		assert.ErrorContains(t, err, "100 times its size")
		assert.Less(t, time.Since(start), time.Second, "it is refused before it is unpacked")
	})
	t.Run("a part that lies about its size", func(t *testing.T) {
		_, err := Read("x", lyingArchive(t), Options{})
		assert.Error(t, err)
	})
	t.Run("other things in the same packing", func(t *testing.T) {
		for part, says := range map[string]string{"word/document.xml": "text document", "xl/workbook.bin": "xlsb", "photo.jpg": "packed file (ZIP)"} {
			_, err := Read("x", archive(t, map[string]string{part: "x"}), Options{})
			assert.ErrorContains(t, err, says)
		}
		_, err := Read("x", archive(t, map[string]string{"mimetype": "x", "content.xml": "x"}), Options{})
		assert.ErrorContains(t, err, "OpenDocument")
	})
	t.Run("no XML inside", func(t *testing.T) {
		_, err := Read("x", archive(t, map[string]string{"xl/workbook.xml": "<<<", "xl/worksheets/sheet1.xml": "&&&", "[Content_Types].xml": "x"}), Options{})
		assert.Error(t, err)
	})
	t.Run("a cell far outside", func(t *testing.T) {
		far := workbook(t, func(f *excelize.File) {
			put(t, f, "Sheet1", [][]any{{"No"}, {"101"}})
			require.NoError(t, f.SetCellStr("Sheet1", "XFD3", "x"))
		})
		_, err := Read("x", far, Options{})
		assert.ErrorContains(t, err, "line 3 has a cell in column 16384")
	})
}

func archive(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for name, text := range parts {
		f, err := w.Create(name)
		require.NoError(t, err)
		_, err = io.WriteString(f, text)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

// lyingArchive states 10 bytes for a part that holds 50,000.
func lyingArchive(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	text := bytes.Repeat([]byte("<x/> "), 10_000)
	f, err := w.CreateRaw(&zip.FileHeader{Name: "xl/workbook.xml", Method: zip.Store, CRC32: crc32.ChecksumIEEE(text),
		CompressedSize64: uint64(len(text)), UncompressedSize64: 10})
	require.NoError(t, err)
	_, err = f.Write(text)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return b.Bytes()
}

func TestDateOrPercent(t *testing.T) {
	// Built-in format numbers: ECMA-376 part 1, 18.8.30, from memory.
	for _, id := range []int{9, 10, 14, 22, 45} {
		assert.True(t, dateOrPercent(id, ""), "%d", id)
	}
	for _, id := range []int{0, 1, 2, 3, 4, 11, 37, 49} {
		assert.False(t, dateOrPercent(id, ""), "%d", id)
	}
	assert.True(t, dateOrPercent(164, "yyyy-mm-dd"))
	assert.True(t, dateOrPercent(164, "0.0%"))
	assert.False(t, dateOrPercent(164, `0.0" sq. yd."`), "what is quoted is text")
	assert.False(t, dateOrPercent(164, `[Red]#,##0\m`), "and so is what is escaped or in brackets")
}
