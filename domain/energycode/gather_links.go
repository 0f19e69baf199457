package energycode

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// end is where a cell of the matrix stands: its device and load by their places in
// the design, below 0 where one is gone.
type end struct{ device, load int32 }

// findDevices finds the type of each device once.
func (g *gatherer) findDevices() {
	n := len(g.d.Devices)
	g.types, g.does = make([]*equipment.Type, n), make([]equipment.Traits, n)
	for i := range g.d.Devices {
		if i > 0 && g.d.Devices[i].Type == g.d.Devices[i-1].Type {
			g.types[i], g.does[i] = g.types[i-1], g.does[i-1]
		} else if t := g.p.Book.Find(g.d.Devices[i].Type); t != nil {
			g.types[i], g.does[i] = t, t.Kind.Traits()
		}
	}
}

// joinLinks finds the ends of each cell. Cells come sorted by device, then load, so
// that the next one's are mostly the same device and the same load or the one after.
func (g *gatherer) joinLinks() {
	g.ends = make([]end, len(g.d.Links))
	g.senses = make([]int, 0, 2*len(g.d.Loads))
	device, load := -1, -1
	for i := range g.d.Links {
		k := &g.d.Links[i]
		if device < 0 || g.d.Devices[device].ID != k.Device {
			device = g.d.DeviceIndex(k.Device)
		}
		if load < 0 || g.d.Loads[load].ID != k.Load {
			if next := load + 1; next < len(g.d.Loads) && g.d.Loads[next].ID == k.Load {
				load = next
			} else {
				load = g.d.LoadIndex(k.Load)
			}
		}
		g.ends[i] = end{int32(device), int32(load)}
		if k.Do.Verb == domain.Acts && device >= 0 && load >= 0 {
			switch t := &g.does[device]; {
			case t.Presence:
				g.senses = append(g.senses, i)
			case t.Daylight:
				g.reads = append(g.reads, i)
			}
		}
	}
	if len(g.senses) > 1 {
		g.sortSenses()
	}
}

// sortSenses puts the cells of presence sensors in the order of their tags, in which
// sentences name them.
func (g *gatherer) sortSenses() {
	var devices []int32
	for _, i := range g.senses {
		if at := g.ends[i].device; !slices.Contains(devices, at) {
			devices = append(devices, at)
		}
	}
	if len(devices) < 2 {
		return
	}
	slices.SortStableFunc(devices, func(a, b int32) int { return domain.CompareNumbers(g.d.Devices[a].Tag, g.d.Devices[b].Tag) })
	sorted := make([]int, 0, len(g.senses))
	for _, at := range devices {
		for _, i := range g.senses {
			if g.ends[i].device == at {
				sorted = append(sorted, i)
			}
		}
	}
	g.senses = sorted
}

// sensing is which presence sensors act on a load.
type sensing struct {
	tags     []string
	occupied []string      // of those that may turn loads on
	only     string        // a partition's state without which none acts
	delay    units.Seconds // the longest that a sensor has of its own
}

// sensors gives what senses people for the load at a place of the design. Sensors of
// the load before are shared where they are the same.
func (g *gatherer) sensors(load int) sensing {
	out := sensing{tags: g.tags[:0], occupied: g.lit[:0]}
	state, differ := domain.PartitionState(""), false
	for _, i := range g.senses {
		if int(g.ends[i].load) != load {
			continue
		}
		k, dev := &g.d.Links[i], &g.d.Devices[g.ends[i].device]
		differ = differ || len(out.tags) > 0 && k.Do.If != state
		state = k.Do.If
		out.tags = append(out.tags, dev.Tag)
		out.delay = max(out.delay, dev.Delay)
		if dev.Presence != domain.Vacancy {
			out.occupied = append(out.occupied, dev.Tag)
		}
	}
	if state != "" && !differ {
		out.only = unworded
	}
	if out.only != "" && !g.brief {
		out.only = fmt.Sprintf("%s act only while the partition is %s", tagWords(out.tags), state)
	}
	g.tags, g.lit = out.tags, out.occupied
	share(&out.tags, &g.lastTags)
	share(&out.occupied, &g.lastOccupied)
	if slices.Equal(out.occupied, out.tags) {
		out.occupied = out.tags
	}
	return out
}

// share takes the last list again where a new one says the same, else a copy of it.
func share(list, last *[]string) {
	if !slices.Equal(*list, *last) {
		*last = slices.Clone(*list)
	}
	*list = *last
}

// wait gives how long a load's sensors must report nobody before an intent acts:
// what domain.Intent.DelayFor says.
func (s *sensing) wait(in *domain.Intent) units.Seconds {
	if s.delay > 0 {
		return s.delay
	}
	return in.Delay
}

// said is words that were put together for an intent.
type said struct {
	name string // "presence intent 2"
	tags []string
	by   string // the tags and the name
}

// name says which intent it is: "presence intent 2".
func (g *gatherer) name(i int) string {
	if g.brief {
		return ""
	}
	if g.said[i].name == "" {
		g.said[i].name = fmt.Sprintf("%s intent %d", strings.ToLower(g.d.Intents[i].Kind.Title()), i+1)
	}
	return g.said[i].name
}

// by says through which devices an intent acts: "PS-1, presence intent 2".
func (g *gatherer) by(tags []string, i int) string {
	if g.brief {
		return ""
	}
	s := &g.said[i]
	if s.by == "" || len(tags) != len(s.tags) || &tags[0] != &s.tags[0] {
		s.tags, s.by = tags, tagWords(tags)+", "+g.name(i)
	}
	return s.by
}
