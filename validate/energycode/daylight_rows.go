package energycode

import (
	"fmt"
	"slices"

	"scopewright/domain"
	code "scopewright/domain/energycode"
	"scopewright/domain/equipment"
	"scopewright/domain/propose"
	"scopewright/validate/rule"
)

// lightRow is some loads that one sensor may dim: of the same daylight area, lit by
// the same facades. Loads deeper in the room would sit in the dark under the reading
// of the row at the glass.
type lightRow struct {
	area    string
	facades []int
	loads   []*rule.Load
}

func (r *lightRow) like(o *lightRow) bool {
	return r.area == o.area && slices.Equal(r.facades, o.facades)
}

// rowOf says where a load hangs; without a plan, only in which area it says it is.
func (m *mending) rowOf(l domain.ID) lightRow {
	var r lightRow
	z := m.c.Facts.Zones
	for _, a := range []struct {
		name string
		zone *code.Zone
	}{{"primary", &z.Primary}, {"secondary", &z.Secondary}, {"toplit", &z.Toplit}} {
		if slices.Contains(a.zone.Loads, l) {
			r.area = a.name
		}
	}
	if lit := m.f.Daylight(); lit != nil {
		if all := lit.Space.Facades(); len(all) > 1 {
			r.facades = lit.Light.Governs(all, l)
		}
	}
	return r
}

// rows sorts loads by where they hang.
func (m *mending) rows(loads []*rule.Load) (out []lightRow) {
	for _, l := range loads {
		r := m.rowOf(l.ID)
		at := slices.IndexFunc(out, func(o lightRow) bool { return o.like(&r) })
		if at < 0 {
			out, at = append(out, r), len(out)
		}
		out[at].loads = append(out[at].loads, l)
	}
	return out
}

// allLike tells that all of some loads hang as a row does.
func (m *mending) allLike(loads []domain.ID, r *lightRow) bool {
	return !slices.ContainsFunc(loads, func(id domain.ID) bool {
		o := m.rowOf(id)
		return !o.like(r)
	})
}

// dims lets a row answer daylight: by the sensors of loads that hang as it does, else
// by one of its own.
func (m *mending) dims(r *lightRow, settings []string) {
	var sensors []domain.ID
	others := m.hung > 0
	for _, d := range m.devices(daylight) {
		if loads := m.readBy(d.ID); len(loads) > 0 && m.allLike(loads, r) || len(loads) == 0 && m.hung == 0 {
			sensors = append(sensors, d.ID)
		}
		others = true
	}
	if len(sensors) == 0 {
		id := m.added(equipment.Daylight, "daylight sensor")
		if m.stuck {
			return
		}
		sensors = []domain.ID{id}
		if others { // the one at the glass speaks for its own row; another looks down at its own
			m.set("devices/"+string(id)+"/loop", string(domain.ClosedLoop))
		}
		if m.f.Daylight() != nil {
			m.last = append(m.last, propose.HangDaylight{Room: m.f.Room, Device: id})
		}
	}
	m.hung++
	m.acts(sensors, r.loads)
	m.intendBy(domain.ByDaylight, r.loads, "daylight", func(in *domain.Intent) bool { return m.allLike(in.Loads, r) }, settings...)
	m.say("let %s answer daylight", tags(r.loads))
}

// readBy gives the lighting on which a sensor acts.
func (m *mending) readBy(sensor domain.ID) (out []domain.ID) {
	for i := range m.f.Links {
		if k := &m.f.Links[i]; k.Device == sensor && k.Reads() && k.To.Kind == domain.Lighting {
			out = append(out, k.To.ID)
		}
	}
	return out
}

// fresh gives an ID for the next thing of a name that a fix adds.
func (m *mending) fresh(name string) domain.ID {
	if m.made++; m.made > 1 {
		name += fmt.Sprintf(" %d", m.made)
	}
	return m.f.FreshID("energy code " + name)
}
