// Package gbxml reads building models in gbXML, the Green Building XML schema,
// into storeys, spaces with floor shapes, walls and openings. It belongs to the
// intake: it takes bytes, gives values and a list of problems, and writes
// nothing.
//
// Files differ a lot in what they fill in. Where this package says [files], it
// goes by what 32 models of several programs were seen to hold; the schema
// itself leaves it open.
package gbxml

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"scopewright/store/intake/building"
)

// Limits bound what one file may cost. A file beyond is refused with a sentence.
type Limits struct {
	Bytes      int64
	Points     int // of outlines and surfaces that are kept
	LoopPoints int // of one outline
	Spaces     int
	Depth      int // of elements within elements
	TokenBytes int // of one tag or text
	Time       time.Duration
}

// DefaultLimits are far above real buildings: the largest of 32 models had
// 24,485 outlines, the longest of them 444 points [files].
func DefaultLimits() Limits {
	return Limits{
		Bytes: 100 << 20, Points: 5_000_000, LoopPoints: 20_000, Spaces: 20_000,
		Depth: 64, TokenBytes: 1 << 20, Time: 2 * time.Minute,
	}
}

// Options are the designer's answers. The zero value reads the file as it is.
type Options struct {
	// Unit, where its Metres is above zero, is used instead of the file's
	// lengthUnit. A shape that names a unit of its own keeps that.
	Unit building.Unit
	// KeepNames leaves "101 Kitchen" whole instead of taking it apart into
	// number and name.
	KeepNames bool
	Limits    Limits // zero for DefaultLimits
}

// Read reads a model of size bytes (0 where unknown) from r. An error says in a
// sentence why nothing of the file can be used; it wraps ctx.Err() when ctx
// ended. All else that is wrong is among the model's problems.
func Read(ctx context.Context, r io.Reader, size int64, opt Options, progress building.Progress) (*building.Model, error) {
	if opt.Limits == (Limits{}) {
		opt.Limits = DefaultLimits()
	}
	limited, cancel := context.WithTimeoutCause(ctx, opt.Limits.Time, errTooSlow)
	defer cancel()
	model, err := read(limited, r, size, opt, progress)
	if err == nil || !errors.Is(err, context.Canceled) && !errors.Is(err, context.DeadlineExceeded) {
		return model, err
	}
	if errors.Is(context.Cause(limited), errTooSlow) {
		return nil, &building.Refusal{Message: fmt.Sprintf("The file takes more than %s to read. Export one storey at a time.", opt.Limits.Time), Cause: err}
	}
	return nil, &building.Refusal{Message: "Reading was stopped; nothing was imported.", Cause: err}
}

var errTooSlow = errors.New("out of time")

func read(ctx context.Context, r io.Reader, size int64, opt Options, progress building.Progress) (*building.Model, error) {
	if size > opt.Limits.Bytes {
		return nil, tooLarge(opt.Limits.Bytes)
	}
	src, err := openSource(ctx, r, size, opt.Limits, progress)
	if err != nil {
		return nil, err
	}
	d := newDocument(ctx, src, opt)
	if err := d.read(); err != nil {
		return nil, err
	}
	return d.model()
}

func tooLarge(limit int64) error {
	return building.Refuse("The file has more than %s MB. Export one storey at a time.", building.Count(limit>>20))
}
