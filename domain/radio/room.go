package radio

import (
	"math"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// Room is the radio of one room as it stands on the plan: which of its devices
// hear which, through what. Ask Why for one link with all that it is made of,
// Coverage for a map of margins, Net for the mesh.
//
// The loss of a link is FreeSpace over the straight line in space, plus the
// walls, doors and panes that it goes through, plus the ceiling where one end
// hangs above it and the other does not. What furniture, people, ducts and
// reflections do is in the shadowing (Settings.Sigma): the numbers are
// predictions, to be measured on site.
type Room struct {
	Settings Settings
	Nodes    []Node // devices with a radio and a place, in the order of the design
	Unplaced []Node // devices with a radio that stand nowhere on the plan

	needed   float64
	resolved *domain.Resolved
	between  between
	loss     []float64 // by node and node, dB; NaN between two of which none relays
	margin   []float64 // the same: margins, dB
	heard    []heard   // by node
}

// heard is what a node hears of the routers.
type heard struct {
	routers int // with the margin that is needed
	best    int // node; -1: there is none
}

// Node is a device's radio at its place.
type Node struct {
	Device   *domain.Device
	Index    int // of the design's devices
	Kind     equipment.Kind
	Routes   bool
	Battery  bool // a child: it talks through a parent
	Children int  // that it takes as a router, by its type; 0: the limit
	Place
	Above   bool // over the room's ceiling
	Radio   Radio
	Assumed bool // the type states no radio
	Guessed bool // the device states no height
}

// Gateway tells that the node links the room to the building's network.
func (n *Node) Gateway() bool { return n.Kind == equipment.Gateway }

// NewRoom reckons the links of a room: each between two of which one relays. It
// is nil where no device with a radio stands on the plan. Walls are those of
// r.Plan, which hold all that lie between devices of the room.
func NewRoom(p *domain.Project, r *domain.Resolved) *Room {
	placed := 0
	for i := range r.Design.Devices {
		if r.Design.Devices[i].At != nil {
			placed++
		}
	}
	if placed == 0 {
		return nil
	}
	out := &Room{Settings: SettingsOf(p), Nodes: make([]Node, 0, placed), resolved: r}
	out.needed, _ = out.Settings.Needed()
	for i := range r.Design.Devices {
		if n, has := out.node(p, i); !has {
			continue
		} else if n.Device.At == nil {
			out.Unplaced = append(out.Unplaced, n)
		} else {
			out.Nodes = append(out.Nodes, n)
		}
	}
	if len(out.Nodes) == 0 {
		return nil
	}
	out.between = newBetween(r.Plan, out.Settings.Walls, out.Nodes)
	out.link()
	return out
}

// node gives the radio of the device at an index; has is false for a device that
// has none, being wired, and for one that the book does not know.
func (r *Room) node(p *domain.Project, index int) (n Node, has bool) {
	d := &r.resolved.Design.Devices[index]
	t := p.Book.Find(d.Type)
	if t == nil || t.Supply == equipment.Wired {
		return n, false
	}
	n = Node{Device: d, Index: index, Kind: t.Kind, Routes: t.Routes, Battery: t.Supply == equipment.Battery, Children: t.Children}
	n.Radio, n.Assumed = r.Settings.RadioOf(t)
	if d.At != nil {
		h, guessed := p.HeightOf(r.resolved.Room, d)
		ceiling, _ := p.CeilingOf(r.resolved.Room)
		n.Place, n.Guessed, n.Above = Place{*d.At, float64(h)}, guessed, h > ceiling
	}
	return n, true
}

// RadioOf gives the radio of a type, the assumed one where it states none.
func (s Settings) RadioOf(t *equipment.Type) (radio Radio, assumed bool) {
	if t.Sensitivity == 0 {
		return s.Radio, true
	}
	return Radio{t.TxPower, t.Gain, t.Sensitivity}, false
}

func (r *Room) link() {
	n := len(r.Nodes)
	both := make([]float64, 2*n*n)
	r.loss, r.margin, r.heard = both[:n*n], both[n*n:], make([]heard, n)
	for i := range n {
		r.loss[i*n+i], r.margin[i*n+i] = math.NaN(), math.NaN()
		r.heard[i].best = -1
		for j := range i {
			loss, margin := math.NaN(), math.NaN()
			if r.Nodes[i].Routes || r.Nodes[j].Routes {
				loss = r.lossBetween(i, j)
				margin = Margin(r.Nodes[i].Radio, r.Nodes[j].Radio, loss)
			}
			r.loss[i*n+j], r.loss[j*n+i] = loss, loss
			r.margin[i*n+j], r.margin[j*n+i] = margin, margin
		}
	}
	for i := range n {
		r.listen(i)
	}
}

// listen counts the routers that a node hears.
func (r *Room) listen(i int) {
	h := &r.heard[i]
	for j := range r.Nodes {
		if j == i || !r.Nodes[j].Routes {
			continue
		}
		if r.Hears(i, j) {
			h.routers++
		}
		if h.best < 0 || r.Margin(i, j) > r.Margin(i, h.best) {
			h.best = j
		}
	}
}

func (r *Room) lossBetween(i, j int) float64 {
	a, b := &r.Nodes[i], &r.Nodes[j]
	dx, dy, dz := a.At.X-b.At.X, a.At.Y-b.At.Y, a.Z-b.Z
	// FreeSpace by the squared distance, which takes neither root nor power.
	loss := firstMetre + 10/math.Ln10*math.Log(math.Max(nearest, dx*dx+dy*dy+dz*dz)) + r.between.loss(i, j)
	if a.Above != b.Above {
		loss += r.Settings.Ceiling
	}
	return loss
}

// firstMetre is the loss of the first meter in the open, dB.
var firstMetre = FreeSpace(nearest, MeshMHz)

// Loss gives the loss between two nodes, dB; NaN between two of which none relays.
func (r *Room) Loss(a, b int) float64 { return r.loss[a*len(r.Nodes)+b] }

// Margin gives the margin between two nodes in the worse direction, dB; NaN
// between two of which none relays.
func (r *Room) Margin(a, b int) float64 { return r.margin[a*len(r.Nodes)+b] }

// Heard gives how many routers a node hears, and the router with the best link to
// it, heard or not; -1 where there is none.
func (r *Room) Heard(node int) (routers, best int) { return r.heard[node].routers, r.heard[node].best }

// Hears tells that the link between two nodes has the margin that is needed.
func (r *Room) Hears(a, b int) bool { return units.AtMost(r.needed, r.Margin(a, b)) }

// Needed gives the margin that a link must have, dB.
func (r *Room) Needed() float64 { return r.needed }

// Find gives the node of a device, -1 where it has none.
func (r *Room) Find(id domain.ID) int {
	for i := range r.Nodes {
		if r.Nodes[i].Device.ID == id {
			return i
		}
	}
	return -1
}

// Whole tells that each router of the room stands on the plan: only then can be
// said what a device does not reach.
func (r *Room) Whole() bool {
	for i := range r.Unplaced {
		if r.Unplaced[i].Routes {
			return false
		}
	}
	return true
}
