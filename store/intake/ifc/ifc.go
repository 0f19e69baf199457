// Package ifc reads a building model in STEP text (ISO 10303-21 with an IFC
// schema, 2x3 to 4.3) into storeys, spaces, walls, windows and doors. It stands
// in store/intake, upon the package building, and writes nothing.
//
// It is no geometry kernel: it reads extruded outlines, faces seen from above,
// and placements. What it cannot read it lists.
//
// The order of attributes and the meaning of entities are taken from memory of
// the public IFC documentation, named where they are read.
package ifc

import (
	"context"
	"fmt"
	"strings"

	"scopewright/store/intake/building"
)

// Bounds on what a file may hold.
const (
	MaxBytes         = 100 << 20
	MaxInstances     = 5_000_000
	MaxSpaces        = 20_000
	MaxOutlinePoints = 20_000
	maxValues        = 20_000_000 // of attributes read, points among them
	maxDepth         = 64         // of lists within lists, and of any chain of references
	maxWalls         = 100_000
	maxListed        = 40 // problems of one kind that are told one by one
)

// Options are what the file may leave open.
type Options struct {
	// Unit is the unit of length where the file names none: mm, cm, m, in or
	// ft. It wins over the file's own.
	Unit string
}

// reader is one file on its way to a model.
type reader struct {
	ctx    context.Context
	f      *file
	m      *building.Model
	bad    building.ProblemList
	scale  float64 // meters to a unit of length
	area   float64 // square meters to a unit of area
	angle  float64 // radians to a unit of plane angle
	frames map[int]frame

	storeys  []*storey
	storeyAt map[int]*storey // by instance
	spaces   []*space
	spaceOf  map[int]*space    // by instance
	walls    map[int][]*wall   // straight pieces by wall
	said     map[int]*bounding // what boundaries say of elements
	facesOf  map[int][]int     // geometry of boundaries by space
	parent   map[int]int       // instance -> what it is part of or contained in

	lights    []light
	oddLights int // that are no rectangles
}

// Read reads a whole model from the bytes of a file.
func Read(ctx context.Context, data []byte, opt Options, progress building.Progress) (*building.Model, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("the file has %d MB; at most %d MB are read: export spaces, storeys, walls and windows only", len(data)>>20, MaxBytes>>20)
	}
	if kind := building.KindOf(data[:min(len(data), building.HeadSize)]); kind != building.IFCFile {
		return nil, fmt.Errorf("%s", kind.Sentence(building.IFCFile))
	}
	f, err := scan(ctx, data, progress)
	if err != nil {
		return nil, err
	}
	r := &reader{ctx: ctx, f: f, m: &building.Model{Source: source(f.schema)}, frames: map[int]frame{}, parent: map[int]int{}, storeyAt: map[int]*storey{}, spaceOf: map[int]*space{}}
	r.bad.PerKind = maxListed
	if n := f.repeated; n > 0 {
		r.bad.Add("repeated ids", ident(f.repeatedID), "%s given the id of another, first #%d: the first of each is used.", were(n, "instance"), f.repeatedID)
	}
	for _, step := range []func() error{
		func() error { return r.units(opt) },
		r.tree, r.readStoreys, r.readSpaces, r.compareAreas, r.readWalls, r.readOpenings, r.assemble, r.findOverlaps,
	} {
		if err := step(); err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	if f.values > maxValues {
		return nil, fmt.Errorf("the model refers to more than %s values: export one storey at a time", building.Count(maxValues))
	}
	r.m.Problems = append(r.m.Problems, r.bad.All()...)
	return r.m, nil
}

// findOverlaps tells of spaces that share floor area at the same height.
func (r *reader) findOverlaps() error {
	all, err := building.Overlaps(r.ctx, r.m.Storeys, func(o building.Overlap) {
		r.bad.Add("overlapping spaces", "space "+o.Small.Key, "%s", o.Message())
	})
	if err == nil && !all {
		r.note(building.NotAllOverlaps)
	}
	return err
}

// source names the schema as people do: IFC2X3 is "IFC 2x3".
func source(schema string) string {
	rest := strings.TrimPrefix(strings.ToUpper(schema), "IFC")
	return "IFC " + strings.ReplaceAll(rest, "X", "x")
}

func (r *reader) note(format string, args ...any) {
	r.m.Notes = append(r.m.Notes, fmt.Sprintf(format, args...))
}
