package dxf

import (
	"regexp"
	"strings"
)

// Role is what a layer seems to hold, by its name.
type Role string

// Roles of a layer.
const (
	Rooms   Role = "rooms"
	Walls   Role = "walls"
	Names   Role = "names"
	Windows Role = "windows"
	Doors   Role = "doors"
	Other   Role = ""
)

// Words in layer names, as whole parts between dashes, underscores and blanks.
// A-AREA, A-AREA-IDEN, A-WALL, A-GLAZ, A-DOOR and A-FLOR-IDEN are of the National CAD Standard
// (from memory); the others are common practice, no published source.
var (
	nameWords = regexp.MustCompile(`(?:^|[-_ .])(IDEN|TAG|TAGS|TEXT|TXT|NAME|NAMES|NUMB|NUMBER|ANNO|LABEL|LABELS|NPLT|PATT)(?:$|[-_ .0-9])`)
	roomWords = regexp.MustCompile(`(?:^|[-_ .])(AREA|AREAS|ROOM|ROOMS|SPACE|SPACES|SPCE|RM|RMS|ZONE|RAUM|RAEUME|LOCAL|LOCAUX|PIECE|PIECES)(?:$|[-_ .0-9])`)
	glazWords = regexp.MustCompile(`(?:^|[-_ .])(GLAZ|GLAZING|WINDOW|WINDOWS|WIND|FENSTER|FENETRE|FENETRES)(?:$|[-_ .0-9])`)
	doorWords = regexp.MustCompile(`(?:^|[-_ .])(DOOR|DOORS|TUER|TUEREN|PORTE|PORTES)(?:$|[-_ .0-9])`)
	wallWords = regexp.MustCompile(`(?:^|[-_ .])(WALL|WALLS|PRTN|PARTITION|PARTITIONS|WAND|WAENDE|MUR|MURS)(?:$|[-_ .0-9])`)
)

func roleOf(layer string) Role {
	name := strings.ToUpper(shortName(layer))
	switch {
	case roomWords.MatchString(name) && nameWords.MatchString(name), strings.HasSuffix(name, "FLOR-IDEN"):
		return Names
	case roomWords.MatchString(name):
		return Rooms
	case nameWords.MatchString(name):
		return Other
	case glazWords.MatchString(name):
		return Windows
	case doorWords.MatchString(name):
		return Doors
	case wallWords.MatchString(name):
		return Walls
	}
	return Other
}
