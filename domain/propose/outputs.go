package propose

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// OutputProblem asks how a room's loads are spread over outputs so that none is
// over its current or its control current and each load hangs somewhere.
type OutputProblem struct {
	Project *domain.Project
	Design  *domain.Design
	Leave   func(*domain.Load) bool // loads that need no controller; nil: none
	Whole   func(*domain.Load) bool // loads that must not be divided; nil: none
	// Nodes bounds the search, so that it ends alike on every machine; 0: OutputNodes.
	Nodes int
}

// OutputNodes is how many partial answers a search for the fewest moves looks
// at: some milliseconds' work.
const OutputNodes = 20_000

// Spread is the answer: which loads are divided, which controllers are added and
// where loads then hang.
type Spread struct {
	Divided []Divided
	Added   []string // types of the book
	Moves   []Move
	Short   []domain.ID // loads that nothing of the book carries

	// No answer with the outputs that are there moves fewer than Bound; none adds
	// fewer controllers for what is over than AddedBound. Proved says that this one
	// is the fewest.
	Bound, AddedBound   int
	Proved, AddedProved bool
}

// Divided is a load that no output carries whole: its luminaires in parts, the
// first of which it keeps.
type Divided struct {
	Load  domain.ID
	Parts []int
}

// Move puts a load, or a part of a divided one, on an output.
type Move struct {
	Load       domain.ID
	Part       int       // 0: the load itself
	Controller domain.ID // empty: the added one
	Added      int       // its place in Spread.Added
	Output     int
}

// carried is a load, or a part of one, that hangs on an output.
type carried struct {
	load      *domain.Load
	part      int
	amps, ma  float64
	volts     units.Volts
	emergency bool
	at        int // its outlet; -1: none
	left      bool
}

// outlet is one output of a controller that is there.
type outlet struct {
	device   *domain.Device
	typ      *equipment.Type
	owner    int // the controller's place among those of the room
	output   int
	amps, ma float64 // that it carries
}

type outputModel struct {
	OutputProblem
	share   float64         // of a rating for continuous load
	sink    units.Milliamps // where a type states none
	items   []carried
	outlets []outlet
	out     Spread
}

// Solve divides what no output carries whole, moves as few loads as it can
// between the outputs that are there, and only where that is not enough adds
// controllers, as few as it can.
func (o OutputProblem) Solve() Spread {
	m := &outputModel{OutputProblem: o, share: o.Project.Limits.Value(domain.OutputShare) / 100, sink: units.Milliamps(o.Project.Limits.Value(domain.SinkCurrent))}
	m.readOutlets()
	m.readLoads()
	m.divide()
	if m.rebalance() {
		return m.out
	}
	m.extend()
	return m.out
}

func (m *outputModel) readOutlets() {
	owner := 0
	for i := range m.Design.Devices {
		dev := &m.Design.Devices[i]
		t := m.Project.Book.Find(dev.Type)
		if t == nil || !t.Kind.Traits().Loads {
			continue
		}
		for n := 1; n <= t.Outputs; n++ {
			amps, ma := m.carries(t)
			m.outlets = append(m.outlets, outlet{dev, t, owner, n, amps, ma})
		}
		owner++
	}
}

// carries gives the amperes and the control current that an output of a type
// carries; what it does not state bounds nothing.
func (m *outputModel) carries(t *equipment.Type) (amps, ma float64) {
	amps, ma = float64(t.OutputAmps)*m.share, float64(t.SinkOr(m.sink))
	if t.OutputAmps == 0 {
		amps = unbounded
	}
	return amps, ma
}

const unbounded = 1e12

// mostParts is how many parts a load is divided into: a room has no more outputs
// for one.
const mostParts = 64

func (m *outputModel) readLoads() {
	for i := range m.Design.Loads {
		l := &m.Design.Loads[i]
		x := carried{load: l, at: -1, volts: l.Voltage(m.Project)}
		if k := m.Project.Circuit(l.Circuit); k != nil {
			x.emergency = k.Emergency
		}
		if l.Controller != "" {
			x.at = slices.IndexFunc(m.outlets, func(o outlet) bool { return o.device.ID == l.Controller && o.output == l.Output })
			// One on an output that is not there is for the designer to mend, and
			// one on a wall box is worked by its own buttons.
			x.left = x.at < 0 || m.outlets[x.at].typ.Kind.Traits().OwnOnly
		} else {
			x.left = m.Leave != nil && m.Leave(l)
		}
		m.measure(&x, l.Count)
		m.items = append(m.items, x)
	}
}

