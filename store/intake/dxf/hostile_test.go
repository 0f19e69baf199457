package dxf

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/store/intake/building"
)

func refusal(t *testing.T, data []byte) string {
	t.Helper()
	_, err := Survey(context.Background(), data, nil)
	require.Error(t, err)
	return err.Error()
}

func TestRefuses_otherKindsByName(t *testing.T) {
	for data, want := range map[string]string{
		"AC1027\x00\x00\x00":            "This is a DWG drawing, not DXF.",
		"PK\x03\x04rest":                "This is a ZIP archive; unpack it first.",
		"%PDF-1.7\n":                    "PDF, not DXF",
		"<?xml version=\"1.0\"?><gbXML": "gbXML, not DXF",
		"ISO-10303-21;\nHEADER;":        "IFC, not DXF",
		"":                              "The file is empty.",
		"\xff\xfe0\x00\n\x00":           "written in UTF-16",
		"AutoCAD Binary DXF\n\x1a\x00":  "damaged, often by sending it as text",
		"Number;Name\n101;Lobby\n":      `line 1 should hold a group code (a whole number) but holds "Number;Name"`,
		"  0\nEOF\n":                    "no section of entities",
		"  0\nSECTION\n  2\nHEADER\n":   "the file ends inside the section HEADER (line 3)",
	} {
		assert.Contains(t, refusal(t, []byte(data)), want)
	}
}

func TestText_formsOfLinesAndCodes(t *testing.T) {
	plain := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4).bytes()
	text := strings.ReplaceAll(string(plain), "\r\n", "\n")
	lines := strings.Split(text, "\n")
	for i := 0; i < len(lines); i += 2 {
		lines[i] = "   " + lines[i] // codes are padded to three places by some
	}
	for name, form := range map[string]string{
		"line feeds":       text,
		"carriage returns": strings.ReplaceAll(text, "\n", "\r"),
		"padded codes":     strings.TrimRight(strings.Join(lines, "\n"), " "),
		"byte order mark":  "\uFEFF" + text,
		"comment first":    "999\nwritten by hand\n" + text,
		"blank lines last": text + "\n\n",
		"no last line end": strings.TrimSuffix(text, "\n"),
	} {
		m := read(t, []byte(form), inR)
		require.Len(t, m.Storeys[0].Spaces, 1, name)
		assert.InDelta(t, 16, float64(m.Storeys[0].Spaces[0].Area), 1e-9, name)
	}
}

func TestRefuses_cutInHalf(t *testing.T) {
	s := newSketch("AC1015", 6)
	for i := range 20 {
		s.rectangle("R", float64(i)*5, 0, 4, 4)
	}
	for _, whole := range [][]byte{s.bytes(), s.binary(false), s.binary(true)} {
		end := bytes.LastIndex(whole, []byte("ENDSEC"))
		for _, at := range []int{end / 2, end - 3, end - 30} {
			assert.Contains(t, refusal(t, whole[:at]), "it is incomplete")
		}
	}
	// Without its end mark only, the drawing is whole.
	text := strings.TrimSuffix(string(s.bytes()), "0\r\nEOF\r\n")
	m := read(t, []byte(text), inR)
	assert.Len(t, m.Storeys[0].Spaces, 20)
	assert.Contains(t, messages(m), "no end mark")
}

func TestLeavesOut_badNumbers(t *testing.T) {
	for _, bad := range []string{"NaN", "Inf", "-inf", "1e300", "0x1p4", "1_000", "1,5", "", "1e999"} {
		s := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4)
		s.add(0, "LWPOLYLINE", 8, "R", 90, 3, 70, 1, 10, 5, 20, 0, 10, bad, 20, 0, 10, 9, 20, 9)
		m := read(t, s.bytes(), inR)
		assert.Len(t, m.Storeys[0].Spaces, 1, bad)
		assert.Contains(t, messages(m), "LWPOLYLINE on layer 'R' (line ", bad)
	}
}

func TestLeavesOut_whatHasNoAreaOrReach(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4)
	s.outline("R", 0, 0, 5, 0, 9, 0).outline("R", 1, 1, 1, 1, 1, 1).outline("R", 3, 3)
	s.rectangle("R", 9e8, 0, 4, 4).rectangle("R", 20, 0, 0.1, 0.1)
	m := read(t, s.bytes(), inR)
	assert.Len(t, m.Storeys[0].Spaces, 1)
	assert.Contains(t, messages(m), "encloses no area and was left out")
	assert.Contains(t, messages(m), "farther out than 10,000 km")
	assert.Contains(t, messages(m), "columns, symbols")
}

func TestLeavesOut_outlineOfAMillionPoints(t *testing.T) {
	var b strings.Builder
	b.WriteString("0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nR\n70\n1\n")
	for i := range 1_000_000 {
		fmt.Fprintf(&b, "10\n%d\n20\n%d\n", i%1000, i/1000)
	}
	b.WriteString("0\nLWPOLYLINE\n8\nR\n70\n1\n10\n0\n20\n0\n10\n4\n20\n0\n10\n4\n20\n4\n0\nENDSEC\n0\nEOF\n")
	m := read(t, []byte(b.String()), Options{RoomLayers: []string{"R"}, Unit: "m"})
	assert.Len(t, m.Storeys[0].Spaces, 1)
	assert.Contains(t, messages(m), "has 1,000,000 points; at most 20,000 are read")
}

