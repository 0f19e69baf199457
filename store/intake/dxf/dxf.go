// Package dxf reads a drawing in the published group-code format, text or
// binary, R12 to 2018, into a storey with rooms and walls. It stands in
// store/intake, upon the package building, and writes nothing.
//
// A drawing does not say which of its lines are rooms, so reading takes two
// steps: Survey tells what lies on each layer, the designer chooses, and Read
// takes the chosen layers. Underlay gives all that is drawn, to trace over.
//
// The format's group codes and entities were taken from memory of its public
// reference, the code of each is named where it is read.
package dxf

import (
	"context"
	"fmt"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// Bounds on what a file may hold. They keep memory and time in proportion to
// an honest plan; a drawing beyond them is refused or its part left out.
const (
	MaxBytes         = 100 << 20
	MaxPoints        = 5_000_000 // in the drawing, and again after blocks are placed
	MaxOutlinePoints = 20_000    // in one polyline
	MaxRooms         = 20_000
	MaxNesting       = 16        // blocks within blocks
	maxPlacings      = 1_000_000 // insertions of blocks, nested ones counted
	maxTextBytes     = 10_000    // of one text; the rest is dropped
	maxNameLetters   = 200
	maxListed        = 40 // problems of one kind that are told one by one
	maxGap           = 2  // meters, of Options.Enclose
)

// Options are what the designer chose after looking at a Survey.
type Options struct {
	// RoomLayers and WallLayers name layers as Survey gives them; case does not
	// matter. A chosen layer is read even if it is off or frozen.
	RoomLayers, WallLayers []string

	// WindowLayers and DoorLayers hold windows and doors, as blocks or as lines that
	// lie in walls. They are read into the walls of WallLayers.
	WindowLayers, DoorLayers []string

	// PairWalls makes one wall with a thickness of two lines that face each other.
	PairWalls bool

	// Enclose, if above zero, makes rooms of the areas that the wall lines enclose;
	// it is the gap in meters across which lines still meet. It applies where no
	// room layer is chosen.
	Enclose units.Metres

	// TextLayers are where room names stand; nil takes all that are shown.
	TextLayers []string

	// Unit is the name of the drawing's unit ("mm", "in", see Units), empty to
	// go by the file. MetresPerUnit, if above zero, is the result of measuring a
	// known distance on the plan and wins over Unit.
	Unit          string
	MetresPerUnit float64

	// Storey and Level are of the storey that the drawing shows.
	Storey string
	Level  units.Metres
}

// Read reads the chosen layers of a drawing. Where the unit is neither sure nor
// chosen, the model comes in the likeliest unit with Unit.Sure false and a fatal
// problem that asks.
func Read(ctx context.Context, data []byte, opt Options, progress building.Progress) (*building.Model, error) {
	d, err := parse(ctx, data, progress)
	if err != nil {
		return nil, err
	}
	sc, err := draw(ctx, d)
	if err != nil {
		return nil, err
	}
	finding := findUnit(d, sc)
	unit, err := opt.unit(finding)
	if err != nil {
		return nil, err
	}
	m := &building.Model{Source: d.source(), Unit: unit}
	if !unit.Sure {
		m.Problems = append(m.Problems, building.Problem{Where: "unit", Message: unit.Note, Fatal: true})
	}
	if len(opt.RoomLayers)+len(opt.WallLayers) == 0 {
		return nil, fmt.Errorf("no layer is chosen: choose layers that hold room outlines or walls, or take the drawing as an underlay")
	}
	storey := building.Storey{Name: opt.Storey, Level: opt.Level}
	if storey.Name == "" {
		storey.Name, storey.Derived = "Plan", true
	}
	b := &builder{ctx: ctx, drawing: d, scene: sc, opt: opt, scale: unit.Metres, model: m}
	if err := b.unknownLayers(); err != nil {
		return nil, err
	}
	if e := opt.Enclose; !(e >= 0 && e <= maxGap) {
		return nil, fmt.Errorf("a gap of %g m between wall lines cannot be closed: choose 0 to %d m", float64(e), maxGap)
	}
	if storey.Spaces, err = b.rooms(); err != nil {
		return nil, err
	}
	if storey.Walls, err = b.walls(); err != nil {
		return nil, err
	}
	if storey.Walls, err = b.openings(storey.Walls); err != nil {
		return nil, err
	}
	m.Storeys = []building.Storey{storey}
	m.Problems = append(m.Problems, d.problems.All()...)
	return m, ctx.Err()
}
