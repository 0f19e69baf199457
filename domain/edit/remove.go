package edit

import (
	"fmt"
	"slices"

	"scopewright/domain"
)

// Remove takes away a load, device, scene, intent or scenario with what hangs on it.
type Remove struct {
	Part string // "loads", "devices", "scenes", "intents" or "scenarios"
	ID   domain.ID
}

// Apply removes the part.
func (e Remove) Apply(s *Subject) (string, error) {
	switch e.Part {
	case "loads":
		return removeLoad(s.Design, e.ID)
	case "devices":
		return removeDevice(s.Design, e.ID)
	case "scenes":
		return removeScene(s.Design, e.ID)
	case "intents":
		in := s.Design.Intent(e.ID)
		if in == nil {
			return "", gone("the intent")
		}
		said := "removed intent " + in.Kind.Title()
		s.Design.Intents = without(s.Design.Intents, func(i domain.Intent) bool { return i.ID == e.ID })
		return said, nil
	case "scenarios":
		sc := s.Design.Scenario(e.ID)
		if sc == nil {
			return "", gone("the scenario")
		}
		said := "removed scenario " + sc.Name
		s.Design.Scenarios = without(s.Design.Scenarios, func(x domain.Scenario) bool { return x.ID == e.ID })
		return said, nil
	}
	return "", fmt.Errorf("there is nothing called %q to remove", e.Part)
}

func without[T any](list []T, drop func(T) bool) []T {
	var kept []T
	for _, x := range list {
		if !drop(x) {
			kept = append(kept, x)
		}
	}
	return kept
}

func removeLoad(d *domain.Design, id domain.ID) (string, error) {
	l := d.Load(id)
	if l == nil {
		return "", gone("the load")
	}
	said := "removed load " + l.Tag
	d.Loads = without(d.Loads, func(l domain.Load) bool { return l.ID == id })
	d.Links = without(d.Links, func(k domain.Link) bool { return k.Load == id })
	for i := range d.Scenes {
		d.Scenes[i].Levels = without(d.Scenes[i].Levels, func(l domain.SceneLevel) bool { return l.ID == id })
	}
	d.Intents = slices.Clone(d.Intents)
	for i := range d.Intents {
		in := &d.Intents[i]
		if !slices.Contains(in.Loads, id) {
			continue
		}
		// An intent for this load alone must not come to mean "all loads".
		if len(in.Loads) > 1 {
			in.Loads = without(in.Loads, func(x domain.ID) bool { return x == id })
		} else {
			in.Loads = []domain.ID{"gone"}
		}
	}
	d.Intents = without(d.Intents, func(in domain.Intent) bool { return len(in.Loads) == 1 && in.Loads[0] == "gone" })
	d.Scenarios = withoutSteps(d.Scenarios, func(st *domain.ScenarioStep) bool { return st.Load == id })
	return said, nil
}

func removeDevice(d *domain.Design, id domain.ID) (string, error) {
	dev := d.Device(id)
	if dev == nil {
		return "", gone("the device")
	}
	said := "removed " + dev.Tag
	d.Devices = without(d.Devices, func(x domain.Device) bool { return x.ID == id })
	d.Links = without(d.Links, func(k domain.Link) bool { return k.Device == id })
	for i := range d.Devices {
		x := &d.Devices[i]
		if x.Parent == id {
			x.Parent = ""
		}
		if x.FedBy == id {
			x.FedBy = ""
		}
		if slices.Contains(x.Hears, id) {
			x.Hears = without(x.Hears, func(h domain.ID) bool { return h == id })
		}
	}
	for i := range d.Loads {
		if d.Loads[i].Controller == id {
			d.Loads[i].Controller, d.Loads[i].Output = "", 0
		}
	}
	for i := range d.Intents {
		if d.Intents[i].Device == id {
			d.Intents[i].Device = ""
		}
	}
	d.Scenarios = withoutSteps(d.Scenarios, func(st *domain.ScenarioStep) bool { return st.Device == id })
	return said, nil
}

func removeScene(d *domain.Design, id domain.ID) (string, error) {
	sc := d.Scene(id)
	if sc == nil {
		return "", gone("the scene")
	}
	said, number := fmt.Sprintf("removed scene %d %s", sc.Number, sc.Name), sc.Number
	d.Scenes = without(d.Scenes, func(x domain.Scene) bool { return x.ID == id })
	d.Links = without(d.Links, func(k domain.Link) bool { return k.Do.Verb == domain.ToScene && k.Do.Scene == number })
	return said, nil
}

