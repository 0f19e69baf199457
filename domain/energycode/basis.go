package energycode

import (
	"slices"
	"strings"
)

// Mark says how sure a figure is.
type Mark string

// The marks. FromText is the word of a person who had the adopted text beside it.
const (
	FromText Mark = "read"
	Seen     Mark = "seen"
	Memory   Mark = "memory"
)

// Marks lists them, the surest first.
func Marks() []Mark { return []Mark{FromText, Seen, Memory} }

// Basis is where a figure stands and how sure it is. Source is a key of Sources, or
// in a worksheet what a person wrote.
type Basis struct {
	Clause string `json:"clause,omitempty"`
	Mark   Mark   `json:"mark"`
	Source string `json:"source,omitempty"`
	Note   string `json:"note,omitempty"`
}

// Words says how sure the figure is.
func (b Basis) Words() string {
	switch b.Mark {
	case Seen:
		return "seen in " + SourceWords(b.Source) + "; confirm against the adopted text"
	case FromText:
		if b.Source == "" {
			return "read in the adopted text"
		}
		return "read in the adopted text: " + b.Source
	}
	return "from memory, confirm against the adopted text"
}

// weakest gives the least sure of some bases: memory before seen before read.
func weakest(bases []Basis) Basis {
	var out Basis
	at := -1
	for _, b := range bases {
		if i := slices.Index(Marks(), b.Mark); i > at {
			out, at = b, i
		}
	}
	return out
}

// clauses joins the clauses of some bases, each once.
func clauses(bases []Basis) string {
	var out []string
	for _, b := range bases {
		for part := range strings.SplitSeq(b.Clause, ";") {
			if part = strings.TrimSpace(part); part != "" && part != "-" && !slices.Contains(out, part) {
				out = append(out, part)
			}
		}
	}
	return strings.Join(out, "; ")
}

// notes joins the notes of some bases, each once.
func notes(bases []Basis) []string {
	var out []string
	for _, b := range bases {
		if b.Note != "" && !slices.Contains(out, b.Note) {
			out = append(out, b.Note)
		}
	}
	return out
}
