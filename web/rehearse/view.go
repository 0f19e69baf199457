package rehearse

import (
	"encoding/json"
	"fmt"
	"hash/fnv"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/export/drawing"
	"scopewright/web/ui"
)

// view is what the page shows, ready to print.
type view struct {
	Label, Path string
	Workbench   string
	Plan        string           // the storey's; empty where the room is not on one
	Picture     *drawing.Picture // of the room; nil where nothing of it is drawn
	Model       string           // for the page's script, as JSON
	Design      string           // names the design that the page was made of
	Typical     bool
	Followers   int
	Cards       []card
	Loads       []loadRow
	Divisible   bool
	Scenarios   []told
	Choices     []ui.ChoiceList
	Day         *dayView // nil in a room without daylight sensors
}

type loadRow struct {
	ID         domain.ID
	Tag, Name  string
	Receptacle bool
}

// model is what the page's script knows of the room.
type model struct {
	Loads   []modelLoad   `json:"loads"`
	Lamps   []modelLamp   `json:"lamps"`
	Devices []modelDevice `json:"devices"`
}

type modelLoad struct {
	ID         domain.ID `json:"id"`
	Tag        string    `json:"tag"`
	Name       string    `json:"name"`
	Receptacle bool      `json:"receptacle"`
	Switched   bool      `json:"switched"`
}

// modelLamp is a luminaire on the drawing, its place in the drawing's units.
type modelLamp struct {
	Load domain.ID `json:"load"`
	ID   string    `json:"id"`
	X    float64   `json:"x"`
	Y    float64   `json:"y"`
}

type modelDevice struct {
	ID      domain.ID `json:"id"`
	Element string    `json:"element"`
	Tag     string    `json:"tag"`
	What    string    `json:"what"`
}

func newView(b *bench) view {
	v := view{
		Label: b.label(), Path: b.path(), Workbench: b.workbench(), Typical: b.room == nil, Followers: len(b.followers),
		Cards: b.cards(), Divisible: b.design.Divisible(), Design: b.stamp(), Scenarios: b.scenarios(), Choices: stepChoices(b.env()),
	}
	for i := range b.design.Loads {
		l := &b.design.Loads[i]
		v.Loads = append(v.Loads, loadRow{l.ID, l.Tag, l.Name, l.Kind == domain.Receptacle})
	}
	if b.room != nil && b.plan != nil {
		v.Plan = ui.Plan(b.project.ID, b.room.StoreyID)
		v.Picture = drawing.Room(b.project, b.plan, b.room, b.around, drawing.Options{Scale: sceneScale(b), Layers: drawing.Without(drawing.LayerFindings, drawing.LayerUnderlay)})
	}
	v.Model = b.model(v.Picture, v.Cards)
	return v
}

// Bounds of the scale of the lit drawing: at 1:250 luminaires are still drawn.
const (
	sceneSize  = 125.0 // millimeters of the longer side, as if on paper
	coarsest   = 250.0
	leastSpace = 2.0 // meters
)

// sceneScale makes every room about the same size beside its symbols and
// numbers, which have a size of their own.
func sceneScale(b *bench) drawing.Scale {
	box, ok := geom.BoundsOf(b.room.Outline.Outer...)
	if !ok {
		return drawing.DefaultScale
	}
	side := max(box.Width(), box.Height(), leastSpace)
	return drawing.Scale{Ratio: min(side*1000/sceneSize, coarsest)}
}

func (b *bench) model(pic *drawing.Picture, cards []card) string {
	m := model{Loads: []modelLoad{}, Lamps: []modelLamp{}, Devices: []modelDevice{}}
	for i := range b.design.Loads {
		l := &b.design.Loads[i]
		m.Loads = append(m.Loads, modelLoad{l.ID, l.Tag, l.Name, l.Kind == domain.Receptacle, l.Kind == domain.Lighting && l.Dimming == equipment.Switched})
	}
	if pic != nil {
		for i := range b.room.Fixtures {
			f := &b.room.Fixtures[i]
			at := pic.ToPaper(f.At)
			m.Lamps = append(m.Lamps, modelLamp{f.Load, "fixture-" + string(b.room.ID) + "-" + string(f.ID), at.X, at.Y})
		}
		for _, c := range cards {
			if b.design.Device(c.Device).At != nil {
				m.Devices = append(m.Devices, modelDevice{c.Device, "device-" + string(b.room.ID) + "-" + string(c.Device), c.Tag, c.What})
			}
		}
	}
	raw, err := json.Marshal(m)
	if err != nil {
		return "{}" // a coordinate that is no number: the store refuses those
	}
	return string(raw)
}

// stamp names what of the design the page's buttons and rows were made of.
// Scenarios are shown anew by every answer.
func (b *bench) stamp() string {
	d := *b.design
	d.Scenarios = nil
	h := fnv.New64a()
	_ = json.NewEncoder(h).Encode(&d) // a hash takes every byte
	return fmt.Sprintf("%016x", h.Sum64())
}
