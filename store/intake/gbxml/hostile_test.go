package gbxml

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/store/intake/building"
)

func refused(t *testing.T, data []byte, opt Options) string {
	t.Helper()
	m, err := Read(context.Background(), bytes.NewReader(data), int64(len(data)), opt, nil)
	require.Error(t, err)
	assert.Nil(t, m)
	var r *building.Refusal
	require.ErrorAs(t, err, &r)
	return r.Message
}

func TestRefusals(t *testing.T) {
	good := file(metric, space(`id="s"`, "A", box(0, 0, 4, 3, 0, 3)), surface(`id="w" surfaceType="ExteriorWall"`, "s", planar(upright(0, 0, 4, 0, 0, 3)...)))
	for name, c := range map[string]struct{ text, want string }{
		"doctype":        {strings.Replace(good, "?>\n", "?>\n<!DOCTYPE gbXML [<!ENTITY a \"b\">]>\n", 1), "This file declares a DOCTYPE (line 2). Building models need none; export it again without."},
		"entity":         {strings.Replace(good, "<Name>A<", "<Name>&x;<", 1), "Line 5 uses an entity that XML does not define (&x;). Export the file again without."},
		"cut in half":    {good[:strings.Index(good, "</PolyLoop></PlanarGeometry></Surface>")], "The file ends inside a Surface (line 8): it is incomplete."},
		"cut in a tag":   {good[:strings.Index(good, "<ClosedShell>")+5], "The file ends inside a Space (line 5): it is incomplete."},
		"two models":     {good + strings.TrimPrefix(good, `<?xml version="1.0" encoding="UTF-8"?>`), "A second building model starts at line 13: two files were joined. Import them one by one."},
		"crossed tags":   {strings.Replace(good, "</Name>", "</Nome>", 1), "Line 5 is not well-formed XML: element <Name> closed by </Nome>. Export the file again."},
		"empty":          {"", "The file is empty."},
		"blank":          {" \n ", "The file is empty."},
		"zip":            {"PK\x03\x04abc", "This is a ZIP archive; unpack it first."},
		"dwg":            {"AC1032\x00\x00", "This is a DWG drawing, not gbXML. Save it as DXF."},
		"ifc":            {"ISO-10303-21;\nHEADER;", "This is a file in IFC, not gbXML."},
		"dxf":            {"  0\r\nSECTION\r\n", "This is a file in DXF, not gbXML."},
		"picture":        {"\x89PNG\r\n\x1a\n", "This is a picture (PNG), not gbXML. It can be placed under a storey."},
		"web page":       {"<!doctype html><html><body>", "This file declares a DOCTYPE (line 1). Building models need none; export it again without."},
		"other xml":      {`<?xml version="1.0"?><svg xmlns="x"/>`, `The file's root element is "svg", not gbXML: this is another kind of XML file.`},
		"words":          {"hello", "This is not a gbXML file, nor another kind of plan that can be read here."},
		"strange letter": {strings.Replace(good, "UTF-8", "EBCDIC-9", 1), `The file says that its encoding is "EBCDIC-9", which cannot be read here. Save it as UTF-8.`},
		"deep":           {strings.Replace(good, "<Name>A", strings.Repeat("<a>", 100)+"<Name>A", 1), "Elements are nested more than 64 deep (line 5): no building model is."},
	} {
		t.Run(name, func(t *testing.T) { assert.Equal(t, c.want, refused(t, []byte(c.text), Options{})) })
	}
}

