package pdf

import "fmt"

// Paper is a sheet size.
type Paper string

// The paper sizes. Letter and Tabloid are 8.5 x 11 and 11 x 17 in (ANSI/ASME Y14.1 sizes A and B,
// from memory); A4 and A3 are ISO 216.
const (
	Letter  Paper = "letter"
	A4      Paper = "a4"
	Tabloid Paper = "tabloid"
	A3      Paper = "a3"
)

// Papers lists the sizes in the order in which a form offers them.
var Papers = []Paper{Letter, A4, Tabloid, A3}

// ParsePaper reads a paper size as forms and the command line give it.
func ParsePaper(text string) (Paper, error) {
	for _, p := range Papers {
		if string(p) == text {
			return p, nil
		}
	}
	return "", fmt.Errorf("paper %q is unknown: use letter, a4, tabloid or a3", text)
}

// portrait is the width and height in millimetres.
func (p Paper) portrait() (width, height float64, err error) {
	switch p {
	case Letter, "":
		return 215.9, 279.4, nil
	case A4:
		return 210, 297, nil
	case Tabloid:
		return 279.4, 431.8, nil
	case A3:
		return 297, 420, nil
	}
	return 0, 0, fmt.Errorf("paper %q is unknown: use letter, a4, tabloid or a3", string(p))
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
