package roomlist

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"scopewright/domain"
)

// How people write these is common practice, no published source.

func TestSplitLabel(t *testing.T) {
	for text, want := range map[string][2]string{
		"101 - Lobby": {"101", "Lobby"}, "101 Lobby": {"101", "Lobby"}, "101-Lobby": {"101", "Lobby"}, "101: Lobby": {"101", "Lobby"}, "101 – Büro": {"101", "Büro"},
		"A-101 Lobby": {"A-101", "Lobby"}, "A101 Lobby": {"A101", "Lobby"}, "1.02.03 Office 4": {"1.02.03", "Office 4"}, "104A: Janitor": {"104A", "Janitor"},
		"Restroom 105": {"105", "Restroom"}, "Classroom B, 214": {"214", "Classroom B"}, "Lobby - 101": {"101", "Lobby"}, "101 | Lobby": {"101", "Lobby"},
	} {
		number, name, ok := SplitLabel(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, [2]string{number, name}, text)
	}
	for _, text := range []string{"101", "A-101", "101A", "Lobby", "101-A", "", "Stair 1", "101 102"} {
		_, _, ok := SplitLabel(text)
		assert.False(t, ok, text)
	}
}

func TestNumberKey(t *testing.T) {
	for _, same := range [][2]string{{"101a", "101A"}, {"A - 101", "a-101"}, {"A–101", "A-101"}, {" 101 ", "101"}} {
		assert.Equal(t, numberKey(same[0]), numberKey(same[1]))
	}
	assert.NotEqual(t, numberKey("001"), numberKey("1"))
	assert.NotEqual(t, numberKey("1.01"), numberKey("101"))
}

func TestStoreyKey(t *testing.T) {
	for _, same := range [][]string{
		{"Level 2", "LEVEL 02", "L2", "2nd Floor", "Second floor", "2", "02", "Floor 2", "Storey 2", "Lvl. 2", "Floor: 2"},
		{"Ground", "Ground floor", "G", "Level G", "GF", "Ground level"},
		{"B1", "Basement 1", "Basement level 1"},
		{"Level 2A", "level 2a"},
	} {
		first, _ := storeyKey(same[0])
		for _, other := range same[1:] {
			key, _ := storeyKey(other)
			if key == "g" {
				key = "ground"
			}
			assert.Equal(t, first, key, other)
		}
	}
	for _, differ := range [][2]string{{"Level 2", "Level 12"}, {"Level 1", "B1"}, {"Ground", "Lower ground"}, {"North", "South"}, {"Level 1", "P1"}} {
		a, _ := storeyKey(differ[0])
		b, _ := storeyKey(differ[1])
		assert.NotEqual(t, a, b)
	}
}

func TestPlace(t *testing.T) {
	for text, want := range map[string][2]string{
		"LEVEL 2": {"", "LEVEL 2"}, "Building A": {"Building A", ""}, "Building A - Level 2": {"Building A", "Level 2"}, "Level 2: 24 rooms": {"", "Level 2"},
		"Basement": {"", "Basement"}, "Science wing": {"Science wing", ""}, "3rd floor (offices)": {"", "3rd floor"},
	} {
		building, storey, ok := place(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, [2]string{building, storey}, text)
	}
	for _, text := range []string{"ADMINISTRATION", "101", "Offices", "Areas are net", ""} {
		_, _, ok := place(text)
		assert.False(t, ok, text)
	}
}

func TestUse_fromWords(t *testing.T) {
	g := newGuesser()
	for text, want := range map[string]domain.Use{
		"Open Office": "office-open", "Office, Open": "office-open", "Open-plan office": "office-open", "Private Office 214": "office-private", "Office": "office-private",
		"Women's Restroom": "restroom", "Toilets": "restroom", "Storage for Classroom 2": "storage", "Classroom Storage": "storage", "Stair to roof": "stair", "STAIR 2": "stair",
		"Electrical Closet": "electrical", "Janitor Closet": "storage", "Lecture Hall": "classroom", "Hall": "corridor", "Hallway": "corridor", "Lab Office": "office-private",
		"Workshop": "workshop", "Gift shop": "retail", "IT Room": "electrical", "Board Room": "conference", "Conference Rm": "conference", "Meeting - large": "conference",
		"Kitchenette": "break-room", "Copy": "copy-room", "Entrance Lobby": "lobby", "Zumba": "", "": "", "Room": "",
	} {
		use, _ := g.of(text)
		assert.Equal(t, want, use, text)
	}
	for _, u := range domain.Uses() {
		use, exact := g.of(u.Name)
		assert.Equal(t, u.Use, use)
		assert.True(t, exact)
		use, exact = g.of(string(u.Use))
		assert.Equal(t, u.Use, use)
		assert.True(t, exact)
	}
}
