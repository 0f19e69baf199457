package edit

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
)

// mostSceneNumber is the largest number that a scene may have.
const mostSceneNumber = 999

// absorb adds all parts of one design to another: a copy that may be changed.
// Parts get IDs, tags and scene numbers of their own where the design has such
// already; scenes of one name are one scene. What spoke of "all loads" goes on
// to mean the loads of its own room, unless both rooms say the same. It gives
// the new IDs of loads.
func absorb(p *domain.Project, into *domain.Design, from domain.Design, number string) (loads map[domain.ID]domain.ID, err error) {
	same := explicit(into, &from)
	a := absorber{p: p, into: into, from: &from, number: number}
	a.rename()
	if err := a.scenes(); err != nil {
		return nil, err
	}
	a.loadsAndDevices()
	a.links()
	a.intents(same)
	a.scenarios()
	for _, part := range []struct {
		what    string
		n, most int
	}{{"loads", len(into.Loads), domain.MaxParts}, {"devices", len(into.Devices), domain.MaxParts}, {"scenes", len(into.Scenes), domain.MaxParts},
		{"intents", len(into.Intents), domain.MaxParts}, {"scenarios", len(into.Scenarios), domain.MaxParts}, {"links", len(into.Links), domain.MaxLinks}} {
		if part.n > part.most {
			return nil, fmt.Errorf("together they have %d %s, more than the %d of one room", part.n, part.what, part.most)
		}
	}
	for i := range into.Scenarios {
		if sc := &into.Scenarios[i]; len(sc.Steps) > domain.MaxParts {
			return nil, fmt.Errorf("scenario %s would have %d steps, more than the %d that it can have", sc.Name, len(sc.Steps), domain.MaxParts)
		}
	}
	return a.load, nil
}

type absorber struct {
	p      *domain.Project
	into   *domain.Design
	from   *domain.Design
	number string // of the room that the parts come from

	load, device map[domain.ID]domain.ID // from an ID of the other room to the new one
	scene        map[int]int             // scene numbers
}

func (a *absorber) rename() {
	a.load, a.device = map[domain.ID]domain.ID{}, map[domain.ID]domain.ID{}
	taken := map[domain.ID]bool{}
	for i := range a.into.Loads {
		taken[a.into.Loads[i].ID] = true
	}
	for i := range a.from.Loads {
		id := a.from.Loads[i].ID
		a.load[id] = freeID(id, func(id domain.ID) bool { return taken[id] })
		taken[a.load[id]] = true
	}
	taken = map[domain.ID]bool{}
	for i := range a.into.Devices {
		taken[a.into.Devices[i].ID] = true
	}
	for i := range a.from.Devices {
		id := a.from.Devices[i].ID
		a.device[id] = freeID(id, func(id domain.ID) bool { return taken[id] })
		taken[a.device[id]] = true
	}
}

// renamed gives the new ID; one that named nothing before still does.
func renamed(ids map[domain.ID]domain.ID, id domain.ID) domain.ID {
	if now, ok := ids[id]; ok {
		return now
	}
	return id
}

func renamedAll(ids map[domain.ID]domain.ID, list []domain.ID) []domain.ID {
	out := slices.Clone(list)
	for i := range out {
		out[i] = renamed(ids, out[i])
	}
	return out
}

// scenes joins scenes of one name and numbers the others.
func (a *absorber) scenes() error {
	a.scene = map[int]int{}
	highest := 0
	for _, s := range append(slices.Clone(a.into.Scenes), a.from.Scenes...) {
		highest = max(highest, s.Number)
	}
	for _, s := range a.from.Scenes {
		levels := make([]domain.SceneLevel, len(s.Levels))
		for i, l := range s.Levels {
			l.ID = renamed(a.load, l.ID)
			levels[i] = l
		}
		if twin := sceneCalled(a.into, s.Name); twin != nil {
			a.scene[s.Number] = twin.Number
			twin.Levels = append(slices.Clone(twin.Levels), levels...)
			continue
		}
		number := s.Number
		if a.into.SceneNumbered(number) != nil {
			if highest++; highest > mostSceneNumber {
				return fmt.Errorf("no number up to %d is free for scene %s", mostSceneNumber, s.Name)
			}
			number = highest
		}
		a.scene[s.Number] = number
		s.Number, s.Levels = number, levels
		s.ID = freeID(s.ID, func(id domain.ID) bool { return a.into.Scene(id) != nil })
		s.Seq = nextSeq(a.into.Scenes, func(s domain.Scene) int { return s.Seq })
		a.into.Scenes = append(a.into.Scenes, s)
	}
	return nil
}