func TestLimits(t *testing.T) {
	limits := DefaultLimits()
	limits.Points, limits.Spaces, limits.TokenBytes = 100, 5, 10_000
	opt := Options{Limits: limits}
	var many strings.Builder
	for i := range 10 {
		many.WriteString(space(fmt.Sprintf(`id="%d"`, i), "A", box(0, 0, 4, 3, 0, 3)))
	}
	assert.Equal(t, "The file has more than 100 points (stopped at line 9). Export one storey at a time.", refused(t, []byte(file(metric, many.String(), "")), opt))

	few := strings.Repeat(space(`id="s"`, "A", area(3)), 10)
	assert.Equal(t, "The file has more than 5 spaces (stopped at line 10). Export one storey at a time.", refused(t, []byte(file(metric, few, "")), opt))

	long := space(`id="s"`, strings.Repeat("x", 20_000), "")
	assert.Equal(t, "A single tag or text is longer than 9 kB (line 5).", refused(t, []byte(file(metric, long, "")), opt))

	limits.Bytes = 1 << 20
	big := file(metric, "<!--"+strings.Repeat("x", 9_000)+"-->", strings.Repeat("<!-- "+strings.Repeat("x", 900)+" -->\n", 2000))
	assert.Equal(t, "The file has more than 1 MB. Export one storey at a time.", refused(t, []byte(big), Options{Limits: limits}))
	_, err := Read(context.Background(), strings.NewReader(big), 0, Options{Limits: limits}, nil)
	assert.EqualError(t, err, "The file has more than 1 MB. Export one storey at a time.", "size unknown beforehand")
}

func TestCoordinates_thatAreNoNumbers(t *testing.T) {
	for _, bad := range []struct{ text, why string }{
		{"NaN", "is not a number"}, {"Inf", "is not a number"}, {"-inf", "is not a number"}, {"0x1p-2", "is not a number"}, {"1_000", "is not a number"},
		{"1,5", "is not a number"}, {"", "is not a number"}, {"1e300", "is farther out than 10,000 km"}, {"1e999", "is farther out than 10,000 km"}, {"--1", "is not a number"},
	} {
		shape := strings.Replace(box(0, 0, 4, 3, 0, 3), "<Coordinate>4</Coordinate>", "<Coordinate>"+bad.text+"</Coordinate>", 1)
		in := space(`id="sp-12"`, "Office 4", area(12)+shape) + space(`id="ok"`, "Fine", box(9, 0, 4, 3, 0, 3))
		m := readAll(t, []byte(file(metric, in, "")))
		assert.Contains(t, messages(m), fmt.Sprintf("Space 'Office 4' (sp-12, line 5): coordinate '%s' %s.", bad.text, bad.why))
		require.Len(t, m.Storeys[0].Spaces, 2)
		assert.True(t, m.Storeys[0].Spaces[0].Outline.Empty(), "a shape with a bad point is not used")
		assert.Len(t, m.Storeys[0].Spaces[1].Outline.Outer, 4)
	}
	shape := strings.Replace(box(0, 0, 4, 3, 0, 3), "<Coordinate>4</Coordinate>", "", 1)
	m := readAll(t, []byte(file(metric, space(`id="s"`, "A", shape+area(1)), "")))
	assert.Contains(t, messages(m), "a point has 2 coordinates instead of 3")
	padded := strings.ReplaceAll(box(0, 0, 4, 3, 0, 3), "<Coordinate>4</Coordinate>", "<Coordinate>\n 4.0e0\t</Coordinate>")
	assert.InDelta(t, 12, float64(one(t, readAll(t, []byte(file(metric, space(`id="s"`, "A", padded), "")))).Area), 1e-9)
}

func TestOutline_withAMillionPoints(t *testing.T) {
	var points strings.Builder
	for i := range 30_000 {
		fmt.Fprintf(&points, "<CartesianPoint><Coordinate>%d</Coordinate><Coordinate>%d</Coordinate><Coordinate>0</Coordinate></CartesianPoint>", i, i%2)
	}
	m := readAll(t, []byte(file(metric, space(`id="sp-7"`, "Lobby", "<PlanarGeometry><PolyLoop>"+points.String()+"</PolyLoop></PlanarGeometry>"+box(0, 0, 4, 3, 0, 3)), "")))
	assert.Contains(t, messages(m), "Outline of 'Lobby' (sp-7) has 30,000 points; at most 20,000. Simplify it in the program that made it.")
	assert.Equal(t, building.FromClosedShell, one(t, m).OutlineFrom)
}

