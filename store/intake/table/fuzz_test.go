package table

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// small are limits for fuzzing: an input may cost little.
var small = Limits{Bytes: 1 << 20, Unpacked: 4 << 20, Rows: 2000, Columns: 64, Cells: 20_000, Letters: 1000}

func FuzzRead(f *testing.F) {
	for _, seed := range []string{"a,b\n1,2\n", "a;\"b\"\"\n\"\r\n1;2", "\xFF\xFEa\x00,\x00", "\xEF\xBB\xBFx\ty", "sep=;\na;b", "\x00", "PK\x03\x04", "é\xE9,1"} {
		f.Add([]byte(seed))
	}
	f.Add(workbook(f, func(book *excelize.File) {
		put(f, book, "Sheet1", [][]any{{"No", "Area"}, {"101", 80.3}, {nil, "x"}})
		require.NoError(f, book.MergeCell("Sheet1", "A2", "A3"))
	}))
	f.Fuzz(func(t *testing.T, data []byte) {
		start := time.Now()
		got, err := Read("x", data, Options{Limits: small})
		if took := time.Since(start); took > 5*time.Second {
			t.Fatalf("took %s", took)
		}
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without a sentence")
			}
			return
		}
		if len(got.Rows) == 0 || len(got.Rows) > small.Rows+headingRows {
			t.Fatalf("%d rows", len(got.Rows))
		}
		last := 0
		for _, r := range got.Rows {
			if r.Line <= last || len(r.Cells) > small.Columns {
				t.Fatalf("line %d after %d, %d cells", r.Line, last, len(r.Cells))
			}
			last = r.Line
		}
	})
}

func BenchmarkReadCSV100000(b *testing.B) {
	data := rowsOf(100_000)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read("x", data, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadWorkbook100000(b *testing.B) {
	data := largeWorkbook(b, 100_000)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read("x", data, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func largeWorkbook(t testing.TB, rows int) []byte {
	return workbook(t, func(f *excelize.File) {
		w, err := f.NewStreamWriter("Sheet1")
		require.NoError(t, err)
		for i := range rows {
			require.NoError(t, w.SetRow(fmt.Sprintf("A%d", i+1), []any{i, "Room", "Level 1", float64(i%300) + 0.5, 2.7, "yes", i % 40}))
		}
		require.NoError(t, w.Flush())
	})
}
