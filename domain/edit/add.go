package edit

import (
	"fmt"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
)

// AddLoad adds a load of a kind with the next free tag.
type AddLoad struct {
	ID        domain.ID
	Kind      domain.LoadKind
	Luminaire domain.ID // may be empty
	Count     int
}

// Apply adds the load.
func (e AddLoad) Apply(s *Subject) (string, error) {
	d := s.Design
	l := domain.Load{ID: e.ID, Seq: nextSeq(d.Loads, func(l domain.Load) int { return l.Seq }), Kind: e.Kind}
	prefix := "L"
	switch e.Kind {
	case domain.Lighting:
		l.Layer, l.Zone, l.Count = domain.General, domain.ZoneNone, max(1, e.Count)
		l.Luminaire = e.Luminaire
		if l.Luminaire == "" && len(s.Project.Luminaires) > 0 {
			l.Luminaire = s.Project.Luminaires[0].ID
		}
		if lum := s.Project.Luminaire(l.Luminaire); lum != nil {
			l.Dimming = dimmingOf(lum.Driver)
		}
	case domain.Receptacle:
		prefix, l.Dimming, l.Rating, l.Volts = "R", equipment.Switched, 20, 120
		if s.Project.Units == "SI" {
			l.Rating, l.Volts = 16, 230
		}
	default:
		return "", fmt.Errorf("a load is lighting or receptacle, not %q", e.Kind)
	}
	l.Tag = freeTag(prefix, "", func(tag string) bool { return tagged(d, tag) })
	d.Loads = append(d.Loads, l)
	return "added load " + l.Tag, nil
}

func dimmingOf(k domain.DriverKind) equipment.Dimming {
	if k == domain.DriverSwitched || k == "" {
		return equipment.Switched
	}
	return equipment.Dimming(k)
}

// AddDevice adds a device of a type of the book with the next free tag and
// settings that agree with what the room has already.
type AddDevice struct {
	ID   domain.ID
	Type string
	At   *geom.Point // on the storey's plan; nil: not placed
}

// Apply adds the device.
func (e AddDevice) Apply(s *Subject) (string, error) {
	t := s.Project.Book.Find(e.Type)
	if t == nil {
		return "", fmt.Errorf("the equipment book has no type %q: add it there or choose another", e.Type)
	}
	d := s.Design
	dev := domain.Device{ID: e.ID, Seq: nextSeq(d.Devices, func(d domain.Device) int { return d.Seq }), Type: t.ID}
	dev.Tag = freeTag(t.Kind.Traits().Prefix, "-", func(tag string) bool { return tagged(d, tag) })
	fitDevice(s, &dev)
	if e.At != nil && s.Room != nil { // a typical has no plan
		at, err := onPlan(*e.At)
		if err != nil {
			return "", err
		}
		dev.At = &at
	}
	d.Devices = append(d.Devices, dev)
	return fmt.Sprintf("added %s (%s)", dev.Tag, t.Name), nil
}

// fitDevice gives a device the settings that its kind needs and takes away
// those that it has no use for.
func fitDevice(s *Subject, dev *domain.Device) {
	t := s.Project.Book.Find(dev.Type)
	if t == nil {
		return
	}
	tr := t.Kind.Traits()
	switch {
	case !tr.Presence:
		dev.Presence, dev.Delay = "", 0
	case dev.Presence == "":
		dev.Presence = domain.Vacancy
		for i := range s.Design.Devices {
			if k := s.Design.Devices[i].Presence; k != "" {
				dev.Presence = k
				break
			}
		}
	}
	if !tr.Daylight {
		dev.Loop = ""
	} else if dev.Loop == "" {
		dev.Loop = domain.OpenLoop
	}
	if !tr.Buttons && !tr.Presence || tr.OwnOnly {
		dev.Sending = ""
	} else if dev.Sending == "" {
		dev.Sending = domain.ToRoom
	}
	if t.Supply != equipment.Battery {
		dev.Parent, dev.Hears, dev.Fitted = "", nil, ""
	}
	if t.Supply != equipment.Wired {
		dev.FedBy = ""
	}
	if !tr.Buttons {
		dev.Buttons = nil
	}
}