func TestBlocks_thatHoldThemselves(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4)
	s.block("DOOR", 0, "LINE", 8, "0", 10, 0, 20, 0, 11, 1, 21, 0, 0, "INSERT", 8, "0", 2, "DOOR", 10, 1, 20, 1)
	s.block("A", 0, "INSERT", 8, "0", 2, "B", 10, 1, 20, 1)
	s.block("B", 0, "INSERT", 8, "0", 2, "A", 10, 1, 20, 1)
	s.block("HOLDER", 0, "INSERT", 8, "0", 2, "A", 10, 1, 20, 1)
	for range 14 {
		s.add(0, "INSERT", 8, "R", 2, "DOOR", 10, 1, 20, 1)
	}
	s.add(0, "INSERT", 8, "R", 2, "HOLDER", 10, 1, 20, 1).add(0, "INSERT", 8, "R", 2, "GONE", 10, 1, 20, 1)
	m := read(t, s.bytes(), inR)
	assert.Len(t, m.Storeys[0].Spaces, 1)
	said := messages(m)
	assert.Contains(t, said, "Block 'DOOR' contains itself; its 14 insertions were left out.")
	assert.Contains(t, said, "Block 'A' contains itself; its 1 insertion was left out.")
	assert.NotContains(t, said, "'HOLDER' contains itself")
	assert.Contains(t, said, "Block 'GONE' is inserted (1 time) but not in the file.")
}

func TestBlocks_thatMultiplyAreRefusedSoon(t *testing.T) {
	lines := newSketch("AC1015", 6).block("B0", 0, "LINE", 8, "0", 10, 0, 20, 0, 11, 1, 21, 1)
	empty := newSketch("AC1015", 6).block("B0", 0, "INSERT", 8, "0", 2, "B", 10, 0, 20, 0).block("B")
	grid := newSketch("AC1015", 6).block("B9", 0, "LINE", 8, "0", 10, 0, 20, 0, 11, 1, 21, 1)
	for _, s := range []*sketch{lines, empty} {
		for i := 1; i < 10; i++ {
			var g []any
			for range 10 {
				g = append(g, 0, "INSERT", 8, "0", 2, fmt.Sprintf("B%d", i-1), 10, 1, 20, 1)
			}
			s.block(fmt.Sprintf("B%d", i), g...)
		}
		s.add(0, "INSERT", 8, "0", 2, "B9", 10, 0, 20, 0)
	}
	grid.add(0, "INSERT", 8, "0", 2, "B9", 10, 0, 20, 0, 70, 32767, 71, 32767, 44, 1, 45, 1)
	for _, s := range []*sketch{lines, empty, grid} {
		start := time.Now()
		said := refusal(t, s.bytes())
		assert.Contains(t, said, "blocks are placed more than 1,000,000 times")
		assert.Less(t, time.Since(start), 5*time.Second)
	}
}

func TestBlocks_aLongChainIsCutWithoutHarm(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4)
	for i := range 20_000 {
		s.block(fmt.Sprintf("C%d", i), 0, "INSERT", 8, "0", 2, fmt.Sprintf("C%d", i+1), 10, 0, 20, 0)
	}
	s.add(0, "INSERT", 8, "R", 2, "C0", 10, 0, 20, 0)
	assert.Contains(t, messages(read(t, s.bytes(), inR)), "nested more than 16 deep")
}

func TestProblems_areListedOnceAndCounted(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4)
	for range 1000 {
		s.add(0, "LINE", 8, "R", 10, "NaN", 20, 0, 11, 1, 21, 1)
	}
	m := read(t, s.bytes(), inR)
	assert.Len(t, m.Problems, maxListed+2, "forty, one line for the rest, one for the missing name")
	assert.Contains(t, messages(m), "And 960 more: coordinates that are no numbers.")
}

func TestRead_canBeCancelled(t *testing.T) {
	s := newSketch("AC1015", 6)
	for i := range 2000 {
		s.rectangle("R", float64(i)*5, 0, 4, 4)
	}
	ctx, cancel := context.WithCancel(context.Background())
	last := int64(0)
	_, err := Read(ctx, s.bytes(), inR, func(done, total int64) {
		assert.GreaterOrEqual(t, done, last)
		assert.LessOrEqual(t, done, total)
		last = done
		cancel()
	})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Positive(t, last)
}

func TestRead_manyOverlappingOutlinesStayBounded(t *testing.T) {
	s := newSketch("AC1015", 6)
	for i := range 1500 {
		s.rectangle("R", float64(i)*0.01, float64(i)*0.01, 50, 50)
	}
	start := time.Now()
	m := read(t, s.bytes(), inR)
	assert.Len(t, m.Storeys[0].Spaces, 1500)
	assert.Less(t, len(m.Problems), 100)
	assert.Less(t, time.Since(start), 20*time.Second)
}