func TestOutline_thatCrossesItself(t *testing.T) {
	// The bow-tie (0,0) (4,4) (4,0) (0,3) crosses at 12/7; its right half has
	// 4 x (4 - 12/7) / 2 = 4.57 m2.
	bowTie := planar([]float64{0, 0, 0}, []float64{4, 4, 0}, []float64{4, 0, 0}, []float64{0, 3, 0})
	m := readAll(t, []byte(file(metric, space(`id="sp-9"`, "Odd", bowTie), "")))
	assert.Contains(t, messages(m), "Outline of sp-9 crosses itself near (1.71, 1.71) m. Import its largest part (4.57 m2), or skip the room.")
	assert.InDelta(t, 4.571, one(t, m).Outline.Area(), 0.001)
	assert.Empty(t, one(t, m).Outline.Validate())
}

func TestOutline_tangledOnPurposeIsBounded(t *testing.T) {
	// Strips across strips: a million crossings if they were worked out.
	var loops strings.Builder
	for i := range 1000 {
		loops.WriteString(polyLoop(flat(0, float64(i), 1000, 0.5, 0)...))
		loops.WriteString(polyLoop(flat(float64(i), 0, 0.5, 1000, 0)...))
	}
	start := time.Now()
	m := readAll(t, []byte(file(metric, space(`id="s"`, "A", area(9)+"<ShellGeometry><ClosedShell>"+loops.String()+"</ClosedShell></ShellGeometry>"), "")))
	assert.Less(t, time.Since(start), 10*time.Second)
	assert.Contains(t, messages(m), "crosses itself too often")
}

func TestText_thatIsNone(t *testing.T) {
	name := "<b>1 =cmd|x</b>\x01\u202Eevil" + strings.Repeat("y", 10_000)
	escaped := strings.NewReplacer("<", "&lt;", ">", "&gt;").Replace(name)
	m := readAll(t, []byte(file(metric, space(`id="s"`, escaped, box(0, 0, 4, 3, 0, 3)), "")))
	r := one(t, m)
	assert.Len(t, []rune(r.Number+r.Name), building.LongestText)
	assert.Contains(t, r.Name, "<b>1 =cmd|x</b> evil", "shown as text, without control characters")
	assert.Contains(t, m.Notes, "1 name was longer than 200 letters and was cut.")
	assert.Contains(t, m.Notes, "1 character that is no text was replaced; look at names with accents.")

	latin := strings.Replace(file(metric, space(`id="s"`, "Caf\xe9", box(0, 0, 4, 3, 0, 3)), ""), "UTF-8", "ISO-8859-1", 1)
	assert.Equal(t, "Café", one(t, readAll(t, []byte(latin))).Name)
	broken := file(metric, space(`id="s"`, "Caf\xe9", box(0, 0, 4, 3, 0, 3)), "")
	assert.Equal(t, "Caf", one(t, readAll(t, []byte(broken))).Name)
	wide := utf16Bytes(file(metric, space(`id="s"`, "Büro 会議 \U0001F3E2", box(0, 0, 4, 3, 0, 3)), ""), bigEndian, true)
	assert.Equal(t, "Büro 会議 \U0001F3E2", one(t, readAll(t, wide)).Name)
}

func TestProblems_areBounded(t *testing.T) {
	var many strings.Builder
	for i := range 500 {
		many.WriteString(space(fmt.Sprintf(`id="s%d" buildingStoreyIdRef="gone"`, i), "A", area(3)))
	}
	m := readAll(t, []byte(file(metric, storey("a", "Ground", 0)+many.String(), "")))
	assert.Less(t, len(m.Problems), 60)
	assert.Contains(t, messages(m), "And 480 more: spaces without an outline.")
}

func TestSpaces_sameIDThousandsOfTimes(t *testing.T) {
	start := time.Now()
	m := readAll(t, []byte(file(metric, strings.Repeat(space(`id="s"`, "A", area(3)), 15_000), "")))
	assert.Len(t, m.Storeys[0].Spaces, 15_000)
	assert.Less(t, time.Since(start), 5*time.Second)
}

