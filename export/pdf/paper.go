package pdf

import "fmt"

// Paper is a sheet size.
type Paper string

// The paper sizes. Letter and Tabloid are 8.5 x 11 and 11 x 17 in (ANSI/ASME Y14.1 sizes A and B,
// from memory), Arch C and Arch D 18 x 24 and 24 x 36 in (common practice of US architects, from
// memory); A4 to A1 are ISO 216.
const (
	Letter  Paper = "letter"
	A4      Paper = "a4"
	Tabloid Paper = "tabloid"
	A3      Paper = "a3"
	ArchC   Paper = "arch-c"
	A2      Paper = "a2"
	ArchD   Paper = "arch-d"
	A1      Paper = "a1"
)

// Papers lists the sizes in the order in which a form offers them.
var Papers = []Paper{Letter, A4, Tabloid, A3, ArchC, A2, ArchD, A1}

const paperChoice = "use letter, a4, tabloid, a3, arch-c, a2, arch-d or a1"

// Large tells that the paper is for plotters: drawings gain by it, tables do not.
func (p Paper) Large() bool { return p == ArchC || p == A2 || p == ArchD || p == A1 }

// ParsePaper reads a paper size as forms and the command line give it.
func ParsePaper(text string) (Paper, error) {
	for _, p := range Papers {
		if string(p) == text {
			return p, nil
		}
	}
	return "", fmt.Errorf("paper %q is unknown: %s", text, paperChoice)
}

// Size is the width and height in millimetres, upright; Letter where the paper is empty.
func (p Paper) Size() (width, height float64, err error) {
	switch p {
	case Letter, "":
		return 215.9, 279.4, nil
	case A4:
		return 210, 297, nil
	case Tabloid:
		return 279.4, 431.8, nil
	case A3:
		return 297, 420, nil
	case ArchC:
		return 457.2, 609.6, nil
	case A2:
		return 420, 594, nil
	case ArchD:
		return 609.6, 914.4, nil
	case A1:
		return 594, 841, nil
	}
	return 0, 0, fmt.Errorf("paper %q is unknown: %s", string(p), paperChoice)
}

// Orientation says who decides between portrait and landscape.
type Orientation int

// BySheet follows each sheet; Auto also turns a portrait sheet whose widest table fits
// only across the page; the others overrule the sheets.
const (
	BySheet Orientation = iota
	Auto
	AlwaysPortrait
	AlwaysLandscape
)

// Margins of every page in millimetres, wide enough for any office printer.
const (
	marginSide   = 12.0
	marginTop    = 9.0
	marginBottom = 8.0
)
