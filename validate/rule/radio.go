package rule

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/propose"
	"scopewright/domain/radio"
	"scopewright/domain/units"
)

// roomRadio is the radio of a room and what rules work out of it, each at most once.
type roomRadio struct {
	room    *radio.Room
	net     *radio.Net
	parents *propose.Parenting
	more    map[propose.RouterWish]*Fix
}

func (f *Facts) radios() *roomRadio {
	if f.radio == nil {
		f.radio = &roomRadio{room: radio.NewRoom(f.Project, f.Room)}
	}
	return f.radio
}

// Radio gives the radio of the devices that stand on the plan, nil where none do.
func (f *Facts) Radio() *radio.Room { return f.radios().room }

// Net gives the mesh of the room's routers; nil where no device stands on the
// plan, and where some router does not, as then nothing can be said of the mesh.
func (f *Facts) Net() *radio.Net {
	r := f.radios()
	if r.net == nil && r.room != nil && r.room.Whole() {
		r.net = r.room.Net()
	}
	return r.net
}

// ParentingByRadio is Parenting with the reach of radio where devices stand on
// the plan.
func (f *Facts) ParentingByRadio() *propose.Parenting {
	r := f.radios()
	if r.parents == nil {
		p := propose.ParentsBy(f.Project, f.Design, r.room)
		r.parents = &p
	}
	return r.parents
}

// Node gives the device of a node of Radio.
func (f *Facts) Node(node int) *Device { return &f.Devices[f.Radio().Nodes[node].Index] }

// NodeSubjects names the devices of nodes in a finding.
func (f *Facts) NodeSubjects(nodes []int) []Subject {
	out := make([]Subject, len(nodes))
	for i, n := range nodes {
		out[i] = f.Node(n).Subject()
	}
	return out
}

// MoreRouters gives a fix that adds the fewest routers with which the room's
// radio does, and assigns parents; nil where none is known, and where the mesh is
// not: see Net.
func (f *Facts) MoreRouters(wish propose.RouterWish) *Fix {
	if f.Net() == nil {
		return nil
	}
	r := f.radios()
	if fix, done := r.more[wish]; done {
		return fix
	}
	if r.more == nil {
		r.more = map[propose.RouterWish]*Fix{}
	}
	r.more[wish] = f.moreRouters(wish)
	return r.more[wish]
}

func (f *Facts) moreRouters(wish propose.RouterWish) *Fix {
	ids := func(i int) domain.ID { return f.FreshID(fmt.Sprint("relay ", i)) }
	plan, ok := propose.MoreRouters(f.Project, f.Room, wish, ids)
	if !ok || len(f.Devices)+len(plan.At) > int(f.Limit(domain.DevicesPerRoom)) {
		return nil
	}
	fix := &Fix{Title: fmt.Sprintf("Add %s on the plan and assign parents", Many(len(plan.At), "router"))}
	if len(plan.At) == 1 {
		fix.Title = "Add a router at " + f.position(plan.At[0].X, plan.At[0].Y) + " and assign parents"
	}
	if !plan.Proved {
		fix.Title += fmt.Sprintf(" (fewer may do, but not fewer than %d)", plan.Bound)
	}
	for i := range plan.At {
		fix.Edits = append(fix.Edits, edit.AddDevice{ID: ids(i), Type: plan.Type.ID, At: &plan.At[i]})
	}
	if len(plan.Parents) > 0 {
		fix.Edits = append(fix.Edits, edit.SetParents{Parents: plan.Parents})
	}
	return fix
}

// position gives a place as distances from the corner of the room's box: "12 ft
// from the left and 8 ft from the bottom".
func (f *Facts) position(x, y float64) string {
	box, _ := f.Room.Extent()
	length := func(m float64) string { return units.Nearly(units.Metres(m), f.Project.Units) }
	return fmt.Sprintf("%s from the left and %s from the bottom of the room", length(x-box.Min.X), length(y-box.Min.Y))
}

// StoreyNeighbour is a storey of the same building right above or below the one
// that is judged, whose gateways may carry its messages.
type StoreyNeighbour struct {
	Storey  *domain.Storey
	Offset  units.Metres // of its floor over that of the judged storey; below it, negative
	Plan    *domain.Plan // may be nil
	Designs []*domain.Resolved
}

// NeighboursOf gives the storeys right above and below, with how far their floors
// are over that of the storey, and leaves it to the caller to add what stands on
// them. Storeys of a building stand in order of Seq, from the lowest.
func NeighboursOf(p *domain.Project, storey domain.ID) []StoreyNeighbour {
	b, own := p.FindStorey(storey)
	if own == nil {
		return nil
	}
	var below, above *domain.Storey
	for i := range b.Storeys {
		switch s := &b.Storeys[i]; {
		case s.Seq < own.Seq && (below == nil || s.Seq > below.Seq):
			below = s
		case s.Seq > own.Seq && (above == nil || s.Seq < above.Seq):
			above = s
		}
	}
	var out []StoreyNeighbour
	if below != nil {
		out = append(out, StoreyNeighbour{Storey: below, Offset: -p.HeightOfStorey(below)})
	}
	if above != nil {
		out = append(out, StoreyNeighbour{Storey: above, Offset: p.HeightOfStorey(own)})
	}
	return out
}

// Backbone gives the mesh of the gateways of the storey and of its neighbors on
// the same backbone network; nil where the storey has no gateway on its plan and
// where designs are not at hand.
func (f *StoreyFacts) Backbone() *radio.Backbone {
	if f.backbone == nil && f.gated() {
		levels := []radio.Level{{Storey: f.Storey.ID, Plan: f.Plan, Rooms: f.Designs}}
		for _, n := range f.Neighbours {
			if n.Storey.Backbone == f.Storey.Backbone {
				levels = append(levels, radio.Level{Storey: n.Storey.ID, Base: float64(n.Offset), Plan: n.Plan, Rooms: n.Designs})
			}
		}
		f.backbone = radio.NewBackbone(f.Project, levels...)
	}
	return f.backbone
}

// gated tells that a gateway stands on the storey's plan.
func (f *StoreyFacts) gated() bool {
	for _, r := range f.Designs {
		for i := range r.Design.Devices {
			d := &r.Design.Devices[i]
			if d.At == nil {
				continue
			}
			if t := f.Project.Book.Find(d.Type); t != nil && t.Kind == equipment.Gateway {
				return true
			}
		}
	}
	return false
}
