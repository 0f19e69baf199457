package dxf

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
)

func TestPlainLines_takesFormattingOut(t *testing.T) {
	for _, c := range []struct {
		in        string
		paragraph bool
		want      []string
	}{
		{"%%uKITCHEN", false, []string{"KITCHEN"}},
		{"90%%d %%p5 %%c20 %%%", false, []string{"90° ±5 Ø20 %"}},
		{"%%065%%066", false, []string{"AB"}},
		{`101\POFFICE`, true, []string{"101", "OFFICE"}},
		{`{\fSans|b0|i0;OPEN \H0.7x;OFFICE}\P\A1;201`, true, []string{"OPEN OFFICE", "201"}},
		{`\S1/2; and \S3^4; \\ \{a\}`, true, []string{`1/2 and 3/4 \ {a}`}},
		{`{\pxqc;\Fplain.shx|c0;SHEAR PANELS}`, true, []string{"SHEAR PANELS"}},
		{`A\~B^IC^JD`, true, []string{"A B C", "D"}},
		{`{\f unfinished`, true, nil},
		{`tail\`, true, []string{`tail\`}},
	} {
		assert.Equal(t, c.want, plainLines(c.in, c.paragraph), c.in)
	}
}

func TestDecoder_followsCodePageAndRelease(t *testing.T) {
	cyrillic, err := charmap.Windows1251.NewEncoder().String("Кабинет")
	require.NoError(t, err)
	kanji, err := japanese.ShiftJIS.NewEncoder().String("会議室")
	require.NoError(t, err)
	for _, c := range []struct{ version, page, raw, want string }{
		{"AC1015", "ANSI_1251", cyrillic, "Кабинет"},
		{"AC1015", "ANSI_932", kanji, "会議室"},
		{"AC1018", "", "Caf\xe9", "Café"},
		{"AC1009", "", "Büro", "Büro"}, // UTF-8 from a modern program
		{"AC1027", "ANSI_1252", "Büro", "Büro"},
		{"AC1024", "ANSI_1252", "Caf\xe9", "Café"}, // says UTF-8 and is not
		{"AC1015", "ANSI_1252", `\U+00C9tude \U+4F1A`, "Étude 会"},
		{"AC1015", "ANSI_1252", "A\x00\x07\x1bB", "AB"},
	} {
		assert.Equal(t, c.want, newDecoder(c.version, c.page, []byte(c.raw)).text([]byte(c.raw)), c.want)
	}
}

func TestNames_fromTextsInside(t *testing.T) {
	for name, c := range map[string]struct {
		draw         func(s *sketch)
		number, name string
		area         float64
		rest         []string
	}{
		"two lines": {draw: func(s *sketch) {
			s.text("T", 4, 3.2, 0.2, "101").text("T", 3.9, 2.9, 0.2, "KITCHEN")
		}, number: "101", name: "KITCHEN"},
		"name in two lines, number below, in another height": {draw: func(s *sketch) {
			s.text("T", 4, 3.3, 0.2, "CONFERENCE").text("T", 4.2, 3, 0.2, "ROOM").text("T", 4.3, 2.6, 0.15, "A-204")
		}, number: "A-204", name: "CONFERENCE ROOM"},
		"paragraph with area": {draw: func(s *sketch) {
			s.add(0, "MTEXT", 8, "T", 10, 4, 20, 3, 40, 0.2, 71, 5, 1, `1.05\PB\U+00FCro\PArea: 48.0 m2`)
		}, number: "1.05", name: "Büro", area: 48},
		"area in square feet": {draw: func(s *sketch) {
			s.text("T", 4, 3, 0.2, "STORE").text("T", 4, 2.7, 0.2, "516.7 SF")
		}, name: "STORE", area: 516.7 * 0.09290304},
		"sizes and heights are no names": {draw: func(s *sketch) {
			s.text("T", 4, 3, 0.2, "OFFICE").text("T", 4, 2.7, 0.2, "8' x 2'").text("T", 4, 2.4, 0.2, "CLG 9'-0\"").text("T", 4, 2.1, 0.2, "+3.50")
		}, name: "OFFICE", rest: []string{`8' x 2'`, `CLG 9'-0"`, "+3.50"}},
		"a door's mark far off is no number": {draw: func(s *sketch) {
			s.text("T", 4, 3, 0.2, "BEDROOM").text("T", 0.2, 0.2, 0.2, "2668")
		}, name: "BEDROOM", rest: []string{"2668"}},
		"a number alone counts wherever it is": {draw: func(s *sketch) { s.text("T", 0.2, 0.2, 0.2, "B-12") }, number: "B-12"},
		"a remark is no name": {draw: func(s *sketch) {
			s.text("T", 4, 3, 0.2, "LOBBY")
			s.add(0, "MTEXT", 8, "T", 10, 1, 20, 5.8, 40, 0.1, 71, 1, 1, `Provide twenty minute door\Pwith self closing hinges as per\Pthe door schedule and note 7\Pof the general notes sheet`)
		}, name: "LOBBY", rest: []string{"Provide twenty minute door", "with self closing hinges as per", "the door schedule and note 7", "of the general notes sheet"}},
		"stamp with attributes": {draw: func(s *sketch) {
			s.block("STAMP", 0, "ATTDEF", 8, "0", 10, 0, 20, 0, 40, 0.2, 1, "NAME?", 2, "ROOM_NAME")
			s.add(0, "INSERT", 8, "T", 2, "STAMP", 66, 1, 10, 4, 20, 3)
			s.add(0, "ATTRIB", 8, "0", 10, 4, 20, 3, 40, 0.2, 1, "17 Chairs", 2, "ROOM_NAME", 70, 0)
			s.add(0, "ATTRIB", 8, "0", 10, 4, 20, 2.7, 40, 0.2, 1, "B 12", 2, "ROOM_NO", 70, 0)
			s.add(0, "ATTRIB", 8, "0", 10, 4, 20, 2.4, 40, 0.2, 1, "secret", 2, "X", 70, 1)
			s.add(0, "SEQEND", 8, "T")
		}, number: "B 12", name: "17 Chairs"},
		"number and name in one line": {draw: func(s *sketch) { s.text("T", 4, 3, 0.2, "101-Vest.") }, number: "101", name: "Vest."},
		"markup stays text":           {draw: func(s *sketch) { s.text("T", 3, 3, 0.2, "<b>=HYPERLINK()</b>") }, name: "<b>=HYPERLINK()</b>"},
	} {
		t.Run(name, func(t *testing.T) {
			s := newSketch("AC1015", 6).rectangle("R", 0, 0, 8, 6)
			c.draw(s)
			got := rooms(t, s)
			require.Len(t, got, 1)
			assert.Equal(t, c.number, got[0].Number)
			assert.Equal(t, c.name, got[0].Name)
			assert.InDelta(t, c.area, float64(got[0].DeclaredArea), 1e-6)
			assert.Equal(t, c.rest, got[0].Texts)
		})
	}
}

func TestNames_loneLeadingNumberStaysInTheName(t *testing.T) {
	s := newSketch("AC1015", 6)
	for i, name := range []string{"KITCHEN", "2 CAR GARAGE", "ENTRY", "HALL"} {
		s.rectangle("R", float64(i)*9, 0, 8, 6).text("T", float64(i)*9+3, 3, 0.2, name)
	}
	got := rooms(t, s)
	assert.Equal(t, "2 CAR GARAGE", got[1].Name)
	assert.Empty(t, got[1].Number)
}

func TestNames_textGoesToTheSmallestRoomAroundIt(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 20, 10).rectangle("R", 1, 1, 4, 4)
	s.text("T", 2, 2, 0.2, "CORE").text("T", 12, 5, 0.2, "HALL")
	got := rooms(t, s)
	assert.Equal(t, "HALL", got[0].Name)
	assert.Equal(t, "CORE", got[1].Name)
}

