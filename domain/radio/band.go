package radio

import (
	"math"

	"scopewright/domain/units"
)

// Band is what ITU-R P.1238 expects of a link of a length, beside our loss: the
// model knows distances and kinds of building, not this plan, so that it says
// whether a loss is one to be met in practice.
type Band struct {
	Old      float64 // dB, by the form of editions up to 10, office
	OldSigma float64 // dB, its shadowing
	OldHolds bool    // our loss lies within two sigmas of it

	New      float64 // dB, by the form of editions 11 and on
	NewSigma float64
	Row      string // of the table: "office, in sight"
	InRange  bool   // the row covers the distance and both ends are on one storey; else it is an extrapolation
	NewHolds bool   // our loss lies within two sigmas of it
}

// Plausible tells that our loss is one that the model expects: within the band of
// the newer form where that covers the link, else of the older one.
func (b Band) Plausible() bool {
	if b.InRange {
		return b.NewHolds || b.OldHolds
	}
	return b.OldHolds
}

// BandOf compares a loss in dB with ITU-R P.1238 at the mesh's frequency: a link
// in an office, in a corridor where said, over a distance (meters, from 1), through
// floors, in sight or behind walls. Two sigmas hold 95 % of links.
func BandOf(d units.Metres, floors int, behindWalls, corridor bool, loss float64) Band {
	row := OfficeInSight
	switch {
	case corridor && behindWalls:
		row = CorridorBehindWalls
	case corridor:
		row = CorridorInSight
	case behindWalls:
		row = OfficeBehindWalls
	}
	var b Band
	b.Old, b.OldSigma = Indoor1238(Office, d, floors, MeshMHz)
	b.New, b.InRange = row.Loss(d, MeshMHz)
	b.NewSigma, b.Row, b.InRange = row.Sigma, row.Name, b.InRange && floors == 0
	b.OldHolds = math.Abs(loss-b.Old) <= 2*b.OldSigma
	b.NewHolds = math.Abs(loss-b.New) <= 2*b.NewSigma
	return b
}
