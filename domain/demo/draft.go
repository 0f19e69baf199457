package demo

import (
	"fmt"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/edit"
)

// draft is a room or typical on the drawing board, changed by the same edits
// that a designer makes.
type draft struct{ *edit.Subject }

func newTypical(p *domain.Project, seq int, name, title string, use domain.Use) (draft, *domain.Typical) {
	t := &domain.Typical{ID: domain.ID("typ-" + strings.ToLower(name)), Seq: seq, Name: name, Title: title, Use: use, Space: kinds[use]}
	return draft{edit.OfTypical(p, t)}, t
}

// do carries out edits. The building is fixed and a test builds it, so that an
// edit which is refused cannot leave the house.
func (d draft) do(edits ...edit.Edit) {
	for _, e := range edits {
		if _, err := e.Apply(d.Subject); err != nil {
			panic(fmt.Sprintf("demo: %+v: %v", e, err))
		}
	}
	delta.Sort(d.Design)
}

// set types into fields below a path, in pairs of name and text.
func (d draft) set(path string, pairs ...string) {
	for i := 0; i+1 < len(pairs); i += 2 {
		d.do(edit.SetField{Path: path + "/" + pairs[i], Text: pairs[i+1]})
	}
}

func (d draft) device(id, typ, place string, pairs ...string) {
	d.do(edit.AddDevice{ID: domain.ID(id), Type: typ})
	d.set("devices/"+id, "place", place)
	d.set("devices/"+id, pairs...)
}

// lights adds a lighting load on a controller's output, "lc 2".
func (d draft) lights(id, luminaire string, count int, name, on string, pairs ...string) {
	d.do(edit.AddLoad{ID: domain.ID(id), Kind: domain.Lighting, Luminaire: domain.ID("lum-" + luminaire), Count: count})
	d.set("loads/"+id, "name", name)
	d.carry(id, on)
	d.set("loads/"+id, pairs...)
}

// outlets adds a controlled receptacle circuit of a count.
func (d draft) outlets(id, name string, count int, on string) {
	d.do(edit.AddLoad{ID: domain.ID(id), Kind: domain.Receptacle})
	d.set("loads/"+id, "name", name, "count", strconv.Itoa(count))
	d.carry(id, on)
}

func (d draft) carry(load, on string) {
	controller, output, _ := strings.Cut(on, " ")
	d.set("loads/"+load, "controller", controller, "output", output)
}

// scene adds a scene in which each lighting load is at full, but for the
// levels given in pairs of load and level.
func (d draft) scene(id, name string, levels ...string) {
	d.do(edit.AddScene{ID: domain.ID(id), Name: name})
	d.set("scenes/"+id+"/levels", levels...)
}

// button labels a button and says what it does: the cell for each lighting
// load, but for the cells given in pairs of load and cell. Receptacles are no
// business of a station.
func (d draft) button(station string, n int, label, cell string, others ...string) {
	d.set("devices/"+station+"/buttons", strconv.Itoa(n), label)
	for _, l := range d.Design.Loads {
		text := cell
		if l.Kind == domain.Receptacle {
			text = "-"
		}
		for i := 0; i+1 < len(others); i += 2 {
			if others[i] == string(l.ID) {
				text = others[i+1]
			}
		}
		d.set("links", string(domain.LinkID(domain.ID(station), n, domain.Press, l.ID)), text)
	}
}

// onOff labels the first two buttons of a station, raiseLower the next two.
func (d draft) onOff(station string) {
	d.button(station, 1, "On", "100")
	d.button(station, 2, "Off", "0")
}

func (d draft) raiseLower(station string) {
	d.button(station, 3, "Raise", "UP")
	d.button(station, 4, "Lower", "DN")
}

// acts lets a sensor or AV interface act on the loads named, on all lighting
// where none is, and on nothing else.
func (d draft) acts(device string, loads ...string) { d.input(device, 0, loads...) }

// input is acts for one input of a contact input; "spare" names no load.
func (d draft) input(device string, n int, loads ...string) {
	for _, l := range d.Design.Loads {
		text := "-"
		for _, id := range loads {
			if id == string(l.ID) {
				text = "ACT"
			}
		}
		if len(loads) == 0 && l.Kind == domain.Lighting {
			text = "ACT"
		}
		d.set("links", string(domain.LinkID(domain.ID(device), n, "", l.ID)), text)
	}
}

func (d draft) intent(id string, kind domain.IntentKind, pairs ...string) {
	d.do(edit.AddIntent{ID: domain.ID(id), Kind: kind})
	d.set("intents/"+id, pairs...)
}

// circuits names the feeding circuits of all loads: lighting at 277 V and at
// 120 V comes from panels of their own.
func (d draft) circuits(lighting, receptacles string) {
	for _, l := range d.Design.Loads {
		circuit := lighting
		switch {
		case l.Kind == domain.Receptacle:
			circuit = receptacles
		case l.Voltage(d.Project) == 120:
			circuit = "A" + lighting
		}
		d.set("loads/"+string(l.ID), "circuit", circuit)
	}
}