func sceneCalled(d *domain.Design, name string) *domain.Scene {
	for i := range d.Scenes {
		if name != "" && strings.EqualFold(d.Scenes[i].Name, name) {
			return &d.Scenes[i]
		}
	}
	return nil
}

func (a *absorber) numbered(scene int) int {
	if now, ok := a.scene[scene]; ok {
		return now
	}
	return scene
}

func (a *absorber) loadsAndDevices() {
	for _, l := range a.from.Loads {
		l.ID, l.Controller = a.load[l.ID], renamed(a.device, l.Controller)
		l.Seq = nextSeq(a.into.Loads, func(l domain.Load) int { return l.Seq })
		if tagged(a.into, l.Tag) {
			l.Tag = a.freeTag(loadPrefix(l.Kind), "")
		}
		a.into.Loads = append(a.into.Loads, l)
	}
	for _, dev := range a.from.Devices {
		dev.ID, dev.Parent, dev.FedBy = a.device[dev.ID], renamed(a.device, dev.Parent), renamed(a.device, dev.FedBy)
		dev.Hears = renamedAll(a.device, dev.Hears)
		dev.Seq = nextSeq(a.into.Devices, func(d domain.Device) int { return d.Seq })
		if tagged(a.into, dev.Tag) {
			dev.Tag = a.freeTag(devicePrefix(a.p, dev.Type), "-")
		}
		a.into.Devices = append(a.into.Devices, dev)
	}
}

// freeTag gives a tag that neither room has.
func (a *absorber) freeTag(prefix, hyphen string) string {
	return freeTag(prefix, hyphen, func(tag string) bool { return tagged(a.into, tag) || tagged(a.from, tag) })
}

func loadPrefix(kind domain.LoadKind) string {
	if kind == domain.Receptacle {
		return "R"
	}
	return "L"
}

func devicePrefix(p *domain.Project, typ string) string {
	if t := p.Book.Find(typ); t != nil {
		return t.Kind.Traits().Prefix
	}
	return "D"
}

func (a *absorber) links() {
	for _, k := range a.from.Links {
		k.Device, k.Load = renamed(a.device, k.Device), renamed(a.load, k.Load)
		if k.Do.Verb == domain.ToScene {
			k.Do.Scene = a.numbered(k.Do.Scene)
		}
		k.ID = domain.LinkID(k.Device, k.Button, k.On, k.Load)
		if !slices.ContainsFunc(a.into.Links, func(o domain.Link) bool { return o.ID == k.ID }) {
			a.into.Links = append(a.into.Links, k)
		}
	}
}

func (a *absorber) intents(same map[domain.ID]bool) {
	for _, in := range a.from.Intents {
		if same[in.ID] {
			continue
		}
		in.ID = freeID(in.ID, func(id domain.ID) bool { return a.into.Intent(id) != nil })
		in.Seq = nextSeq(a.into.Intents, func(i domain.Intent) int { return i.Seq })
		in.Loads, in.Device, in.Scene = renamedAll(a.load, in.Loads), renamed(a.device, in.Device), a.numbered(in.Scene)
		a.into.Intents = append(a.into.Intents, in)
	}
}

func (a *absorber) scenarios() {
	for _, sc := range a.from.Scenarios {
		sc = sc.Clone()
		sc.ID = freeID(sc.ID, func(id domain.ID) bool { return a.into.Scenario(id) != nil })
		sc.Seq = nextSeq(a.into.Scenarios, func(s domain.Scenario) int { return s.Seq })
		if slices.ContainsFunc(a.into.Scenarios, func(o domain.Scenario) bool { return strings.EqualFold(o.Name, sc.Name) }) {
			sc.Name = named(sc.Name, " ("+a.number+")")
		}
		for i := range sc.Steps {
			st := &sc.Steps[i]
			st.Device, st.Load = renamed(a.device, st.Device), renamed(a.load, st.Load)
		}
		a.into.Scenarios = append(a.into.Scenarios, sc)
	}
}

// named adds to a name and keeps it as long as a name may be.
func named(name, more string) string {
	r, tail := []rune(name), []rune(more)
	if len(tail) > domain.MaxName/2 {
		tail = tail[:domain.MaxName/2]
	}
	if room := domain.MaxName - len(tail); len(r) > room {
		r = r[:room]
	}
	return string(r) + string(tail)
}

// freeID gives an ID itself where it is free, else one made of it.
func freeID(id domain.ID, taken func(domain.ID) bool) domain.ID {
	if !taken(id) {
		return id
	}
	stem := id[:min(len(id), 100)]
	for n := 2; ; n++ {
		if next := domain.ID(fmt.Sprintf("%s-%d", stem, n)); !taken(next) {
			return next
		}
	}
}
