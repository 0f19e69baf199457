package pdfpage

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/klippa-app/go-pdfium"
	pdferrors "github.com/klippa-app/go-pdfium/errors"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/raster"
)

// Bounds on what a file may make the reader do.
const (
	mostMemory = 768 << 20        // bytes, of which a page of the most pixels takes 40 MB
	mostTime   = 90 * time.Second // a large plan takes one or two
)

const metresPerPoint = units.MetresPerInch / 72

// turn lets one PDF be read at a time, for the memory that each may take.
var turn = make(chan struct{}, 1)

// document is an open PDF.
type document struct {
	engine pdfium.Pdfium
	ref    references.FPDF_DOCUMENT
	pages  int
}

// with opens a PDF in an engine of its own and closes both.
func with(ctx context.Context, data []byte, stage Stage, do func(*document) error) error {
	if len(data) > MaxBytes {
		return building.Refuse("The PDF has %d MB; at most %d MB are taken. Save the page with the plan by itself.", (len(data)+1<<20-1)>>20, MaxBytes>>20)
	}
	select {
	case turn <- struct{}{}:
		defer func() { <-turn }()
	case <-ctx.Done():
		return ctx.Err()
	}
	bounded, cancel := context.WithTimeout(ctx, mostTime)
	defer cancel()
	err := run(bounded, data, stage, do)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case bounded.Err() != nil:
		return building.Refuse("The PDF takes too long to draw: stopped after %.0f seconds. Print the page to a new PDF, or save it as PNG, and send that.", mostTime.Seconds())
	}
	return err
}

func run(ctx context.Context, data []byte, stage Stage, do func(*document) error) (err error) {
	cache, closeCache := compiled(ctx)
	defer closeCache()
	pool, err := webassembly.Init(webassembly.Config{
		Context: ctx, MaxTotal: 1, MaxIdle: 1,
		FSConfig: wazero.NewFSConfig(), // its own would be the whole disk
		Stdout:   io.Discard, Stderr: io.Discard,
		RuntimeConfig: wazero.NewRuntimeConfig().WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling).
			WithCompilationCache(cache).WithCloseOnContextDone(true).WithMemoryLimitPages(mostMemory >> 16),
	})
	if err != nil {
		return fmt.Errorf("starting the reader of PDF pages: %w", err)
	}
	defer func() { err = first(err, pool.Close()) }()
	engine, err := pool.GetInstanceWithContext(ctx)
	if err != nil {
		return fmt.Errorf("starting the reader of PDF pages: %w", err)
	}
	defer func() { err = first(err, ignoreStopped(ctx, engine.Close())) }()
	tell(stage, ready)
	opening, err := engine.OpenDocument(&requests.OpenDocument{File: &data})
	if err != nil {
		return refusal(err)
	}
	d := &document{engine: engine, ref: opening.Document}
	count, err := engine.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: d.ref})
	if err != nil {
		return refusal(err)
	}
	if d.pages = count.PageCount; d.pages < 1 {
		return building.Refuse("The PDF has no page.")
	}
	tell(stage, opened)
	return do(d)
}

func tell(stage Stage, done int64) {
	if stage != nil {
		stage(done, whole)
	}
}

func first(err, other error) error {
	if err != nil {
		return err
	}
	return other
}

func ignoreStopped(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return nil
	}
	return err
}

// compiled is where the engine's machine code is kept: it is made once by each
// version of the program. Without such a folder it is made for each reading.
func compiled(ctx context.Context) (wazero.CompilationCache, func()) {
	cache := wazero.NewCompilationCache()
	if home, err := os.UserCacheDir(); err == nil {
		folder := filepath.Join(home, "scopewright", "pdf")
		if os.MkdirAll(folder, 0o700) == nil {
			if kept, err := wazero.NewCompilationCacheWithDir(folder); err == nil {
				cache = kept
			}
		}
	}
	return cache, func() { _ = cache.Close(ctx) } // it only forgets
}

// refusal says why a PDF cannot be opened or drawn.
func refusal(err error) error {
	if errors.Is(err, pdferrors.ErrPassword) || errors.Is(err, pdferrors.ErrSecurity) {
		return building.Refuse("The PDF is locked with a password. Save a copy without one and send that.")
	}
	return building.Refuse("The PDF cannot be read: it is cut short or damaged. Save it anew, or print the page to a new PDF.")
}

func (d *document) page(number int) requests.Page {
	return requests.Page{ByIndex: &requests.PageByIndex{Document: d.ref, Index: number - 1}}
}

func (d *document) size(number int) (Size, error) {
	got, err := d.engine.GetPageSize(&requests.GetPageSize{Page: d.page(number)})
	if err != nil {
		return Size{}, building.Refuse("Page %d of the PDF is damaged and cannot be read.", number)
	}
	return Size{units.Metres(got.Width * metresPerPoint), units.Metres(got.Height * metresPerPoint)}, nil
}

// chosen gives the size of a page that a person named.
func (d *document) chosen(number int) (Size, error) {
	if number < 1 || number > d.pages {
		return Size{}, building.Refuse("The PDF has %s; there is no page %d.", pages(d.pages), number)
	}
	return d.size(number)
}

func (d *document) contents() (*Contents, error) {
	out := &Contents{Pages: d.pages}
	for number := 1; number <= min(d.pages, MaxListed); number++ {
		size, err := d.size(number)
		if err != nil {
			if d.pages == 1 {
				return nil, err
			}
			size = Size{} // it may be chosen, and then says so
		}
		out.Sizes = append(out.Sizes, size)
	}
	return out, nil
}

func (d *document) draw(number, dots int, stage Stage) (*raster.Picture, error) {
	got, err := d.engine.RenderPageInDPI(&requests.RenderPageInDPI{Page: d.page(number), DPI: dots, ImageFormat: requests.RenderImageFormatGrayscale})
	if err != nil {
		return nil, building.Refuse("Page %d of the PDF cannot be drawn: it is damaged, or takes more memory than a plan should.", number)
	}
	defer got.Cleanup()
	tell(stage, drawn)
	m, ok := got.Result.RenderedImage.(*image.Gray)
	if !ok || m.Bounds().Empty() {
		return nil, fmt.Errorf("drawing a PDF page gave %T", got.Result.RenderedImage)
	}
	// The page's edge falls within the last pixel, so a pixel is what it was drawn as.
	pixel := units.MetresPerInch / units.Metres(dots)
	out := &raster.Picture{Media: raster.PNG, Width: m.Bounds().Dx(), Height: m.Bounds().Dy(), Across: pixel, Down: pixel}
	if out.Data, err = raster.EncodePNG(m, pixel, pixel); err != nil {
		return nil, err
	}
	tell(stage, whole)
	return out, nil
}
