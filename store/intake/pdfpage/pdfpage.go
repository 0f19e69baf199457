// Package pdfpage makes a picture of one page of a PDF, to lie beneath a
// storey's plan. It stands in store/intake.
//
// Pages are drawn by PDFium in WebAssembly: whatever a hostile file does to it
// happens in memory of its own, without files, network or clock, and ends with
// the reading. What it compiles to is kept in a folder of the user's cache; the
// first reading of all takes some seconds, a later one a fraction of one.
package pdfpage

import (
	"context"
	"math"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/raster"
)

// Bounds of a page as a picture. Finer than MaxDots, a plan shows no more than
// its lines, and takes four times the room for twice the dots.
const (
	MaxDots   = 150 // to the inch
	MaxBytes  = raster.MaxBytes
	MaxListed = 500 // pages whose sizes are told
)

// leastPage is the smallest side of a page that can hold a plan.
const leastPage = units.Metres(0.02)

// Size is that of a page, upright as it is shown.
type Size struct{ Width, Height units.Metres }

// Contents is what a PDF holds.
type Contents struct {
	Pages int
	Sizes []Size // of the first MaxListed pages
}

// Stage is how far a reading is, as a part of all.
type Stage func(done, total int64)

// The stages of a reading, in hundredths. Drawing takes the longest; how long
// is not known before.
const (
	ready  = 30
	opened = 40
	drawn  = 85
	whole  = 100
)

// Survey counts the pages and measures them.
func Survey(ctx context.Context, data []byte, stage Stage) (*Contents, error) {
	var out *Contents
	err := with(ctx, data, stage, func(d *document) (err error) {
		out, err = d.contents()
		return err
	})
	return out, err
}

// Render draws a page, counted from 1, in gray: the plan above has the colors.
func Render(ctx context.Context, data []byte, page int, stage Stage) (*raster.Picture, error) {
	var out *raster.Picture
	err := with(ctx, data, stage, func(d *document) error {
		size, err := d.chosen(page)
		if err != nil {
			return err
		}
		dots, err := dotsOf(size)
		if err != nil {
			return err
		}
		out, err = d.draw(page, dots, stage)
		return err
	})
	return out, err
}

// Thumbnail draws a page small, at most side pixels wide and high.
func Thumbnail(ctx context.Context, data []byte, page, side int) (*raster.Picture, error) {
	var out *raster.Picture
	err := with(ctx, data, nil, func(d *document) error {
		size, err := d.chosen(page)
		if err != nil {
			return err
		}
		dots, err := dotsOf(size)
		if err != nil {
			return err
		}
		few := int(float64(side) / float64(max(size.Width, size.Height)/units.MetresPerInch))
		out, err = d.draw(page, max(1, min(dots, few)), nil)
		return err
	})
	return out, err
}

// Only draws the page of a PDF that has one; of others it tells the contents.
func Only(ctx context.Context, data []byte, stage Stage) (*raster.Picture, *Contents, error) {
	var picture *raster.Picture
	var contents *Contents
	err := with(ctx, data, stage, func(d *document) (err error) {
		if contents, err = d.contents(); err != nil || contents.Pages > 1 {
			return err
		}
		dots, err := dotsOf(contents.Sizes[0])
		if err == nil {
			picture, err = d.draw(1, dots, stage)
		}
		return err
	})
	return picture, contents, err
}

// dotsOf gives the resolution at which a page stays within the bounds of a
// picture, in whole dots to the inch.
func dotsOf(s Size) (int, error) {
	width, height := float64(s.Width/units.MetresPerInch), float64(s.Height/units.MetresPerInch)
	if !(s.Width > 0) || !(s.Height > 0) || math.IsInf(width*height, 0) {
		return 0, building.Refuse("The page has no size.")
	}
	if min(s.Width, s.Height) < leastPage {
		return 0, building.Refuse("The page is only %.0f x %.0f mm: too small for a plan.", s.Width*1000, s.Height*1000)
	}
	const sides = 4 // pixels that rounding up may add
	dots := int(min(MaxDots, math.Sqrt((raster.MaxPixels-sides*(width+height)*MaxDots)/(width*height))))
	if dots < 1 {
		return 0, building.Refuse("The page is %.0f x %.0f m large: print it to a PDF of a paper size first.", s.Width, s.Height)
	}
	return dots, nil
}

func pages(n int) string {
	if n == 1 {
		return "1 page"
	}
	return units.Trim(float64(n), 0) + " pages"
}
