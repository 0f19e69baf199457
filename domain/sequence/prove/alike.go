package prove

import (
	"encoding/json"
	"fmt"
	"strings"

	"scopewright/domain"
)

// like gives a word that parts share which do alike whatever their loads, devices
// and intents are called.
func (s *slice) like(list *lister) string {
	var b strings.Builder
	d, p := &s.design, list.p.Project
	fmt.Fprint(&b, s.modes, s.parts)
	for i := range d.Loads {
		l := &d.Loads[i]
		dims := float64(0)
		if lum := p.Luminaire(l.Luminaire); lum != nil {
			dims = float64(lum.DimsTo)
		}
		fmt.Fprintf(&b, "|load %s %s %g %t %t", l.Kind, l.Dimming, dims, l.Egress, l.Bypass != "")
		for k := range d.Scenes {
			if at := d.Scenes[k].LevelOf(l.ID); at != nil {
				fmt.Fprintf(&b, " SC%d %g %g %t", d.Scenes[k].Number, float64(at.Level), float64(at.Fade), at.Leave)
			}
		}
	}
	for _, w := range list.words {
		b.WriteString("|" + w)
	}
	for i := range d.Devices {
		t := p.Book.Find(d.Devices[i].Type)
		if t != nil && !t.Kind.Traits().Buttons {
			fmt.Fprintf(&b, "|%s %s %g", t.Kind, list.p.SensorClass(i), float64(d.Devices[i].Delay))
		}
	}
	for i := range d.Intents {
		b.WriteString("|")
		b.WriteString(s.plain(&d.Intents[i]))
	}
	return b.String()
}

// plain writes an intent without what it is called.
func (s *slice) plain(in *domain.Intent) string {
	out := *in
	out.ID, out.Seq, out.Source, out.Loads = "", 0, "", nil
	for i := range s.design.Loads {
		if in.ActsOn(&s.design.Loads[i]) {
			out.Loads = append(out.Loads, domain.ID(fmt.Sprint(i)))
		}
	}
	if at := s.design.DeviceIndex(in.Device); at >= 0 {
		out.Device = domain.ID(fmt.Sprint(s.place(at)))
	}
	text, _ := json.Marshal(out) // an intent holds nothing that cannot be written
	return string(text)
}

// place numbers a device among those of its type, as stations may be more or fewer.
func (s *slice) place(at int) string {
	n := 0
	for i := range at {
		if s.design.Devices[i].Type == s.design.Devices[at].Type {
			n++
		}
	}
	return fmt.Sprint(s.design.Devices[at].Type, n)
}
