package roomlist

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/table"
)

func readFile(t *testing.T, name string, sys units.System) *List {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	l, err := Read(name, data, table.Options{}, Options{Units: sys})
	require.NoError(t, err)
	return l
}

func readText(t *testing.T, text string, sys units.System) *List {
	t.Helper()
	l, err := Read("list.csv", []byte(text), table.Options{}, Options{Units: sys})
	require.NoError(t, err)
	return l
}

// brief prints what the tests below compare: number, name, building, storey,
// use, area in m2 and ceiling in m to a thousandth.
func brief(r Line) string {
	guess := ""
	if r.Guessed {
		guess = "?"
	}
	return fmt.Sprintf("%d|%s|%s|%s|%s|%s%s|%s|%s", r.Line, r.Number, r.Name, r.Building, r.Storey, r.Use, guess, units.Trim(float64(r.Area), 3), units.Trim(float64(r.Ceiling), 3))
}

func briefs(l *List) (out []string) {
	for _, r := range l.Rooms {
		out = append(out, brief(r))
	}
	return out
}

// The files are invented, in shapes that lists are sent in: common practice, no
// published source. Square feet and feet turn to meters by 0.3048 exactly.
func TestRead_filesAsTheyCome(t *testing.T) {
	for name, c := range map[string]struct {
		sys   units.System
		rooms []string
		notes []string
	}{
		"us_ft2.csv": {units.US, []string{
			"2|101|Lobby||Level 1|lobby?|80.268|3.658", "3|102|Open Office||Level 1|office-open?|301.935|2.896", "4|103|Conf. Room||Level 1|conference?|29.729|2.908",
			"5|104|Elec. Room||Level 1|electrical?|10.266|0", "6|201|Private Office||Level 2|office-private?|13.006|2.743"}, nil},
		"si_decimal_comma.csv": {units.SI, []string{
			"2|0.01|Foyer||Ground floor|lobby?|80.3|3.6", "3|0.02|Corridor||Ground floor|corridor?|1234.5|2.7", "4|1.01|Seminar room||1st floor|classroom?|62.25|2.75",
			"5|1.02|Store||1st floor|storage?|8|2.5"}, nil},
		"bom.csv": {units.SI, []string{"2|1|Entrée – Ost||1||500|0", "3|2|Café||1||220|0"}, nil},
		"utf16le.txt": {units.US, []string{
			"2|101|Büro Łódź||L1||20.5|0", "3|102|Hall||L1|corridor?|12|0"}, nil},
		"utf16be.txt": {units.US, []string{
			"2|101|Büro Łódź||L1||20.5|0", "3|102|Hall||L1|corridor?|12|0"}, nil},
		"windows1252.csv": {units.SI, []string{"2|101|Entrée – Café|||?|300|0", "3|102|Größe|||?|20|0"}, []string{"read as Windows-1252"}},
		"cr_only.csv":     {units.US, []string{"2|101|Lobby||1|lobby?|83.613|0", "3|102|Office||1|office-private?|11.148|0"}, nil},
		"groups_totals.csv": {units.SI, []string{
			"7|101|Lobby||LEVEL 1|lobby|83.613|3.658", "8|102|Toilets||LEVEL 1|restroom?|20.439|2.743", "11|201|Classroom||LEVEL 2|classroom|80.268|2.896",
			"12|202|Classroom Storage||LEVEL 2|storage?|7.432|2.896", "15|203|Office||LEVEL 2|office-private?|11.148|2.743"},
			[]string{"Line 9 holds totals", "Line 13 holds totals", "Line 16 holds totals", `Line 14 holds only "ADMINISTRATION"`, "Line 6: the rooms below it are taken to be in LEVEL 1", "Line 5 was read as the units"}},
		"combined.csv": {units.US, []string{
			"2|101|Lobby||1|lobby?|83.613|0", "3|102|Open office||1|office-open?|222.967|0", "4|A-103|Stair||1|stair?|14.864|0", "5|104A|Janitor||1|storage?|3.716|0",
			"6|105|Restroom||1|restroom?|18.581|0"}, []string{"holds number and name together"}},
		"tabs.tsv": {units.US, []string{"2|101|Lobby||1|lobby?|83.613|0", "3|102|Office, private||1|office-private?|11.148|0", "4|103|Stair 1||1|stair?|13.006|0"}, nil},
		"ragged.csv": {units.SI, []string{
			"2|101|Lobby|||lobby?|0|0", "3|102|Office|||office-private?|120|0", "4|103||||?|0|0", "6|104|Store|||storage?|60|0"}, nil},
		"pipes_semantic.txt": {units.US, []string{"2|E1||||lab|80.5|0", "3|E2||||conference?|30|0", "4|E3||||corridor?|200|0"}, nil},
		"two_header_rows.csv": {units.US, []string{
			"3|1.01|Office A|||office-private|20|2.7", "4|1.02|Office B|||office-private|22|2.7"}, nil},
		"storey_once.csv": {units.US, []string{
			"2|B01|Plant||Basement|electrical?|0|0", "3|B02|Store||Basement|storage?|0|0", "4|001|Lobby||Ground floor|lobby?|0|0", "5|002|Shop||Ground floor|retail?|0|0",
			"6|101|Open-plan office||First floor|office-open?|0|0", "7|102|WC||First floor|restroom?|0|0"}, []string{"names each storey once"}},
		"thousands_unsure.csv": {units.SI, []string{"2|101|Warehouse|||warehouse?|1234|0", "3|102|Warehouse|||warehouse?|2500|0"}, []string{`"1,234" on line 2 was read as 1234`}},
		"duplicates.csv": {units.SI, []string{
			"2|101|Lobby|A||lobby?|900|0", "3|102|Office|A||office-private?|120|0", "4|101|Lobby|B||lobby?|800|0"}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			l := readFile(t, name, c.sys)
			want := make([]string, len(c.rooms))
			for i, r := range c.rooms {
				want[i] = strings.Replace(r, "|?|", "||", 1)
			}
			assert.Equal(t, want, briefs(l))
			for _, n := range c.notes {
				assert.Contains(t, strings.Join(l.Notes, "\n"), n)
			}
		})
	}
}

