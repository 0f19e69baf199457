package plan

import (
	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/web/ui"
)

// modelBeneath is the picture beneath the storey, for the script to snap to its
// lines: the lower left corner, meters, and degrees counterclockwise about it.
type modelBeneath struct {
	Address string     `json:"address"`
	At      geom.Point `json:"at"`
	Size    geom.Point `json:"size"`
	Turn    float64    `json:"turn"`
}

func beneathOf(project domain.ID, u *domain.Underlay) *modelBeneath {
	if u == nil {
		return nil
	}
	return &modelBeneath{Address: ui.Picture(project, u.Picture), At: u.At, Size: geom.Pt(float64(u.Width), float64(u.Height)), Turn: u.Turn}
}
