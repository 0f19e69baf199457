package columns

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/store/intake/table"
)

var testFields = []Field{
	{Name: "number", Title: "Number", Key: true, Spellings: []string{"room no", "number", "no"}, Weak: []string{"room"}},
	{Name: "name", Title: "Name", Spellings: []string{"room name", "name"}, Weak: []string{"room"}},
	{Name: "area", Title: "Area", Measure: Area, Content: Numbers, Spellings: []string{"net area", "area", "sf", "area net"}},
	{Name: "height", Title: "Height", Measure: Length, Content: Numbers, Spellings: []string{"ceiling ht", "ceiling height", "height", "clg ht"}},
	{Name: "use", Title: "Use", Content: Words, Spellings: []string{"use", "occupancy"}},
	{Name: "seats", Title: "Seats", Measure: People, Content: Numbers, Spellings: []string{"seats", "occupancy"}},
	{Name: "qty", Title: "Quantity", Spellings: []string{"qty"}, Skip: "counted elsewhere"},
}

func find(t *testing.T, text string) *Layout {
	t.Helper()
	read, err := table.Read("x.csv", []byte(text), table.Options{})
	require.NoError(t, err)
	l, err := Find(read, testFields, func(s string) bool { return strings.HasPrefix(Plain(s), "level") })
	require.NoError(t, err)
	return l
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"Room #": "room no", "  ROOM_NO. ": "room no", "Ceiling Ht. [mm]": "ceiling ht mm", "Area (m²)": "area m2", "Dim to %": "dim to pct",
		"Watts/fixture": "watts fixture", "cos φ": "cos φ", "\u200BName": "name", "A&B": "a and b", "": "",
	} {
		assert.Equal(t, want, Plain(in), in)
	}
}

func TestFind_headingsInManySpellings(t *testing.T) {
	for heading, want := range map[string]Match{
		"Area":               {Field: "area"},
		"AREA (SQ. FT.)":     {Field: "area", Unit: "sq ft"},
		"Area, m2":           {Field: "area", Unit: "m2"},
		"Area in sq ft":      {Field: "area", Unit: "sq ft"},
		"area_sf":            {Field: "area", Unit: "sf"},
		"SF":                 {Field: "area", Unit: "sf"},
		"Net Area [m²]":      {Field: "area", Unit: "m2"},
		"Ceiling Ht. [mm]":   {Field: "height", Unit: "mm"},
		"CLG HT (FT)":        {Field: "height", Unit: "ft"},
		"Ceiling Height (')": {Field: "height", Unit: "ft"},
		"Height (finished)":  {Field: "height"},
		"Qty":                {Note: "counted elsewhere"},
	} {
		l := find(t, "No\t"+heading+"\tName\n1\t9\ta\n2\t9\tb\n")
		got := l.Columns[1]
		assert.Equal(t, [3]string{want.Field, want.Unit, want.Note}, [3]string{got.Field, got.Unit, got.Note}, heading)
	}
}

func TestFind_surerSpellingWins(t *testing.T) {
	fieldsOf := func(l *Layout) (out []string) {
		for _, c := range l.Columns {
			out = append(out, c.Field)
		}
		return out
	}
	assert.Equal(t, []string{"number", "name", "area", ""}, fieldsOf(find(t, "Room No,Room,Net Area,Area\n1,a,3,4\n2,b,3,4\n")))
	assert.Equal(t, []string{"number", "name"}, fieldsOf(find(t, "Room,Name\n1,a\n2,b\n")), "room is the number beside a name")
	l := find(t, "Area,Net area,No,Fire rating\n1,2,a,x\n")
	assert.Equal(t, `not taken: area is read from column "Net area"`, l.Columns[0].Note)
	assert.Contains(t, l.Columns[3].Note, "says nothing that is needed")
}

func TestFind_contentDecides(t *testing.T) {
	l := find(t, "No,Occupancy,Ceiling height\n1,24,ACT\n2,30,GWB\n3,4,exposed\n")
	assert.Equal(t, "seats", l.Columns[1].Field)
	assert.Equal(t, "", l.Columns[2].Field)
	assert.Contains(t, l.Columns[2].Note, `the first is "ACT"`)
	l = find(t, "No,Occupancy\n1,Office\n2,Office\n3,Store\n")
	assert.Equal(t, "use", l.Columns[1].Field)
}