func TestRead_otherFacts(t *testing.T) {
	l := readFile(t, "us_ft2.csv", units.US)
	r := l.Rooms[0]
	assert.True(t, *r.Windows)
	assert.Equal(t, 24, *r.Seats)
	assert.Equal(t, "double doors", r.Notes)
	assert.False(t, *l.Rooms[2].Windows)
	assert.Nil(t, l.Rooms[3].Windows)
	assert.False(t, l.Rooms[3].Given.Has(GivenCeiling))
	require.Len(t, l.Problems, 1)
	assert.Equal(t, `line 5, column "Ceiling Ht.": "open to structure" is not a number: write a number, or leave the cell blank; the value was left out`, l.Problems[0].String())
	assert.Equal(t, "ragged.csv keeps breaks in notes: a note\non two lines", "ragged.csv keeps breaks in notes: "+readFile(t, "ragged.csv", units.US).Rooms[3].Notes)
}

func TestRead_saysWhatItUnderstood(t *testing.T) {
	l := readFile(t, "pipes_semantic.txt", units.US)
	var got []string
	for _, c := range l.Columns {
		got = append(got, fmt.Sprintf("%s = %s %s %s", c.Header, c.Title, c.Unit, c.Note))
	}
	assert.Equal(t, []string{
		"Room ID = Room number  ", "Space Type = Use  ", "Net Area (m2) = Area m2 ",
		`Gross Area (m2) =   not taken: area is read from column "Net Area (m2)"`, "Occupancy = Occupants  "}, got)
	l = readText(t, "No,Name,Area\n1,a,5\n", units.US)
	assert.Equal(t, "the heading names no unit: bare numbers are read as sq ft, the project's unit", l.Columns[2].Note)
}

func TestRead_badNumbers(t *testing.T) {
	l := readFile(t, "bad_numbers.csv", units.US)
	var kept []string
	for _, r := range l.Rooms {
		kept = append(kept, r.Number)
	}
	assert.Equal(t, []string{"103", "104", "107", "108", "109"}, kept)
	for _, want := range []string{
		`line 2, column "Area (SF)": the area is negative (-5)`,
		`line 3, column "Area (SF)": the area 99999999999 is more than 1076391 sq ft`,
		`line 4, column "Area (SF)": "NaN" is not a number`,
		`line 5, column "Area (SF)": "Inf" is not a number`,
		`line 6, column "Ceiling (ft)": the ceiling height 2700 is more than 328 ft`,
		`line 7, column "Seats": 1.5 occupants cannot be`,
		`line 8, column "Area (SF)": the unit "acres" is not known`,
		`line 9, column "Area (SF)": the area is 0`,
		`line 11, column "Room No": the room has no number`,
	} {
		found := false
		for _, p := range l.Problems {
			found = found || strings.HasPrefix(p.String(), want)
		}
		assert.True(t, found, want)
	}
	assert.Len(t, l.Problems, 9)
	assert.Len(t, l.Refused, 5)
}

// The bounds here must be those of the forms, or a list could bring in what no
// form takes back.
func TestBounds_areThoseOfTheForms(t *testing.T) {
	set := func(field, text string) error {
		f, ok := domain.FieldNamed(domain.RoomFields, field)
		require.True(t, ok)
		return f.Set(domain.Env{Project: &domain.Project{Units: units.SI}}, &domain.Room{}, text)
	}
	assert.NoError(t, set("area_m2", fmt.Sprintf("%.0f m2", float64(maxArea))))
	assert.Error(t, set("area_m2", fmt.Sprintf("%.0f m2", float64(maxArea)+1)))
	assert.NoError(t, set("ceiling_m", fmt.Sprintf("%.0f m", float64(maxCeiling))))
	assert.Error(t, set("ceiling_m", fmt.Sprintf("%.0f m", float64(maxCeiling)+1)))
	assert.NoError(t, set("seats", fmt.Sprint(maxSeats)))
	assert.Error(t, set("seats", fmt.Sprint(maxSeats+1)))
}

