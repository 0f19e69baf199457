package roomlist

import (
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/store/intake/columns"
)

// guesser finds the use of a room from words, through the synonyms of
// domain.Uses. It remembers what it has seen: lists repeat their names.
type guesser struct {
	exact map[string]domain.Use
	words map[string]domain.Use // single words
	terms []term                // of several words
	seen  map[string]domain.Use
}

type term struct {
	words []string
	use   domain.Use
}

// mostSeen bounds the memory of a list of 100,000 different names.
const mostSeen = 5000

// vague words give way to another word of the same name: a "lecture hall" is
// for lectures, an "electrical closet" electrical.
var vague = []string{"hall", "closet", "store", "aisle"}

func newGuesser() *guesser {
	g := &guesser{exact: map[string]domain.Use{}, words: map[string]domain.Use{}, seen: map[string]domain.Use{}}
	for _, u := range domain.Uses() {
		g.exact[columns.Plain(u.Name)], g.exact[columns.Plain(string(u.Use))] = u.Use, u.Use
		if u.Use == "other" {
			continue
		}
		for _, text := range append([]string{u.Name, string(u.Use)}, u.Synonyms...) {
			words := singulars(columns.Plain(text))
			switch {
			case len(words) > 1:
				g.terms = append(g.terms, term{words, u.Use})
			case g.words[words[0]] == "":
				g.words[words[0]] = u.Use
			}
		}
	}
	slices.SortStableFunc(g.terms, func(a, b term) int { return len(b.words) - len(a.words) })
	return g
}

func singulars(plain string) []string {
	words := strings.Fields(plain)
	for i, w := range words {
		if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
			words[i] = w[:len(w)-1]
		}
	}
	return words
}

// of gives the use that a text means, empty where it says none; exact is true
// where it names the use itself.
func (g *guesser) of(text string) (use domain.Use, exact bool) {
	plain := columns.Plain(text)
	if use, ok := g.exact[plain]; ok {
		return use, true
	}
	if use, ok := g.seen[text]; ok {
		return use, false
	}
	use = g.guess(text, plain)
	if len(g.seen) < mostSeen {
		g.seen[text] = use
	}
	return use, false
}

func (g *guesser) guess(text, plain string) domain.Use {
	words := singulars(plain)
	for i, w := range words { // what follows "to" is another room: "Stair to roof"
		if i > 0 && slices.Contains([]string{"to", "for", "of", "at", "near"}, w) {
			words = words[:i]
			break
		}
	}
	for _, t := range g.terms { // in any order, for "Office, open"
		if !slices.ContainsFunc(t.words, func(w string) bool { return !slices.Contains(words, w) }) {
			return t.use
		}
	}
	first := text
	if cut := strings.IndexAny(text, ",(-–—/:"); cut > 0 {
		first = text[:cut]
	}
	if use := g.last(singulars(columns.Plain(first)), len(words)); use != "" {
		return use
	}
	return g.last(words, len(words))
}

// last gives the use of the last word that has one, for in English the last
// noun says what a thing is: a "lab office" is an office.
func (g *guesser) last(words []string, most int) domain.Use {
	var fallback domain.Use
	for i := min(len(words), most) - 1; i >= 0; i-- {
		use := g.words[words[i]]
		if use != "" && !slices.Contains(vague, words[i]) {
			return use
		}
		if fallback == "" {
			fallback = use
		}
	}
	return fallback
}
