package edit

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
)

// partOf gives what an area takes of a design.
func partOf(d *domain.Design, a *DividedArea) domain.Design {
	all := d.Clone()
	device, load := among(a.Devices), among(a.Loads)
	out := domain.Design{
		Loads:   without(all.Loads, func(l domain.Load) bool { return !load(l.ID) }),
		Devices: without(all.Devices, func(dev domain.Device) bool { return !device(dev.ID) }),
		Links:   without(all.Links, func(k domain.Link) bool { return !device(k.Device) || !load(k.Load) }),
	}
	for i := range out.Devices {
		dev := &out.Devices[i]
		if d.Device(dev.Parent) != nil && !device(dev.Parent) {
			dev.Parent = ""
		}
		if d.Device(dev.FedBy) != nil && !device(dev.FedBy) {
			dev.FedBy = ""
		}
		dev.Hears = without(dev.Hears, func(id domain.ID) bool { return d.Device(id) != nil && !device(id) })
	}
	out.Scenes = scenesOf(all.Scenes, &out, load)
	for _, in := range all.Intents {
		if keepIntent(&in, d, &out, load) {
			out.Intents = append(out.Intents, in)
		}
	}
	for i := range all.Scenarios {
		if ofPart(&all.Scenarios[i], d, device, load) {
			out.Scenarios = append(out.Scenarios, all.Scenarios[i])
		}
	}
	return out
}

// among tells which IDs are in a list.
func among(list []domain.ID) func(domain.ID) bool {
	set := make(map[domain.ID]bool, len(list))
	for _, id := range list {
		set[id] = true
	}
	return func(id domain.ID) bool { return set[id] }
}

// scenesOf keeps scenes with a level for one of the loads, or that a button of
// the area calls.
func scenesOf(scenes []domain.Scene, part *domain.Design, load func(domain.ID) bool) (out []domain.Scene) {
	for _, sc := range scenes {
		sc.Levels = without(sc.Levels, func(l domain.SceneLevel) bool { return !load(l.ID) })
		called := slices.ContainsFunc(part.Links, func(k domain.Link) bool { return k.Do.Verb == domain.ToScene && k.Do.Scene == sc.Number })
		if len(sc.Levels) > 0 || called {
			out = append(out, sc)
		}
	}
	return out
}

// keepIntent tells whether an intent still means something in a part of the
// design, and leaves in it the loads of that part. One that speaks of all loads
// goes on to mean those of the part.
func keepIntent(in *domain.Intent, d, part *domain.Design, load func(domain.ID) bool) bool {
	if d.Device(in.Device) != nil && part.Device(in.Device) == nil {
		return false
	}
	if d.SceneNumbered(in.Scene) != nil && part.SceneNumbered(in.Scene) == nil {
		return false
	}
	if len(in.Loads) > 0 {
		in.Loads = without(in.Loads, func(id domain.ID) bool { return !load(id) })
		return len(in.Loads) > 0
	}
	return !aboutLoads(in) || len(in.Targets(part)) > 0 || len(in.Targets(d)) == 0
}

// ofPart tells that a scenario happens in a part of the design alone: a story of
// which some of the causes are elsewhere would expect what no longer comes.
func ofPart(sc *domain.Scenario, d *domain.Design, device, load func(domain.ID) bool) bool {
	for i := range sc.Steps {
		st := &sc.Steps[i]
		if d.Device(st.Device) != nil && !device(st.Device) || d.Load(st.Load) != nil && !load(st.Load) {
			return false
		}
	}
	return true
}

// shareWaivers lets each waiver about a device or a load go to the area that has
// it: the same thing is waived for the same reason. All others stay with the room.
func shareWaivers(from *domain.Resolved, rooms []*domain.Resolved) {
	for _, r := range rooms {
		r.Waivers = nil
	}
	for _, w := range from.Waivers {
		at := slices.IndexFunc(rooms, func(r *domain.Resolved) bool {
			return r.Design.Device(domain.ID(w.Key)) != nil || r.Design.Load(domain.ID(w.Key)) != nil
		})
		home := rooms[max(0, at)]
		home.Waivers = append(home.Waivers, w)
	}
}