func TestRead_hostileTextStaysText(t *testing.T) {
	l := readFile(t, "html_names.csv", units.US)
	assert.Equal(t, "<script>alert(1)</script>", l.Rooms[0].Name)
	assert.Equal(t, `<b>bold</b> & "quoted"`, l.Rooms[0].Notes)
	l = readFile(t, "formulas.csv", units.US)
	assert.Equal(t, `=HYPERLINK("http://invented.example","x")`, l.Rooms[0].Name)
	assert.Equal(t, "-2+3", l.Rooms[3].Name)
	assert.Contains(t, l.Problems[0].String(), `line 3, column "Area": "=1+1" is not a number`)
	assert.Contains(t, l.Problems[1].String(), "could not work out the cell (#REF!)")
	l = readFile(t, "control.csv", units.US)
	require.Len(t, l.Refused, 1)
	assert.Equal(t, `line 2, column "Room Name": the text holds a control character (U+0007): remove it`, l.Problems[0].String())
}

func TestRead_duplicatesNameBothLines(t *testing.T) {
	l := readFile(t, "duplicates.csv", units.US)
	require.Len(t, l.Refused, 1)
	assert.Contains(t, l.Refused[0].Why, "room number 101 stands on line 2 and on line 5 in A")
}

func TestRead_longTextIsCutAndSaysSo(t *testing.T) {
	l := readText(t, "No,Name,Notes\n1,"+strings.Repeat("é", 121)+","+strings.Repeat("n", 4001)+"\n"+strings.Repeat("9", 121)+",x,y\n", units.US)
	require.Len(t, l.Rooms, 1)
	assert.Equal(t, 120, len([]rune(l.Rooms[0].Name)))
	assert.Len(t, l.Rooms[0].Notes, 4000)
	assert.Contains(t, l.Problems[0].String(), `line 2, column "Name": the text has 121 letters; at most 120 fit`)
	assert.Contains(t, l.Refused[0].Why, "the number has 121 letters")
}

func TestRead_notARoomList(t *testing.T) {
	for text, says := range map[string]string{
		"Name,Area\nLobby,900\n":                 "no column of room numbers was found among the headings on line 1 (Name, Area)",
		"No,Name\n":                              "there are no rooms below the headings",
		"101,Lobby,900\n102,Office,100\n":        "no row with column headings",
		"Invented shopping,\nmilk,2\neggs,12\n,": "no row with column headings",
	} {
		_, err := Read("x", []byte(text), table.Options{}, Options{})
		assert.ErrorContains(t, err, says, text)
	}
}

func TestRead_workbookWithMergedTitles(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	for i, row := range [][]any{
		{"Riverside Building (invented)"}, {"Issued 2026-01-31, for review"}, {},
		{"Level", "Room No.", "Room Name", "Area", nil, "Ceiling Ht."}, {nil, nil, nil, "Net", "Gross"}, {nil, nil, nil, "m2", "m2", "mm"},
		{"Level 1", 101, "Lobby", 80.349999999999994, 90, 3600}, {nil, 102, "Office", "12,5 m2", 14, "2700"}, {"Level 2", 201, "Meeting", 30, 33, 2700}, {"Total", nil, nil, 122.85, 137},
	} {
		require.NoError(t, f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row))
	}
	for _, m := range [][2]string{{"A1", "F1"}, {"A2", "F2"}, {"A4", "A5"}, {"B4", "B5"}, {"C4", "C5"}, {"D4", "E4"}, {"F4", "F5"}, {"A7", "A8"}} {
		require.NoError(t, f.MergeCell("Sheet1", m[0], m[1]))
	}
	b, err := f.WriteToBuffer()
	require.NoError(t, err)
	l, err := Read("rooms.xlsx", b.Bytes(), table.Options{}, Options{Units: units.US})
	require.NoError(t, err)
	assert.Equal(t, []string{
		"7|101|Lobby||Level 1|lobby?|80.35|3.6", "8|102|Office||Level 1|office-private?|12.5|2.7", "9|201|Meeting||Level 2|conference?|30|2.7"}, briefs(l))
}

func TestRead_buildingsAndStoreysAsGroupRows(t *testing.T) {
	l := readText(t, "Room No,Room Name,Area\nBUILDING A,,\nLevel 1,,200\n101,Lobby,200\nBuilding B - Level 2,,\n201,Office,20\nBasement,,\nB1,,30\n", units.SI)
	assert.Equal(t, []string{
		"4|101|Lobby|BUILDING A|Level 1|lobby?|200|0", "6|201|Office|Building B|Level 2|office-private?|20|0", "8|B1||Building B|Basement||30|0"}, briefs(l))
}

func TestRead_numbersSavedAsDecimals(t *testing.T) {
	l := readText(t, "Room No,Name\n101.0,Lobby\n102.0,Office\n", units.US)
	assert.Equal(t, "102", l.Rooms[1].Number)
	l = readText(t, "Room No,Name\n1.0,Lobby\n1.1,Office\n", units.US)
	assert.Equal(t, "1.0", l.Rooms[0].Number)
}