// Duplicate adds a copy of a load, device or scene under the next free tag,
// with the same links, or a copy of an intent.
type Duplicate struct {
	Part string
	ID   domain.ID
	New  domain.ID
}

// Apply duplicates the part.
func (e Duplicate) Apply(s *Subject) (string, error) {
	d := s.Design
	switch e.Part {
	case "loads":
		return e.load(d)
	case "devices":
		return e.device(s)
	case "scenes":
		sc := d.Scene(e.ID)
		if sc == nil {
			return "", gone("the scene")
		}
		twin := *sc
		twin.Levels = slices.Clone(sc.Levels)
		twin.ID, twin.Seq = e.New, nextSeq(d.Scenes, func(s domain.Scene) int { return s.Seq })
		for i := range d.Scenes {
			twin.Number = max(twin.Number, d.Scenes[i].Number)
		}
		twin.Number++
		twin.Name = short(sc.Name + " copy")
		d.Scenes = append(d.Scenes, twin)
		return fmt.Sprintf("added scene %d as a copy of scene %d", twin.Number, sc.Number), nil
	case "intents":
		in := d.Intent(e.ID)
		if in == nil {
			return "", gone("the intent")
		}
		twin := *in
		twin.Loads, twin.Modes = slices.Clone(in.Loads), slices.Clone(in.Modes)
		twin.ID, twin.Seq = e.New, nextSeq(d.Intents, func(i domain.Intent) int { return i.Seq })
		d.Intents = append(d.Intents, twin)
		return "added a copy of intent " + in.Kind.Title(), nil
	}
	return "", fmt.Errorf("there is nothing called %q to duplicate", e.Part)
}

func (e Duplicate) load(d *domain.Design) (string, error) {
	l := d.Load(e.ID)
	if l == nil {
		return "", gone("the load")
	}
	twin := *l
	from := l.Tag
	twin.ID, twin.Seq = e.New, nextSeq(d.Loads, func(l domain.Load) int { return l.Seq })
	twin.Controller, twin.Output = "", 0
	prefix := "L"
	if l.Kind == domain.Receptacle {
		prefix = "R"
	}
	twin.Tag = freeTag(prefix, "", func(tag string) bool { return tagged(d, tag) })
	d.Loads = append(d.Loads, twin)
	for _, k := range slices.Clone(d.Links) {
		if k.Load == e.ID {
			k.Load = e.New
			k.ID = domain.LinkID(k.Device, k.Button, k.On, k.Load)
			d.Links = append(d.Links, k)
		}
	}
	for i := range d.Scenes {
		if level := d.Scenes[i].LevelOf(e.ID); level != nil {
			copied := *level
			copied.ID = e.New
			d.Scenes[i].Levels = append(slices.Clone(d.Scenes[i].Levels), copied)
		}
	}
	return fmt.Sprintf("added load %s as a copy of %s", twin.Tag, from), nil
}

func (e Duplicate) device(s *Subject) (string, error) {
	d := s.Design
	dev := d.Device(e.ID)
	if dev == nil {
		return "", gone("the device")
	}
	twin := *dev
	from := dev.Tag
	twin.Buttons, twin.Hears = slices.Clone(dev.Buttons), slices.Clone(dev.Hears)
	twin.ID, twin.Seq, twin.Parent = e.New, nextSeq(d.Devices, func(d domain.Device) int { return d.Seq }), ""
	twin.At, twin.Turn = nil, 0 // two devices cannot hang in one place
	prefix := "D"
	if t := s.Project.Book.Find(dev.Type); t != nil {
		prefix = t.Kind.Traits().Prefix
	}
	twin.Tag = freeTag(prefix, "-", func(tag string) bool { return tagged(d, tag) })
	d.Devices = append(d.Devices, twin)
	for _, k := range slices.Clone(d.Links) {
		if k.Device == e.ID {
			k.Device = e.New
			k.ID = domain.LinkID(k.Device, k.Button, k.On, k.Load)
			d.Links = append(d.Links, k)
		}
	}
	return fmt.Sprintf("added %s as a copy of %s", twin.Tag, from), nil
}
