package pdf

import (
	_ "embed"
	"sync"

	"codeberg.org/go-pdf/fpdf"
)

// The fonts with their licenses and checksums lie in fonts/; see fonts/README.md.
var (
	//go:embed fonts/NotoSans-SemiCondensed.ttf
	regularTTF []byte
	//go:embed fonts/NotoSans-SemiCondensedBold.ttf
	boldTTF []byte
	//go:embed fonts/DejaVuSansCondensed-Symbols.ttf
	symbolsTTF []byte
)

// face is one of the embedded fonts.
type face uint8

const (
	regular face = iota
	bold
	symbols
	faceCount
)

// replacement is printed for a character that no embedded font holds.
const replacement = '\uFFFD'

// faces gives the widths of all fonts, read once for the life of the program:
// laying out needs them long before the PDF does.
var faces = sync.OnceValues(func() (*[faceCount]*metrics, error) {
	var all [faceCount]*metrics
	for f, data := range map[face][]byte{regular: regularTTF, bold: boldTTF, symbols: symbolsTTF} {
		m, err := readMetrics(data)
		if err != nil {
			return nil, err
		}
		all[f] = m
	}
	return &all, nil
})

// family is the name under which fpdf knows a face.
func (f face) family() string {
	return [...]string{"regular", "bold", "symbols"}[f]
}

func addFonts(doc *fpdf.Fpdf) {
	for f, data := range [...][]byte{regular: regularTTF, bold: boldTTF, symbols: symbolsTTF} {
		doc.AddUTF8FontFromBytes(face(f).family(), "", data)
	}
}