// equip adds to an area what it needs besides, a gateway with the settings of the
// one that the room had, hangs loads on other controllers, and writes its parents
// down.
func equip(p *domain.Project, r, from *domain.Resolved, a *DividedArea) error {
	s := OfRoom(p, r)
	for i := range a.Added {
		if r.Design.Device(a.Added[i].ID) != nil {
			return fmt.Errorf("%s has a device of the ID %s already", r.Number, a.Added[i].ID)
		}
		if _, err := (AddDevice{ID: a.Added[i].ID, Type: a.Added[i].Type}).Apply(s); err != nil {
			return err
		}
		added := r.Design.Device(a.Added[i].ID)
		for j := range from.Design.Devices {
			if twin := &from.Design.Devices[j]; twin.Type == added.Type {
				added.Mounting, added.Height = twin.Mounting, twin.Height
				break
			}
		}
	}
	for _, h := range a.Hung {
		if l := r.Design.Load(h.Load); l != nil {
			l.Controller, l.Output = h.Controller, h.Output
		}
	}
	for i := range r.Design.Devices {
		dev := &r.Design.Devices[i]
		parent, ok := a.Parents[dev.ID]
		if !ok || r.Design.Device(parent) == nil {
			continue
		}
		dev.Parent = parent
		// One that said what it hears now hears its new parent too.
		if was := from.Design.Device(dev.ID); was != nil && len(was.Hears) > 0 && !slices.Contains(dev.Hears, parent) {
			dev.Hears = append(dev.Hears, parent)
		}
	}
	return nil
}

// LeftOut tells what of a design's links, scenes, intents and scenarios none of
// the rooms keeps that it was divided into.
func LeftOut(d *domain.Design, rooms []*domain.Resolved) (lost []string) {
	kept := func(has func(*domain.Design) bool) bool {
		return slices.ContainsFunc(rooms, func(r *domain.Resolved) bool { return has(&r.Design) })
	}
	lost = lostLinks(d, rooms)
	for i := range d.Scenes {
		if sc := &d.Scenes[i]; !kept(func(o *domain.Design) bool { return o.Scene(sc.ID) != nil }) {
			lost = append(lost, fmt.Sprintf("scene %d %s", sc.Number, sc.Name))
		}
	}
	for i := range d.Intents {
		if line := lostOf(&d.Intents[i], d, rooms); line != "" {
			lost = append(lost, line)
		}
	}
	for i := range d.Scenarios {
		if sc := &d.Scenarios[i]; !kept(func(o *domain.Design) bool { return o.Scenario(sc.ID) != nil }) {
			lost = append(lost, "scenario "+sc.Name)
		}
	}
	return lost
}

// lostLinks tells of each input with how many links it loses, and to which loads.
func lostLinks(d *domain.Design, rooms []*domain.Resolved) (lost []string) {
	still := map[domain.ID]bool{}
	for _, r := range rooms {
		for i := range r.Design.Links {
			still[r.Design.Links[i].ID] = true
		}
	}
	counts, to := map[domain.ID]int{}, map[domain.ID]map[domain.ID]bool{}
	for i := range d.Links {
		k := &d.Links[i]
		if k.Do.Verb == "" || k.Do.Verb == domain.Nothing || still[k.ID] || d.Load(k.Load) == nil {
			continue
		}
		if counts[k.Device]++; to[k.Device] == nil {
			to[k.Device] = map[domain.ID]bool{}
		}
		to[k.Device][k.Load] = true
	}
	for i := range d.Devices {
		dev := &d.Devices[i]
		if counts[dev.ID] == 0 {
			continue
		}
		var tags []string
		for j := range d.Loads {
			if to[dev.ID][d.Loads[j].ID] {
				tags = append(tags, d.Loads[j].Tag)
			}
		}
		lost = append(lost, fmt.Sprintf("%s of %s, to %s", counted(counts[dev.ID], "link"), dev.Tag, strings.Join(tags, ", ")))
	}
	return lost
}

// lostOf tells for which loads an intent no longer counts, or that no room keeps
// it; empty where nothing is lost.
func lostOf(in *domain.Intent, d *domain.Design, rooms []*domain.Resolved) string {
	still, somewhere := map[domain.ID]bool{}, false
	for _, r := range rooms {
		if now := r.Design.Intent(in.ID); now != nil {
			somewhere = true
			for _, id := range now.Targets(&r.Design) {
				still[id] = true
			}
		}
	}
	if !aboutLoads(in) {
		if somewhere {
			return ""
		}
		return "intent " + in.Kind.Title()
	}
	scene := d.SceneNumbered(in.Scene)
	var tags []string
	for _, id := range in.Targets(d) {
		if l := d.Load(id); l != nil && !still[id] && (scene == nil || scene.LevelOf(id) != nil) {
			tags = append(tags, l.Tag)
		}
	}
	switch {
	case len(tags) > 0:
		return fmt.Sprintf("intent %s for %s", in.Kind.Title(), strings.Join(tags, ", "))
	case !somewhere:
		return "intent " + in.Kind.Title()
	}
	return ""
}