func TestFind_rowsThatAreNoData(t *testing.T) {
	l := find(t, `Invented building,,,
,,,
No,Name,Area,Height
,,(ft2),(ft)
LEVEL 1,,300,
1,Lobby,100,9
2,Hall,200,9
Sub-total,,300,
No,Name,Area,Height
Offices,,,
3,Total Care lounge,50,9
4,,,
,,350,
Grand Total: 350,,350,
`)
	var lines []int
	for _, r := range l.Rows {
		lines = append(lines, r.Line)
	}
	assert.Equal(t, []int{6, 7, 11, 12}, lines)
	assert.Equal(t, []Heading{{5, "LEVEL 1"}, {10, "Offices"}}, l.Headings)
	assert.Equal(t, 3, l.HeaderLine)
	assert.Equal(t, "ft2", l.Columns[2].Unit)
	notes := strings.Join(l.Notes, "\n")
	for _, want := range []string{"found on line 3", "Line 4 was read as the units", "Line 8 holds totals", "Line 13 holds totals", "Line 14 holds totals", "repeated on 1 lines"} {
		assert.Contains(t, notes, want)
	}
}

func TestFind_noHeadings(t *testing.T) {
	read, err := table.Read("x", []byte("101,Lobby,900\n102,Office,120\n"), table.Options{})
	require.NoError(t, err)
	_, err = Find(read, testFields, nil)
	assert.ErrorContains(t, err, `put headings above the table, for example "Number", "Name", "Area"`)
}

func TestFind_dataRows(t *testing.T) {
	text := "No,Name\n" + strings.Repeat("1,a\n", 51)
	read, err := table.Read("x", []byte(text), table.Options{Limits: table.Limits{Rows: 51}})
	require.NoError(t, err)
	_, err = Find(read, testFields, nil)
	require.NoError(t, err)
	read, err = table.Read("x", []byte(text), table.Options{Limits: table.Limits{Rows: 50}})
	require.NoError(t, err)
	_, err = Find(read, testFields, nil)
	assert.ErrorContains(t, err, "the file has 51 rows; at most 50 can be read at once")
}

// The column decides how "1,234" is read.
func TestQuantity_decimalMark(t *testing.T) {
	for name, c := range map[string]struct {
		cells []string
		want  []float64
		sep   string
		note  bool
	}{
		"points":                       {[]string{"80.3", "1,234.5", "1,234"}, []float64{80.3, 1234.5, 1234}, ",", false},
		"commas":                       {[]string{"80,3", "1.234,5", "1,234", "1.234"}, []float64{80.3, 1234.5, 1.234, 1234}, ";", false},
		"blanks as thousands":          {[]string{"1 234,5", "12 345", "80,3"}, []float64{1234.5, 12345, 80.3}, ";", false},
		"hard blanks":                  {[]string{"1\u00A0234,5", "1\u202F234"}, []float64{1234.5, 1234}, ";", false},
		"unsure, file of commas":       {[]string{"1,234", "864"}, []float64{1234, 864}, ",", true},
		"unsure, file of semicolons":   {[]string{"1,234", "864"}, []float64{1.234, 864}, ";", true},
		"millions":                     {[]string{"1,234,567", "1,234"}, []float64{1234567, 1234}, ",", false},
		"three decimals after a zero":  {[]string{"0,864", "1,234"}, []float64{0.864, 1.234}, ";", false},
		"both, but each cell is clear": {[]string{"80.3", "80,3"}, []float64{80.3, 80.3}, ";", false},
	} {
		t.Run(name, func(t *testing.T) {
			var b strings.Builder
			b.WriteString("No" + c.sep + "Area\n")
			for i, cell := range c.cells {
				fmt.Fprintf(&b, "%d%s\"%s\"\n", i, c.sep, cell)
			}
			l := find(t, b.String())
			for i, row := range l.Rows {
				v, ok, problem := l.Quantity(row, "area", "m2")
				require.Nil(t, problem)
				require.True(t, ok)
				assert.InDelta(t, c.want[i], v, 1e-9, c.cells[i])
			}
			assert.Equal(t, c.note, strings.Contains(strings.Join(l.Notes, "\n"), "was read as"), "%v", l.Notes)
		})
	}
	t.Run("both, and one cell is not clear", func(t *testing.T) {
		l := find(t, "No;Area\n1;80.3\n2;80,3\n3;1,234\n")
		_, ok, problem := l.Quantity(l.Rows[2], "area", "m2")
		assert.False(t, ok)
		require.NotNil(t, problem)
		assert.Equal(t, `line 4, column "Area": "1,234" can be read in two ways, and other cells of the column write decimals both with commas and with points: write it without thousands separator; the value was left out`, problem.String())
	})
}

