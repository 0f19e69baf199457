package prove

import (
	"scopewright/domain"
	"scopewright/domain/sequence"
)

// Parts gives the parts that a room is cut into, as designs, with the places of
// their loads and devices in the room.
func Parts(p *sequence.Program) (designs []domain.Design, loads, devices [][]int) {
	for _, s := range slicesOf(p) {
		designs, loads, devices = append(designs, s.design), append(loads, s.loads), append(devices, s.devices)
	}
	return designs, loads, devices
}

// Whole explores a room in one piece, each sensor by itself.
func Whole(p *sequence.Program, most int) (found []Found, bounded bool) {
	list := listed(p, true, p.Design.Divisible())
	class := map[domain.ID]bool{}
	for i := range list.acts {
		for _, st := range list.acts[i].steps {
			class[st.Device] = true
		}
	}
	for d := range p.Design.Devices { // the sensors that were merged into another
		dev := &p.Design.Devices[d]
		if dev.Presence == "" || class[dev.ID] {
			continue
		}
		for _, h := range []domain.Happening{domain.Occupied, domain.Vacant} {
			list.add(act{person: true, alone: true, button: -1}, "", domain.ScenarioStep{Happen: h, Device: dev.ID})
		}
	}
	g := newGraph(p, list, most)
	g.run(nil)
	return g.look(), g.bounded()
}
