package geom

import (
	"errors"

	"github.com/peterstace/simplefeatures/rtree"
)

// Bounds on the work that one shape may cost: a floor of a real building stays
// far below, and a file made to hang the program meets them in about a second.
const (
	maxPairs     = 4_000_000 // pairs of edges whose boxes touch
	maxCrossings = 20_000
	maxVertices  = 60_000
)

// ErrTangled is given for shapes that cross themselves or each other so often
// that working them out would take too long.
var ErrTangled = errors.New("the outline crosses itself too often to be worked out: draw it again")

// eachNearPair calls visit for each pair i < j of segments whose boxes come
// within reach meters, until visit gives an error.
func eachNearPair(segments []Segment, reach float64, visit func(i, j int) error) error {
	items := make([]rtree.BulkItem, len(segments))
	for i, s := range segments {
		items[i] = rtree.BulkItem{Box: treeBox(s, reach/2), RecordID: i}
	}
	tree := rtree.BulkLoad(items)
	pairs := 0
	for i, s := range segments {
		err := tree.RangeSearch(treeBox(s, reach/2), func(j int) error {
			if j <= i {
				return nil
			}
			if pairs++; pairs > maxPairs {
				return ErrTangled
			}
			return visit(i, j)
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func treeBox(s Segment, grow float64) rtree.Box {
	b, _ := BoundsOf(s.A, s.B)
	b = b.Grow(grow)
	return rtree.Box{MinX: b.Min.X, MinY: b.Min.Y, MaxX: b.Max.X, MaxY: b.Max.Y}
}
