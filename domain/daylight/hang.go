package daylight

import (
	"slices"

	"scopewright/domain"
)

// Hung tells where the luminaires of one load hang, by the zone that each counts to.
type Hung struct {
	Load                       domain.ID
	Toplit, Primary, Secondary int
	Apart                      int // count to none
}

// CountsTo gives the zone that a luminaire counts to by the rules' order, ZoneNone
// for none. What Tally says of wholes and halves holds here; general lighting or
// not is no matter.
func (r *ZoneRules) CountsTo(z *Zones, l *Luminaire) domain.WindowZone {
	s := z.Stands(l)
	order := []struct {
		share float64
		zone  domain.WindowZone
	}{{s.Toplit, domain.ZoneRoof}, {s.Primary, domain.ZoneWindow}, {s.Secondary, domain.ZoneSecondary}}
	if r.SideFirst {
		order[0], order[1] = order[1], order[0]
	}
	for _, x := range order {
		if r.counts(x.share) {
			return x.zone
		}
	}
	return domain.ZoneNone
}

// Hang counts the luminaires of each load by zone, in the order in which loads first
// come up.
func (r *ZoneRules) Hang(z *Zones, luminaires []Luminaire) (out []Hung) {
	for i := range luminaires {
		l := &luminaires[i]
		at := slices.IndexFunc(out, func(h Hung) bool { return h.Load == l.Load })
		if at < 0 {
			at, out = len(out), append(out, Hung{Load: l.Load})
		}
		*out[at].count(r.CountsTo(z, l))++
	}
	return out
}

func (h *Hung) count(zone domain.WindowZone) *int {
	switch zone {
	case domain.ZoneRoof:
		return &h.Toplit
	case domain.ZoneWindow:
		return &h.Primary
	case domain.ZoneSecondary:
		return &h.Secondary
	}
	return &h.Apart
}

// In gives how many of the luminaires count to a zone, or with ZoneNone to none.
func (h *Hung) In(zone domain.WindowZone) int { return *h.count(zone) }

// Most gives where most of the luminaires hang; of as many the first of primary,
// secondary, toplit and none.
func (h *Hung) Most() domain.WindowZone {
	most := domain.ZoneWindow
	for _, zone := range []domain.WindowZone{domain.ZoneSecondary, domain.ZoneRoof, domain.ZoneNone} {
		if h.In(zone) > h.In(most) {
			most = zone
		}
	}
	return most
}

// Knows tells that the rules draw zones of that kind at all.
func (r *ZoneRules) Knows(zone domain.WindowZone) bool {
	switch zone {
	case domain.ZoneSecondary:
		return r.Secondary > 0
	case domain.ZoneRoof:
		return r.Toplit > 0
	}
	return true
}
