package domain

import (
	"strings"

	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// CeilingOf gives the height of a room's ceiling: its own, else that of the
// limits; assumed tells which.
func (p *Project) CeilingOf(r *Room) (h units.Metres, assumed bool) {
	if r.Ceiling > 0 {
		return r.Ceiling, false
	}
	return units.Metres(p.Limits.Value(CeilingHeight)), true
}

// HeightOf gives how high above the floor a device is: as it states itself, else
// by where its type is mounted. assumed tells that it states none.
func (p *Project) HeightOf(r *Room, d *Device) (h units.Metres, assumed bool) {
	if d.Height > 0 {
		return d.Height, false
	}
	ceiling, _ := p.CeilingOf(r)
	mounting := d.Mounting
	t := p.Book.Find(d.Type)
	if mounting == "" && t != nil {
		mounting = t.Mounting
	}
	limit := func(id LimitID) units.Metres { return units.Metres(p.Limits.Value(id)) }
	switch where := strings.ToLower(mounting); {
	case strings.Contains(where, "above ceiling"):
		return ceiling + limit(AboveCeiling), true
	case strings.Contains(where, "ceiling"):
		return ceiling, true
	case strings.Contains(where, "wall") && t != nil && (t.Kind == equipment.Presence || t.Kind == equipment.Daylight):
		return min(ceiling, limit(WallHeight)), true
	}
	return limit(StationHeight), true
}

// AboveItsCeiling tells that a device hangs over the room's ceiling.
func (p *Project) AboveItsCeiling(r *Room, d *Device) bool {
	h, _ := p.HeightOf(r, d)
	ceiling, _ := p.CeilingOf(r)
	return h > ceiling
}

// HeightOfStorey gives the way from a storey's floor to the next.
func (p *Project) HeightOfStorey(s *Storey) units.Metres {
	if s.Height > 0 {
		return s.Height
	}
	return units.Metres(p.Limits.Value(StoreyHeight))
}