// AddScene adds a scene with the next free number in which every lighting load
// is at full, so that it has no holes.
type AddScene struct {
	ID   domain.ID
	Name string
}

// Apply adds the scene.
func (e AddScene) Apply(s *Subject) (string, error) {
	d := s.Design
	sc := domain.Scene{ID: e.ID, Seq: nextSeq(d.Scenes, func(s domain.Scene) int { return s.Seq })}
	for i := range d.Scenes {
		sc.Number = max(sc.Number, d.Scenes[i].Number)
	}
	sc.Number++
	name, err := domain.CleanLine(e.Name, domain.MaxName)
	if err != nil {
		return "", err
	}
	if sc.Name = name; name == "" {
		sc.Name = "Scene " + strconv.Itoa(sc.Number)
	}
	for i := range d.Loads {
		if d.Loads[i].Kind == domain.Lighting {
			sc.Levels = append(sc.Levels, domain.SceneLevel{ID: d.Loads[i].ID, Level: 100, Fade: 2})
		}
	}
	d.Scenes = append(d.Scenes, sc)
	return fmt.Sprintf("added scene %d %s", sc.Number, sc.Name), nil
}

// AddIntent adds an intent of a kind with numbers to start from.
type AddIntent struct {
	ID   domain.ID
	Kind domain.IntentKind
}

// Apply adds the intent.
func (e AddIntent) Apply(s *Subject) (string, error) {
	if !e.Kind.Known() {
		return "", fmt.Errorf("there is no intent of kind %q", e.Kind)
	}
	in := domain.NewIntent(e.ID, e.Kind)
	in.Seq = nextSeq(s.Design.Intents, func(i domain.Intent) int { return i.Seq })
	if e.Kind == domain.ByPresence && !allVacancy(s.Design) {
		in.Enters, in.Level = true, 100
	}
	if e.Kind == domain.ByDaylight {
		in.Target = domain.DaylightTarget(s.Env().Project.Units)
	}
	s.Design.Intents = append(s.Design.Intents, in)
	return "added intent " + in.Kind.Title(), nil
}

func allVacancy(d *domain.Design) bool {
	for i := range d.Devices {
		if d.Devices[i].Presence == domain.Occupancy {
			return false
		}
	}
	return true
}

func nextSeq[T any](list []T, seq func(T) int) int {
	n := 0
	for _, x := range list {
		n = max(n, seq(x))
	}
	return n + 1
}

func freeTag(prefix, hyphen string, taken func(string) bool) string {
	for n := 1; ; n++ {
		if tag := prefix + hyphen + strconv.Itoa(n); !taken(tag) {
			return tag
		}
	}
}

func tagged(d *domain.Design, tag string) bool {
	for i := range d.Loads {
		if strings.EqualFold(d.Loads[i].Tag, tag) {
			return true
		}
	}
	for i := range d.Devices {
		if strings.EqualFold(d.Devices[i].Tag, tag) {
			return true
		}
	}
	return false
}

// freeOutput gives the first output of the load's controller that no other
// load has, or its first one.
func freeOutput(s *Subject, l *domain.Load) int {
	dev := s.Design.Device(l.Controller)
	if dev == nil {
		return 0
	}
	t := s.Project.Book.Find(dev.Type)
	if t == nil {
		return 1
	}
	for n := 1; n <= t.Outputs; n++ {
		free := true
		for i := range s.Design.Loads {
			o := &s.Design.Loads[i]
			free = free && (o.ID == l.ID || o.Controller != l.Controller || o.Output != n)
		}
		if free {
			return n
		}
	}
	return 1
}
