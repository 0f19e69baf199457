// Package raster reads pictures that go beneath a storey's plan: PNG and JPEG,
// as they come from a scanner, a phone or a page of a PDF. It stands in
// store/intake and writes nothing.
//
// A picture is refused before its pixels are unpacked where it has too many,
// and read to its end where it has not: one that is cut short would show as a
// plan with a part missing. What it gives can be shown by a browser and set into
// a PDF as it is.
package raster

import (
	"math"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// Bounds of a picture: a scan of 36 x 24 in at 200 dots to the inch has 35
// million pixels.
const (
	MaxPixels = 40_000_000
	MaxBytes  = 64 << 20
)

// Media types of what Read gives.
const (
	PNG  = "image/png"
	JPEG = "image/jpeg"
)

// Picture is a whole picture that is not too large.
type Picture struct {
	Media         string
	Width, Height int // pixels
	Data          []byte

	// Across and Down are the size of a pixel on the paper that was scanned or
	// plotted, by what the file says; 0 where it says nothing that can be so.
	Across, Down units.Metres
}

// Paper gives the size of the paper that the picture shows, 0 where that is not known.
func (p *Picture) Paper() (width, height units.Metres) {
	return p.Across * units.Metres(p.Width), p.Down * units.Metres(p.Height)
}

// Read takes a picture in.
func Read(data []byte) (*Picture, error) {
	if len(data) > MaxBytes {
		return nil, building.Refuse("The picture has %d MB; at most %d MB are taken. Save it with fewer pixels, or in black and white.", (len(data)+1<<20-1)>>20, MaxBytes>>20)
	}
	switch kind := building.KindOf(data[:min(len(data), building.HeadSize)]); kind {
	case building.PNGFile:
		return readPNG(data)
	case building.JPEGFile:
		return readJPEG(data)
	case building.EmptyFile:
		return nil, building.Refuse("The file is empty: choose another one.")
	default:
		return nil, building.Refuse("This is no picture that can be read here: save it as PNG or JPEG.")
	}
}

// sized refuses pictures without pixels or with too many.
func sized(width, height int) error {
	if width <= 0 || height <= 0 {
		return building.Refuse("The picture has no pixels: it is %d wide and %d high.", width, height)
	}
	if width > MaxPixels/height {
		return building.Refuse("The picture has %d x %d pixels; at most %d million are taken. Save it smaller.", width, height, MaxPixels/1_000_000)
	}
	return nil
}

var errCutShort = building.Refuse("The picture is cut short: its end is missing. Send or save it anew.")

func damaged(where string) error {
	return building.Refuse("The picture is damaged (%s) and cannot be shown. Save it anew as PNG or JPEG.", where)
}

// Dots to the inch between which a scan or a plot can be believed.
const (
	fewestDots = 20
	mostDots   = 4800
)

// believed gives the size of a pixel from pixels a meter, 0 for numbers that no
// scanner writes.
func believed(perMeter float64) units.Metres {
	dots := perMeter * units.MetresPerInch
	if math.IsNaN(dots) || dots < fewestDots || dots > mostDots {
		return 0
	}
	return units.Metres(1 / perMeter)
}