// measure works out what so many luminaires of a load draw.
func (m *outputModel) measure(x *carried, count int) {
	part := *x.load
	part.Count = count
	_, a, _ := part.Power(m.Project)
	x.amps, x.ma = float64(a), 0
	if lum := m.Project.Luminaire(part.Luminaire); lum != nil && part.Dimming == equipment.Analog {
		each, _ := lum.ControlCurrent()
		x.ma = float64(count*lum.DriverCount()) * float64(each)
	}
}

// takes tells that an output of a type carries an item by itself.
func (m *outputModel) takes(t *equipment.Type, x *carried) bool {
	tr := t.Kind.Traits()
	plug := x.load.Kind == domain.Receptacle
	if !tr.Loads || tr.OwnOnly || (t.Kind == equipment.Plug) != plug || !t.CanDim(x.load.Dimming) || !t.TakesVolts(x.volts) {
		return false
	}
	if plug {
		return t.OutputAmps == 0 || units.AtMost(float64(x.load.Rating), float64(t.OutputAmps))
	}
	amps, ma := m.carries(t)
	return units.AtMost(x.amps, amps) && (x.ma == 0 || units.AtMost(x.ma, ma))
}

// divide cuts loads that neither an output of the room nor one of the book
// carries whole into parts of equal size, as few as will do.
func (m *outputModel) divide() {
	for i := range m.items {
		x := &m.items[i]
		if x.left || x.load.Kind != domain.Lighting || x.load.Luminaire == "" || m.anyTakes(x) || m.Whole != nil && m.Whole(x.load) {
			continue
		}
		count := x.load.Count
		for n := 2; n <= min(count, mostParts); n++ {
			first := *x
			if m.measure(&first, (count+n-1)/n); !m.anyTakes(&first) {
				continue
			}
			d := Divided{Load: x.load.ID}
			for part := range n {
				size := count / n
				if part < count%n {
					size++
				}
				piece := *x
				if piece.part = part; part > 0 {
					piece.at = -1
				}
				m.measure(&piece, size)
				if d.Parts = append(d.Parts, size); part == 0 {
					m.items[i] = piece
				} else {
					m.items = append(m.items, piece)
				}
			}
			m.out.Divided = append(m.out.Divided, d)
			break
		}
	}
}

func (m *outputModel) anyTakes(x *carried) bool {
	for i := range m.outlets {
		if m.takes(m.outlets[i].typ, x) {
			return true
		}
	}
	return slices.ContainsFunc(m.Project.Book, func(t equipment.Type) bool { return m.takes(&t, x) })
}

// alike tells that two items may share an output: they are dimmed alike and
// everything treats them alike, so that being one to the controller changes
// nothing.
func (m *outputModel) alike(a, b *carried) bool {
	if a.load == b.load {
		return true
	}
	if a.load.Dimming != b.load.Dimming || a.load.Kind != b.load.Kind {
		return false
	}
	for i := range m.Design.Scenes {
		s := &m.Design.Scenes[i]
		x, y := s.LevelOf(a.load.ID), s.LevelOf(b.load.ID)
		if (x == nil) != (y == nil) || x != nil && (x.Leave != y.Leave || x.Level != y.Level || x.Fade != y.Fade) {
			return false
		}
	}
	for i := range m.Design.Intents {
		if in := &m.Design.Intents[i]; in.ActsOn(a.load) != in.ActsOn(b.load) {
			return false
		}
	}
	return m.linkedAlike(a.load.ID, b.load.ID)
}

func (m *outputModel) linkedAlike(a, b domain.ID) bool {
	n := 0
	for i := range m.Design.Links {
		switch k := &m.Design.Links[i]; k.Load {
		case b:
			n--
		case a:
			n++
			twin := domain.LinkID(k.Device, k.Button, k.On, b)
			at := slices.IndexFunc(m.Design.Links, func(o domain.Link) bool { return o.ID == twin })
			if at < 0 || m.Design.Links[at].Do != k.Do {
				return false
			}
		}
	}
	return n == 0
}
