package roomlist

import "scopewright/domain"

// What other readers of the intake need to know of rooms and storeys by words.

// StoreyKey gives a storey's name for comparing: "Level 2", "L2" and "2nd
// Floor" are one.
func StoreyKey(name string) string {
	key, _ := storeyKey(name)
	return key
}

// NumberKey gives a room number for comparing: case, spaces and the kind of
// dash do not matter.
func NumberKey(number string) string { return numberKey(number) }

// Uses gives a function that guesses the use of a room from its name, empty
// where the name says none. It remembers what it was asked: use it in one place
// at a time.
func Uses() func(name string) domain.Use {
	g := newGuesser()
	return func(name string) domain.Use {
		use, _ := g.of(name)
		return use
	}
}
