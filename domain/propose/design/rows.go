package design

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
)

// lightRow tells apart what may be dimmed by daylight as one: which facade lights it
// most, and how many times the depth of a zone it hangs behind the first of its row.
type lightRow struct{ facade, deep int }

// daylit gives the room as daylight sees it, nil where the plan shows no window or the
// room says that it has none.
func (d *draft) daylit() *propose.DaylightRoom {
	if !d.r.Windows || !d.lay.drawn {
		return nil
	}
	room, ok := propose.NewDaylightRoom(d.p, d.r)
	if !ok {
		return nil
	}
	return room
}

// zonesOf says in which row each luminaire hangs: by the zones that the rules draw on
// the plan, else by its distance from where windows are taken to be.
func (d *draft) zonesOf(spots []spot) {
	room := d.daylit()
	if room == nil {
		for i := range spots {
			spots[i].zone = d.lay.zoneOf(spots[i].at)
		}
		return
	}
	rules := d.zoneRules()
	zones, err := rules.Zones(room.Space)
	if err != nil {
		d.short("Rows at the windows: %v", err)
		return
	}
	facades, usual := room.Space.Facades(), daylight.AssumedOf(d.p)
	far := make([]float64, len(spots)) // from the glass
	for i := range spots {
		s := &spots[i]
		lamp := daylight.Luminaire{At: s.at, Length: usual.Length, Width: usual.Width, Turn: d.turnOf(s)}
		if s.zone = rules.CountsTo(&zones, &lamp); s.zone == domain.ZoneNone {
			continue
		}
		if len(facades) > 1 {
			s.row.facade = room.Light.FacadeAt(facades, s.at)
		}
		far[i] = math.Inf(1)
		for k := range room.Space.Windows {
			w := &room.Space.Windows[k]
			far[i] = min(far[i], geom.Segment{A: w.A, B: w.B}.Distance(s.at))
		}
	}
	inBands(spots, far, float64(room.Limits.RowDepth))
}

// inBands parts what is in one zone of one facade by depth, from the one nearest to
// the glass on.
func inBands(spots []spot, far []float64, depth float64) {
	type group struct {
		zone   domain.WindowZone
		facade int
	}
	first := map[group]float64{}
	key := func(i int) group { return group{spots[i].zone, spots[i].row.facade} }
	for i := range spots {
		if near, known := first[key(i)]; !known || far[i] < near {
			first[key(i)] = far[i]
		}
	}
	for i := range spots {
		if spots[i].zone != domain.ZoneNone {
			spots[i].row.deep = int((far[i] - first[key(i)]) / depth)
		}
	}
}

// turnOf gives how a luminaire is turned that hangs, or will.
func (d *draft) turnOf(s *spot) float64 {
	if i := slices.IndexFunc(d.r.Fixtures, func(f domain.Fixture) bool { return s.id != "" && f.ID == s.id }); i >= 0 {
		return d.r.Fixtures[i].Turn
	}
	return d.hangTurn()
}

// rows parts luminaires by zone and row, those at the windows first.
func rows(spots []spot) (out [][]spot) {
	for _, z := range []domain.WindowZone{domain.ZoneWindow, domain.ZoneSecondary, domain.ZoneRoof, domain.ZoneNone} {
		var seen []lightRow
		from := len(out)
		for _, s := range spots {
			if s.zone != z {
				continue
			}
			at := slices.Index(seen, s.row)
			if at < 0 {
				at, seen, out = len(seen), append(seen, s.row), append(out, nil)
			}
			out[from+at] = append(out[from+at], s)
		}
	}
	return out
}