func TestOverlaps_areBounded(t *testing.T) {
	start := time.Now()
	m := readAll(t, []byte(file(metric, strings.Repeat(space(`id="s"`, "A", box(0, 0, 4, 3, 0, 3)), 400), "")))
	assert.Less(t, time.Since(start), 30*time.Second)
	assert.Contains(t, m.Notes, "So many spaces lie over each other that overlaps were not all looked for.")
	assert.Contains(t, messages(m), "more: overlapping spaces.")
}

func TestRead_stopsWhenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	big := file(metric, strings.Repeat(space(`id="s"`, "A", box(0, 0, 4, 3, 0, 3)), 3000), "")
	calls := 0
	m, err := Read(ctx, strings.NewReader(big), int64(len(big)), Options{}, func(done, total int64) {
		calls++
		assert.LessOrEqual(t, done, total)
		cancel()
	})
	assert.Nil(t, m)
	assert.ErrorIs(t, err, context.Canceled)
	assert.EqualError(t, err, "Reading was stopped; nothing was imported.")
	assert.LessOrEqual(t, calls, 2)

	limits := DefaultLimits()
	limits.Time = time.Nanosecond
	_, err = Read(context.Background(), strings.NewReader(big), 0, Options{Limits: limits}, nil)
	assert.ErrorContains(t, err, "The file takes more than 1ns to read. Export one storey at a time.")
}

func TestRead_progressReachesTheEnd(t *testing.T) {
	var rooms strings.Builder
	for i := range 500 {
		rooms.WriteString(space(`id="s"`, "A", box(float64(4*i), 0, 4, 3, 0, 3)))
	}
	big := file(metric, rooms.String(), "")
	var last, total int64
	_, err := Read(context.Background(), strings.NewReader(big), int64(len(big)), Options{}, func(done, of int64) { last, total = done, of })
	require.NoError(t, err)
	assert.Equal(t, int64(len(big)), last)
	assert.Equal(t, int64(len(big)), total)
}

func TestRead_tellsAFaultOfTheMachine(t *testing.T) {
	broken := errors.New("disk")
	_, err := Read(context.Background(), io.MultiReader(strings.NewReader(file(metric, "", "")[:150]), iotestErr{broken}), 0, Options{}, nil)
	assert.ErrorIs(t, err, broken)
	assert.EqualError(t, err, "The file could not be read to its end. Try to upload it again.")
}

type iotestErr struct{ err error }

func (e iotestErr) Read([]byte) (int, error) { return 0, e.err }

// 20 MB of what is skipped must not be kept in memory.
func TestRead_memoryDoesNotFollowTheFile(t *testing.T) {
	chunk := surface(`id="x" surfaceType="Shade"`, "", planar(upright(0, 0, 4, 0, 0, 3)...))
	text := file(metric, space(`id="s"`, "A", box(0, 0, 4, 3, 0, 3)), "@")
	head, tail, _ := strings.Cut(text, "@")
	n := (20 << 20) / len(chunk)
	limits := DefaultLimits()
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	peak := uint64(0)
	_, err := Read(context.Background(), io.MultiReader(strings.NewReader(head), &repeat{text: chunk, n: n}, strings.NewReader(tail)), 0, Options{Limits: limits}, func(int64, int64) {
		runtime.ReadMemStats(&after)
		peak = max(peak, after.HeapInuse)
	})
	require.NoError(t, err)
	assert.Less(t, int64(peak)-int64(before.HeapInuse), int64(48<<20))
}

type repeat struct {
	text string
	n, k int
}

func (r *repeat) Read(p []byte) (int, error) {
	if r.n == 0 {
		return 0, io.EOF
	}
	c := copy(p, r.text[r.k:])
	if r.k += c; r.k == len(r.text) {
		r.k, r.n = 0, r.n-1
	}
	return c, nil
}