func FuzzRead(f *testing.F) {
	s := newSketch("AC1015", 6).layer("R", 7, 0).rectangle("R", 0, 0, 4, 4).text("T", 1, 1, 0.2, "%%uOFFICE 12")
	s.block("B", 0, "CIRCLE", 8, "0", 10, 0, 20, 0, 40, 1)
	s.add(0, "INSERT", 8, "R", 2, "B", 10, 9, 20, 0, 41, 2, 70, 2, 44, 3)
	s.add(0, "MTEXT", 8, "T", 10, 2, 20, 2, 40, 0.2, 3, `{\fSans;A\P`, 1, `\S1/2;b}`)
	s.add(0, "HATCH", 8, "R", 10, 0, 20, 0, 91, 1, 92, 1, 93, 1, 72, 2, 10, 4, 20, 2, 40, 2, 50, -90, 51, 90, 73, 1, 97, 0)
	s.add(0, "SPLINE", 8, "R", 71, 1, 40, 0, 40, 0, 40, 1, 40, 1, 10, 0, 20, 0, 10, 1, 20, 1)
	s.add(0, "ELLIPSE", 8, "R", 10, 1, 20, 1, 11, 3, 21, 4, 40, 0.5)
	s.add(0, "POLYLINE", 8, "R", 70, 1, 0, "VERTEX", 10, 1, 20, 1, 42, 1, 0, "VERTEX", 10, 5, 20, 1, 0, "SEQEND")
	f.Add(s.bytes())
	f.Add(s.binary(false))
	f.Add(s.binary(true))
	f.Fuzz(func(t *testing.T, data []byte) {
		ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		c, err := Survey(ctx, data, nil)
		if err != nil {
			return
		}
		opt := c.Suggested()
		for _, l := range c.Layers {
			opt.RoomLayers, opt.WallLayers = append(opt.RoomLayers, l.Name), append(opt.WallLayers, l.Name)
		}
		if len(opt.RoomLayers) == 0 {
			return
		}
		m, err := Read(ctx, data, opt, nil)
		if err != nil {
			return
		}
		opt.RoomLayers, opt.Enclose, opt.PairWalls = nil, 0.01, true
		if walls, err := Read(ctx, data, opt, nil); err == nil {
			m.Storeys[0].Spaces = append(m.Storeys[0].Spaces, walls.Storeys[0].Spaces...)
			for _, w := range walls.Storeys[0].Walls {
				if !w.A.Finite() || !w.B.Finite() || !(w.Thickness >= 0) {
					t.Fatalf("wall from %v to %v, %g m thick", w.A, w.B, w.Thickness)
				}
			}
		}
		for _, r := range m.Storeys[0].Spaces {
			if !(r.Area > 0) || len(r.Outline.Outer) < 3 {
				t.Fatalf("room of %g m2 with %d corners", r.Area, len(r.Outline.Outer))
			}
		}
	})
}

// A file of 100 MB and a byte is refused before any of it is read.
func TestRefuses_tooLarge(t *testing.T) {
	whole := newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4).bytes()
	data := append(whole, make([]byte, MaxBytes+1-len(whole))...)
	assert.Equal(t, "the file has 100 MB; at most 100 MB are read: export one storey at a time, without pictures and 3-D parts", refusal(t, data))
}

func TestRefuses_tooManyPoints(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	// 300 polylines of 20,000 points are 6,000,000; the bound is 5,000,000.
	line := "0\r\nLWPOLYLINE\r\n8\r\nR\r\n90\r\n20000\r\n70\r\n0\r\n" + strings.Repeat("10\r\n1\r\n20\r\n2\r\n", 20_000)
	whole := string(newSketch("AC1015", 6).rectangle("R", 0, 0, 4, 4).bytes())
	head, tail, found := strings.Cut(whole, "ENTITIES\r\n")
	require.True(t, found)
	data := []byte(head + "ENTITIES\r\n" + strings.Repeat(line, 300) + tail)
	require.Less(t, len(data), MaxBytes)
	start := time.Now()
	assert.Regexp(t, `^the file has more than 5,000,000 points \(stopped at line [0-9,]+\): export one storey at a time$`, refusal(t, data))
	assert.Less(t, time.Since(start), 30*time.Second)
}

func TestNames_markupControlCharactersAndLength(t *testing.T) {
	named := func(text string) building.Space {
		m := read(t, newSketch("AC1021", 6).rectangle("R", 0, 0, 4, 4).text("T", 1, 1, 0.2, text).bytes(), inR)
		require.Len(t, m.Storeys[0].Spaces, 1)
		return m.Storeys[0].Spaces[0]
	}
	assert.Equal(t, "<b>=cmd|x</b>evil", named("<b>=cmd|x</b>\x01\u202Eevil").Name, "text stays text, without control characters")
	long := named("Hall " + strings.Repeat("y", 10_000))
	assert.LessOrEqual(t, len([]rune(long.Number+long.Name)), building.LongestText)
}
