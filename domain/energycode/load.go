package energycode

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed packs/*.csv
var files embed.FS

// builtIn is what the embedded tables hold.
type builtIn struct {
	packs   []*Pack
	sources map[string]string
	uses    []useRow
}

// embedded reads the tables once. A test reads them too: in a build that passed it
// cannot panic.
var embedded = sync.OnceValue(func() *builtIn {
	b := &builtIn{sources: map[string]string{}}
	spaces := readSpaces()
	byID := map[string]*Pack{}
	for _, r := range table("packs", "pack", "code", "edition", "amendments", "title", "whole", "zone_rules", "note") {
		p := &Pack{ID: r[0], Code: r[1], Edition: r[2], Amendments: r[3], Title: r[4], whole: r[5] == "yes", ZoneRules: r[6], Note: r[7], Spaces: spaces}
		b.packs, byID[p.ID] = append(b.packs, p), p
	}
	readParameters(byID)
	readRequirements(byID)
	readDensities(byID)
	for _, r := range table("sources", "source", "what") {
		b.sources[r[0]] = r[1]
	}
	b.uses = readUses()
	for _, p := range b.packs {
		p.reindex()
	}
	return b
})

// Packs lists the built-in packs by which rooms may be judged. They are shared and
// must not be changed: Copy makes a worksheet of one.
func Packs() []*Pack {
	var out []*Pack
	for _, p := range embedded().packs {
		if p.whole {
			out = append(out, p)
		}
	}
	return out
}

// Extracts lists the built-in packs that hold single figures only.
func Extracts() []*Pack {
	var out []*Pack
	for _, p := range embedded().packs {
		if !p.whole {
			out = append(out, p)
		}
	}
	return out
}

// Find gives a built-in pack by its ID, nil where there is none.
func Find(id string) *Pack {
	if i := slices.IndexFunc(embedded().packs, func(p *Pack) bool { return p.ID == id }); i >= 0 {
		return embedded().packs[i]
	}
	return nil
}

// SourceWords says what a source's key stands for.
func SourceWords(key string) string {
	if words := embedded().sources[key]; words != "" {
		return words
	}
	return key
}

// table reads the rows of an embedded table and holds its head to what is expected.
func table(name string, head ...string) [][]string {
	f, err := files.Open("packs/" + name + ".csv")
	if err != nil {
		panic(fmt.Sprintf("energycode: %v", err))
	}
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) == 0 || !slices.Equal(rows[0], head) {
		panic(fmt.Sprintf("energycode: %s.csv: head is not %s: %v", name, strings.Join(head, ","), err))
	}
	return rows[1:]
}

func readSpaces() []Space {
	var out []Space
	for _, r := range table("spaces", "space", "name") {
		out = append(out, Space{r[0], r[1]})
	}
	return out
}

func readParameters(packs map[string]*Pack) {
	for _, r := range table("parameters", "pack", "control", "name", "sign", "value", "unit", "words", "clause", "mark", "source", "note") {
		p := packs[r[0]]
		p.Parameters = append(p.Parameters, Parameter{Control: Control(r[1]), Name: r[2], Sign: Sign(r[3]), Value: number(r[4]), Unit: r[5], Words: r[6],
			Basis: Basis{r[7], Mark(r[8]), r[9], r[10]}})
	}
}

func readRequirements(packs map[string]*Pack) {
	for _, r := range table("requirements", "pack", "space", "control", "duty", "reduction_pct", "each", "also", "clause", "mark", "source", "note") {
		p := packs[r[0]]
		p.Requirements = append(p.Requirements, Requirement{Space: r[1], Control: Control(r[2]), Duty: Duty(r[3]), Reduction: number(r[4]), Each: r[5], Also: Control(r[6]),
			Basis: Basis{r[7], Mark(r[8]), r[9], r[10]}})
	}
}

func readDensities(packs map[string]*Pack) {
	for _, r := range table("densities", "pack", "space", "w_per_ft2", "clause", "mark", "source", "note") {
		p := packs[r[0]]
		p.Densities = append(p.Densities, Density{Space: r[1], WattsFt2: number(r[2]), Basis: Basis{r[3], Mark(r[4]), r[5], r[6]}})
	}
}

// number reads a cell of an embedded table; an empty one is 0.
func number(cell string) float64 {
	if cell == "" {
		return 0
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		panic(fmt.Sprintf("energycode: %q is no number", cell))
	}
	return v
}
