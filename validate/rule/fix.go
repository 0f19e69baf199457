package rule

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"

	"scopewright/domain"
	"scopewright/domain/edit"
)

// Fix is a way out that the program knows: edits of the room that a click
// applies, or gestures on the plan where the finding is a storey's.
type Fix struct {
	Title    string
	Edits    []edit.Edit
	Gestures []edit.Gesture
}

// SetFields gives a fix that sets fields, in pairs of path and text.
func SetFields(title string, pairs ...string) *Fix {
	fix := &Fix{Title: title}
	for i := 0; i+1 < len(pairs); i += 2 {
		fix.Edits = append(fix.Edits, edit.SetField{Path: pairs[i], Text: pairs[i+1]})
	}
	return fix
}

var idCoding = base32.NewEncoding("0123456789abcdefghjkmnpqrstvwxyz").WithPadding(base32.NoPadding)

// FreshID gives an ID for a thing that a fix adds to the room, told apart from
// others by a word. It is made from the room's ID and not drawn at random, so
// that a rule gives the same answer each time it is asked.
func (f *Facts) FreshID(what string) domain.ID {
	for round := 0; ; round++ {
		sum := sha256.Sum256(fmt.Appendf(nil, "%s/%s/%d", f.Room.ID, what, round))
		id := domain.ID(idCoding.EncodeToString(sum[:10]))
		if f.Design.Device(id) == nil && f.Design.Load(id) == nil && f.Design.Scene(id) == nil && f.Design.Intent(id) == nil {
			return id
		}
	}
}
