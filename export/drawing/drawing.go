// Package drawing is the drawing board of the house: it draws a storey or a
// room once, for screen and paper alike. What it gives is a Picture in
// millimeters on paper at a standard scale; SVG writes it for browsers, and
// Each hands plain shapes to whoever prints it otherwise.
//
// The plan's meters become the picture's millimeters by one mapping, see
// Picture.ToPaper: x to the right, y down, from Picture.Origin at its top left
// corner. Symbols are letters in plain shapes, explained by the legend; they
// and all text keep their size on paper at every scale.
package drawing

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/geom"
)

// Point is a place: on paper in millimeters with y down, on the plan in meters
// with y up.
type Point = geom.Point

// Layer is a part of the drawing that can be left out.
type Layer string

// The layers, in the order in which they are drawn.
const (
	LayerUnderlay   Layer = "underlay"
	LayerRooms      Layer = "rooms"
	LayerSeats      Layer = "seats"
	LayerWalls      Layer = "walls" // with what stands in them, and rooflights
	LayerLuminaires Layer = "luminaires"
	LayerDevices    Layer = "devices"
	LayerNames      Layer = "names" // room numbers, names and areas
	LayerFindings   Layer = "findings"
	layerFurniture  Layer = "furniture" // scale bar, north arrow, legend
)

// Layers lists the layers in the order in which they are drawn.
func Layers() []Layer {
	return []Layer{LayerUnderlay, LayerRooms, LayerSeats, LayerWalls, LayerLuminaires, LayerDevices, LayerNames, LayerFindings}
}

// layerNames are the words of forms and sheets.
var layerNames = map[Layer]string{LayerUnderlay: "picture beneath", LayerRooms: "rooms", LayerSeats: "seats", LayerWalls: "walls, doors, windows and rooflights",
	LayerLuminaires: "luminaires", LayerDevices: "devices", LayerNames: "room names", LayerFindings: "findings"}

// Name is the layer in words.
func (l Layer) Name() string { return layerNames[l] }

// Without gives all layers but some.
func Without(out ...Layer) map[Layer]bool {
	shown := map[Layer]bool{}
	for _, l := range Layers() {
		shown[l] = !slices.Contains(out, l)
	}
	return shown
}

// Severity of a finding that the plan marks.
type Severity string

// The severities; their words are those of the rules.
const (
	Error   Severity = "error"
	Warning Severity = "warning"
	Info    Severity = "info"
)

// Finding is a place on the plan that a rule points at.
type Finding struct {
	ID       string // unique on the drawing
	At       Point  // meters
	Severity Severity
	Text     string
}

// Options say what is drawn and how.
type Options struct {
	Layers    map[Layer]bool // nil: all
	Scale     Scale          // the zero Scale: 1:100
	Findings  []Finding
	Highlight map[string]bool // element IDs to stand out, "device-..." and so on
	// Spread moves symbols aside that would cover each other, with a line to their
	// place: for paper, where nobody moves them.
	Spread bool
	// Beneath holds the pictures beneath storeys, by their SHA-256, for a drawing that
	// leaves the house: what is in it shows. A screen fetches them by their address.
	Beneath map[string]Stored
	// Daylight is drawn over the room, nil: none.
	Daylight *Daylight
	// Marks are places with numbers, for a table that tells of them.
	Marks []Mark
	// Furniture adds scale bar, north arrow and legend below the drawing.
	Furniture bool
}

func (o Options) shows(l Layer) bool { return o.Layers == nil || o.Layers[l] }

// Storey draws a storey: all its rooms with what they hold, the walls and the
// openings. Rooms without an outline and things without a place are left out.
// The plan may be nil.
func Storey(p *domain.Project, plan *domain.Plan, rooms []*domain.Resolved, opt Options) *Picture {
	v := StoreyView(p, plan, rooms, opt)
	return v.at(opt.Scale, 0)
}

// Room draws one room with what it holds, and faintly what surrounds it:
// walls, and those of the rooms given that lie near. The room itself may be
// among them.
func Room(p *domain.Project, plan *domain.Plan, room *domain.Resolved, rooms []*domain.Resolved, opt Options) *Picture {
	v := RoomView(p, plan, room, rooms, opt)
	return v.at(opt.Scale, 0)
}
