// Package building is what every reader of plans gives: storeys, spaces with
// outlines, walls and openings in SI meters, and the problems met on the way.
// It is a leaf of the intake: readers fill it, the preview shows it, and nothing
// in it has been stored.
package building

import (
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// Model is one file as it was read, in meters.
type Model struct {
	Source   string // format and version: "gbXML 6.01"
	Unit     Unit
	Storeys  []Storey // sorted by level
	Problems []Problem
	Notes    []string // what the designer should know and need not mend

	NorthDegrees float64 // clockwise from the plan's up; 0 when unknown
	HasNorth     bool
}

// Unit is the unit of length that the file was read in.
type Unit struct {
	Name   string  // "feet"
	Metres float64 // meters to one unit
	Sure   bool    // false: ask the designer before importing
	Note   string  // why it is not sure, with the extents in the likely units
}

// Storey is one level of the building.
type Storey struct {
	Name    string
	Level   units.Metres
	Derived bool // found by clustering floor levels: the file names no storey
	Spaces  []Space
	Walls   []Wall

	Rooflights []Rooflight
}

// Where an outline came from.
const (
	FromPlanarGeometry = "planar geometry"
	FromClosedShell    = "closed shell"
	FromPlanShadow     = "plan shadow"
	FromSurfaces       = "surfaces"
)

// Space is a room, shaft or void of the file.
type Space struct {
	Key          string // the file's id, made unique within the file
	Number, Name string
	Kind         string       // the file's own word for what the space is for
	Outline      geom.Polygon // outer ring counterclockwise, holes clockwise; may be empty
	// MoreParts are the other pieces of a floor that is in separate pieces,
	// largest first, Outline being the largest. Files hold such rooms where a
	// wall divides what carries one number; most rooms have none.
	MoreParts    []geom.Polygon
	OutlineFrom  string
	DeclaredArea units.SquareMetres // what the file says; 0 where it says nothing
	Area         units.SquareMetres // of the outline with its other pieces
	Floor        units.Metres
	Ceiling      units.Metres // top of the shell; 0 with Floor 0 where unknown
	Texts        []string     // other words found with the space
	Windows      []Opening    // glazing to the outside
	Unassigned   bool         // a left-over void: no room that anyone designs
	PowerDensity float64      // W/m2 of lighting, as information; 0 where none
}

// WallKind tells what a wall stands between.
type WallKind = string

// Kinds of wall.
const (
	ExteriorWall  WallKind = "exterior"
	InteriorWall  WallKind = "interior"
	AirWall       WallKind = "air" // a boundary without a wall
	PartitionWall WallKind = "partition"
	UnknownWall   WallKind = "unknown"
)

// Wall is the trace of a wall on the plan.
type Wall struct {
	A, B      geom.Point
	Thickness units.Metres // 0 where unknown
	Height    units.Metres
	Kind      WallKind
	Spaces    [2]string // keys of the spaces on its sides, "" for none
	Openings  []Opening
}

// OpeningKind tells what fills an opening.
type OpeningKind = string

// Kinds of opening.
const (
	Window     OpeningKind = "window"
	Door       OpeningKind = "door"
	Skylight   OpeningKind = "skylight"
	AirOpening OpeningKind = "air" // a hole without glass or leaf
)

// Opening is a window, a door or a hole; Sill and Head are above the floor of
// the space that it belongs to.
type Opening struct {
	Kind       OpeningKind
	A, B       geom.Point // ends of its trace on the plan
	Sill, Head units.Metres
	Area       units.SquareMetres

	Indoors bool    // of a window: a space lies on either side
	Glass   float64 // of a window: diffuse transmittance, 0 where the file says nothing
}

// Problem is something in the file that the designer should look at.
type Problem struct {
	Where   string // element, id, line
	Message string
	Fatal   bool // nothing can be imported
}

// Progress is told now and then how far a reader is, in bytes of the file.
type Progress func(done, total int64)
