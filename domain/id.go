// Package domain says what a scope of operation is: a project with its
// buildings, storeys and rooms, what each room holds, who controls what, the
// typicals that rooms follow, and what a reviewer says of it. It reads and
// writes nothing; every other package builds on it.
package domain

import (
	"crypto/rand"
	"encoding/base32"
	"strings"
)

// ID names a thing within its project for as long as it lives. Tags and
// numbers are for people and may change; an ID does not.
type ID string

var idCoding = base32.NewEncoding("0123456789abcdefghjkmnpqrstvwxyz").WithPadding(base32.NoPadding)

// NewID gives an ID that no other thing has: 80 random bits.
func NewID() ID {
	var b [10]byte
	_, _ = rand.Read(b[:]) // never fails: crypto/rand ends the program first
	return ID(idCoding.EncodeToString(b[:]))
}

// Valid tells whether the ID can stand in a path, a file and an address: 1 to
// 120 small letters, digits, hyphens, dots or colons.
func (id ID) Valid() bool {
	if id == "" || len(id) > 120 {
		return false
	}
	return strings.IndexFunc(string(id), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '.' || r == ':')
	}) < 0
}