// The international foot is 0.3048 m and the inch 25.4 mm exactly: agreement of
// 1959, kept in NIST SP 811 B.8.
func TestQuantity_lengthsAndAreas(t *testing.T) {
	for text, want := range map[string]float64{
		`9'-6"`: 2.8956, `9'-0"`: 2.7432, "9’ 6”": 2.8956, `9'6`: 2.8956, "9 ft 6 in": 2.8956, "9 ft": 2.7432, "9ft.": 2.7432, `108"`: 2.7432, "108 in": 2.7432,
		`9'-6 1/2"`: 2.9083, "9'-6½\"": 2.9083, `10'-0" AFF`: 3.048, "2700 mm": 2.7, "270 cm": 2.7, "2.7 m": 2.7, "2.70m": 2.7, "9": 2.7432, "9.5": 2.8956, "~9": 2.7432, "9''": 0.2286,
	} {
		l := find(t, "No\tHeight\n1\t\""+strings.ReplaceAll(text, `"`, `""`)+"\"\n")
		v, ok, problem := l.Quantity(l.Rows[0], "height", "ft")
		require.Nil(t, problem, "%s: %v", text, problem)
		assert.True(t, ok, text)
		assert.InDelta(t, want, v, 1e-9, text)
	}
	for text, want := range map[string]float64{
		"864 SF": 80.26822656, "864": 80.26822656, "864 sq. ft.": 80.26822656, "864 ft²": 80.26822656, "80.3 m2": 80.3, "80.3 m²": 80.3, "80.3 sqm": 80.3, "864 ft^2": 80.26822656,
	} {
		l := find(t, "No\tArea\n1\t"+text+"\n")
		v, ok, problem := l.Quantity(l.Rows[0], "area", "ft2")
		require.Nil(t, problem, "%s: %v", text, problem)
		assert.True(t, ok, text)
		assert.InDelta(t, want, v, 1e-9, text)
	}
	for text, says := range map[string]string{
		"864 acres": `unit "acres" is not known here: use m2 or sq ft`, "varies": `"varies" is not a number`, "NaN": "not a number", "1e5": `unit "e5"`, "1,2,3": "do not stand in threes",
		"#REF!": "could not work out", strings.Repeat("9", 400): "not a number that can be used",
	} {
		l := find(t, "No\tArea\n1\t"+text+"\n")
		_, ok, problem := l.Quantity(l.Rows[0], "area", "ft2")
		assert.False(t, ok)
		require.NotNil(t, problem, text)
		assert.Contains(t, problem.Message, says)
		assert.Equal(t, 2, problem.Line)
		assert.False(t, problem.Fatal)
	}
	for _, blank := range []string{"-", "n/a", "TBD", "—"} {
		l := find(t, "No,Area\n1,"+blank+"\n2,5\n")
		_, ok, problem := l.Quantity(l.Rows[0], "area", "ft2")
		assert.False(t, ok)
		assert.Nil(t, problem)
	}
}

// Whatever a number looks like when printed with a separator style, a column
// with one clear cell of that style reads it back.
func TestFloat_readsWhatWasPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := float64(rapid.IntRange(0, 1_000_000_000).Draw(t, "thousandths")) / 1000
		comma := rapid.Bool().Draw(t, "comma")
		text := strconv.FormatFloat(v, 'f', rapid.IntRange(0, 4).Draw(t, "decimals"), 64)
		want, _ := strconv.ParseFloat(text, 64)
		whole, part, has := strings.Cut(text, ".")
		if rapid.Bool().Draw(t, "grouped") {
			whole = strings.ReplaceAll(table.Count(int(want)), ",", "G")
			if has && int(want) != mustInt(text) {
				whole = text[:strings.IndexByte(text, '.')]
			}
		}
		printed := strings.ReplaceAll(whole, "G", map[bool]string{true: ".", false: ","}[comma])
		if has {
			printed += map[bool]string{true: ",", false: "."}[comma] + part
		}
		got, err := float(printed, style{comma: comma})
		if err != nil || got != want {
			t.Fatalf("%q with comma %v: %v, %v; want %v", printed, comma, got, err, want)
		}
	})
}

func mustInt(text string) int {
	whole, _, _ := strings.Cut(text, ".")
	n, _ := strconv.Atoi(whole)
	return n
}
