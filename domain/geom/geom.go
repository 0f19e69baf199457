// Package geom holds the shapes of a plan: points, segments, polygons with
// holes, and what is asked of them (area, containment, overlap, splitting,
// snapping). It is a leaf of the domain: plain float64 SI values (meters,
// square meters, radians), no input or output, nothing of rooms or devices.
//
// Overlays are worked out here (see Union for why); the point for a label and
// the index of edges come from simplefeatures, whose geos package needs cgo and
// is not imported.
//
// Tolerances are named here and stated at each function that uses one. Shapes
// that a drawing holds within a millimeter of each other count as touching.
package geom

const (
	// Coincident is the distance in meters under which two points are one: a
	// tenth of a millimeter, finer than any drawing that a room comes from.
	Coincident = 1e-4

	// OnEdge is the distance in meters within which a point counts as lying on
	// an edge: a millimeter, the resolution that plans are drawn with.
	OnEdge = 1e-3

	// NoArea is the area in square meters under which a shape counts as none:
	// touching rooms give slivers of this size when they are intersected.
	NoArea = 1e-4

	// MaxCoordinate is the largest coordinate in meters that a plan may have:
	// survey coordinates reach 10,000 km, and float64 still tells 2 nm there.
	MaxCoordinate = 1e7
)