func TestNames_onlyFromChosenTextLayers(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 8, 6).text("NOTES", 4, 3, 0.2, "SEE DETAIL").text("T", 4, 1, 0.2, "OFFICE")
	opt := inR
	opt.TextLayers = []string{"T"}
	m := read(t, s.bytes(), opt)
	assert.Equal(t, "OFFICE", m.Storeys[0].Spaces[0].Name)
	assert.Empty(t, m.Storeys[0].Spaces[0].Texts)
}

func TestAreas_thatDifferAreTold(t *testing.T) {
	s := newSketch("AC1015", 6).rectangle("R", 0, 0, 8, 6).text("T", 4, 3, 0.2, "33 Office").text("T", 4, 2.7, 0.2, "60 m2")
	m := read(t, s.bytes(), inR)
	assert.Contains(t, messages(m), "'33 Office': the drawing says 60.0 m2, its outline has 48.0 m2. The outline is used.")
}

func TestRoles_byTheTradesLayerNames(t *testing.T) {
	for name, want := range map[string]Role{
		"A-AREA": Rooms, "A-AREA-IDEN": Names, "A-WALL": Walls, "xref-plan$0$A-WALL": Walls, "A-WALL-PATT": Other,
		"A-FLOR-IDEN": Names, "ROOM": Rooms, "Rooms_2": Rooms, "RM-TAG": Names, "A-DOOR": Doors, "A-DOOR-IDEN": Other, "A-GLAZ": Windows, "A-WALL-GLAZ": Windows, "E-LITE": Other,
		"WAREHOUSE": Other, "FARM": Other, "0": Other, "a-spaces": Rooms, "I-WALL-FULL": Walls,
	} {
		assert.Equal(t, want, roleOf(name), name)
	}
}
