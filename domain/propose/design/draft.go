package design

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// draft is the room on the drawing board. Groups change it by the same edits
// that they propose, so that each sees what the ones before it brought and no
// edit is proposed that would be refused.
type draft struct {
	p   *domain.Project
	r   *domain.Resolved
	s   *edit.Subject
	o   Options
	use custom
	lay *layout
	out Proposal
	now *Group
	err error

	sensorsNeeded int // at least, to see all of the room; 0: no more than there are
}

func newDraft(p *domain.Project, r *domain.Resolved, o Options) *draft {
	room := *r
	room.Room, room.Design = r.Room.Clone(), r.Design.Clone()
	d := &draft{p: p, r: &room, o: o, use: customOf(r.Use)}
	d.s = edit.OfRoom(p, d.r)
	d.lay = newLayout(p, d.r)
	d.fitCustom()
	return d
}

// fitCustom bends the custom of the use to what the room has already: sensors
// of the vacancy kind ask for something to press, and intents that wait for
// people or receptacles that follow them ask for sensors.
func (d *draft) fitCustom() {
	for i := range d.r.Design.Devices {
		if d.r.Design.Devices[i].Presence == domain.Vacancy && d.use.station == noStation {
			d.use.station = anyStation
		}
	}
	if d.use.presence != "" {
		return
	}
	if slices.ContainsFunc(d.r.Design.Loads, func(l domain.Load) bool { return l.Kind == domain.Receptacle }) {
		d.use.presence = domain.Vacancy
	}
	for i := range d.r.Design.Intents {
		switch in := &d.r.Design.Intents[i]; {
		case in.Kind == domain.ByPresence && in.Enters:
			d.use.presence = domain.Occupancy
			return
		case in.Kind == domain.ByPresence, in.Kind == domain.ForReceptacles:
			d.use.presence = domain.Vacancy
		}
	}
}

// refuses tells that nothing can be proposed, and says why.
func (d *draft) refuses() bool {
	if d.r.Typical != nil {
		d.short("room %s follows typical %s: let it stand alone first, or design the typical", d.r.Number, d.r.Typical.Name)
		return true
	}
	return false
}

// group proposes what fill does, as one group. A group of which an edit is
// refused is given up as a whole and told; one that does nothing is not there.
func (d *draft) group(of topic, title, why string, needs []topic, fill func()) {
	room, design := d.r.Room.Clone(), d.r.Design.Clone()
	d.now, d.err = &Group{Title: title, Why: why, topic: of}, nil
	fill()
	switch {
	case d.err != nil:
		d.short("%s: %v", strings.ToLower(title), d.err)
		*d.r.Room, d.r.Design = *room, design
	case len(d.now.Edits) > 0:
		for i := range d.out.Changes {
			if slices.Contains(needs, d.out.Changes[i].topic) {
				d.now.Needs = append(d.now.Needs, i)
			}
		}
		d.out.Changes = append(d.out.Changes, *d.now)
	}
	d.now = nil
}

// do carries out edits and files them with the group.
func (d *draft) do(edits ...edit.Edit) {
	for _, e := range edits {
		if d.err != nil {
			return
		}
		if _, err := e.Apply(d.s); err != nil {
			d.err = err
			return
		}
		d.now.Edits = append(d.now.Edits, e)
	}
}

// set sets fields below a path, in pairs of name and text.
func (d *draft) set(path string, pairs ...string) {
	for i := 0; i+1 < len(pairs); i += 2 {
		d.do(edit.SetField{Path: path + "/" + pairs[i], Text: pairs[i+1]})
	}
}

func (d *draft) adds(format string, args ...any) {
	d.now.Adds = append(d.now.Adds, fmt.Sprintf(format, args...))
}

func (d *draft) assume(format string, args ...any) {
	d.out.Assumed = append(d.out.Assumed, fmt.Sprintf(format, args...))
}

func (d *draft) short(format string, args ...any) {
	d.out.Short = append(d.out.Short, fmt.Sprintf(format, args...))
}

var idCoding = base32.NewEncoding("0123456789abcdefghjkmnpqrstvwxyz").WithPadding(base32.NoPadding)

// fresh gives an ID for a new thing, told apart from others by words. It is
// made of the room's ID and not drawn at random, so that the answer is the same
// each time.
func (d *draft) fresh(format string, args ...any) domain.ID {
	what := fmt.Sprintf(format, args...)
	for round := 0; ; round++ {
		sum := sha256.Sum256(fmt.Appendf(nil, "first design/%s/%s/%d", d.r.ID, what, round))
		if id := domain.ID(idCoding.EncodeToString(sum[:10])); !d.taken(id) {
			return id
		}
	}
}

func (d *draft) taken(id domain.ID) bool {
	g := &d.r.Design
	return g.Load(id) != nil || g.Device(id) != nil || g.Scene(id) != nil || g.Intent(id) != nil ||
		slices.ContainsFunc(d.r.Fixtures, func(f domain.Fixture) bool { return f.ID == id })
}

// device adds a device of a type with what it is set to, in pairs.
func (d *draft) device(t *equipment.Type, place string, pairs ...string) domain.ID {
	id := d.fresh("device %s %d", t.ID, len(d.r.Design.Devices))
	d.do(edit.AddDevice{ID: id, Type: t.ID})
	d.set("devices/"+string(id), append([]string{"place", place}, pairs...)...)
	return id
}

// tag gives a device's tag.
func (d *draft) tag(id domain.ID) string {
	if dev := d.r.Design.Device(id); dev != nil {
		return dev.Tag
	}
	return ""
}

func (d *draft) limit(id domain.LimitID) float64 { return d.p.Limits.Value(id) }

// typeOf gives a device's type, nil where the device or its type is not there.
func (d *draft) typeOf(dev *domain.Device) *equipment.Type {
	if dev == nil {
		return nil
	}
	return d.p.Book.Find(dev.Type)
}

// traits gives what a device of the room does.
func (d *draft) traits(dev *domain.Device) equipment.Traits {
	if t := d.typeOf(dev); t != nil {
		return t.Kind.Traits()
	}
	return equipment.Traits{}
}

// has tells that some device of the room is as asked.
func (d *draft) has(want func(equipment.Traits) bool) bool {
	return slices.ContainsFunc(d.r.Design.Devices, func(dev domain.Device) bool { return want(d.traits(&dev)) })
}

// ofKind gives the book's types of a kind that are as asked, in its order.
func (d *draft) ofKind(k equipment.Kind, want func(*equipment.Type) bool) []*equipment.Type {
	var out []*equipment.Type
	for i := range d.p.Book {
		if t := &d.p.Book[i]; t.Kind == k && want(t) {
			out = append(out, t)
		}
	}
	return out
}

// lighting gives the lighting loads of the draft.
func (d *draft) lighting() []*domain.Load {
	var out []*domain.Load
	for i := range d.r.Design.Loads {
		if l := &d.r.Design.Loads[i]; l.Kind == domain.Lighting {
			out = append(out, l)
		}
	}
	return out
}

func dimmed(l *domain.Load) bool { return l.Dimming != "" && l.Dimming != equipment.Switched }

func (d *draft) us() bool { return d.p.Units == units.US }

func many(n int, one string) string {
	switch {
	case n == 1:
		return "1 " + one
	case strings.HasSuffix(one, "y"):
		return fmt.Sprintf("%d %sies", n, strings.TrimSuffix(one, "y"))
	}
	return fmt.Sprintf("%d %ss", n, one)
}
