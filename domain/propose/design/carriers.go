package design

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/propose"
	"scopewright/domain/units"
)

// carriers proposes controllers for the loads that are on none: as few moves to
// outputs that are there, then as few new controllers, as propose.OutputProblem
// finds.
func (d *draft) carriers() {
	open := d.uncarried()
	if len(open) == 0 {
		return
	}
	d.group(ofPower, "Controllers", "Each load needs an output of its own that offers its dimming method, its line voltage and its current, and that sinks what its drivers send.", []topic{ofLoads}, func() {
		if !d.inWallBox(open) {
			d.onOutputs(open)
		}
	})
}

// uncarried gives the loads that want a controller. Egress lighting without one
// burns all the time, which may be meant.
func (d *draft) uncarried() []*domain.Load {
	var out []*domain.Load
	for i := range d.r.Design.Loads {
		if l := &d.r.Design.Loads[i]; l.Controller == "" && !l.Egress {
			out = append(out, l)
		}
	}
	return out
}

// carries tells that an output of a type takes a load.
func (d *draft) carries(t *equipment.Type, l *domain.Load) bool {
	if (t.Kind == equipment.Plug) != (l.Kind == domain.Receptacle) || !t.CanDim(l.Dimming) || !t.TakesVolts(l.Voltage(d.p)) {
		return false
	}
	if l.Kind == domain.Receptacle {
		return t.OutputAmps == 0 || units.AtMost(float64(l.Rating), float64(t.OutputAmps))
	}
	_, amps, _ := l.Power(d.p)
	if rating := d.rating(t); rating > 0 && !units.AtMost(float64(amps), rating) {
		return false
	}
	lum := d.p.Luminaire(l.Luminaire)
	if lum == nil || l.Dimming != equipment.Analog {
		return true
	}
	each, _ := lum.ControlCurrent()
	return units.AtMost(float64(each)*float64(l.Count*lum.DriverCount()), d.sink(t))
}

// rating gives the continuous current of an output in A, 0 where not stated.
func (d *draft) rating(t *equipment.Type) float64 {
	return float64(t.Rating(units.Amps(d.limit(domain.WallBoxFuse)))) * d.limit(domain.OutputShare) / 100
}

// sink gives the 0-10 V current that an output takes, mA.
func (d *draft) sink(t *equipment.Type) float64 {
	return float64(t.SinkOr(units.Milliamps(d.limit(domain.SinkCurrent))))
}

// mostOnOutput gives how many luminaires of a type an output of some controller
// carries at most; 0 where no controller carries one.
func (d *draft) mostOnOutput(lum *domain.Luminaire) int {
	most := 0
	for _, t := range d.ofKind(equipment.Controller, func(t *equipment.Type) bool { return t.CanDim(method(lum)) && t.TakesVolts(lum.Volts) }) {
		n := mostSpots
		if rating := d.rating(t); rating > 0 {
			n = min(n, int(rating*float64(lum.Volts)*lum.PF()/float64(lum.Watts)+units.Tolerance))
		}
		if each, _ := lum.ControlCurrent(); method(lum) == equipment.Analog {
			n = min(n, int(d.sink(t)/(float64(each)*float64(lum.DriverCount()))+units.Tolerance))
		}
		most = max(most, n)
	}
	return most
}

// smallRoom is up to which floor a room is switched from the box at its door
// alone (common practice, no published source).
const smallRoom units.SquareMetres = 25

// inWallBox puts the one small load of a room with one door on a controller in
// the wall box at the door, which is its station too.
func (d *draft) inWallBox(open []*domain.Load) bool {
	if !d.use.wallBox || d.r.Area > smallRoom || len(open) != 1 || len(d.r.Design.Loads) != 1 || len(d.lay.doors) > 1 || d.stationed() {
		return false
	}
	l := open[0]
	fits := d.ofKind(equipment.WallBox, func(t *equipment.Type) bool { return d.carries(t, l) })
	if len(fits) == 0 {
		return false
	}
	// A dimmer for a load that is only switched would be bought for nothing.
	t := slices.MinFunc(fits, func(a, b *equipment.Type) int { return len(a.Dims) - len(b.Dims) })
	id := d.device(t, "latch side of the door", "height_m", d.stationHeight())
	if len(d.lay.doors) > 0 {
		d.stand(id, d.lay.beside(d.lay.doors[0]), 0)
	}
	d.put(l, id, 1)
	d.adds("%s (%s) carries %s", d.tag(id), t.Name, l.Tag)
	d.button(id, 1, l.ID, "On", "100")
	d.button(id, 2, l.ID, "Off", "0")
	return true
}

// button labels a button of a wall-box controller that has it, and says what it
// does to its own load.
func (d *draft) button(id domain.ID, n int, load domain.ID, label, cell string) {
	if t := d.typeOf(d.r.Design.Device(id)); t == nil || n > t.Buttons {
		return
	}
	d.set("devices/"+string(id)+"/buttons", strconv.Itoa(n), label)
	d.set("links", string(domain.LinkID(id, n, domain.Press, load)), cell)
}

func (d *draft) put(l *domain.Load, controller domain.ID, output int) {
	d.set("loads/"+string(l.ID), "controller", string(controller), "output", strconv.Itoa(output))
}

// onOutputs puts loads on outputs that are there and on those of new
// controllers, which hang amid the luminaires that they carry.
func (d *draft) onOutputs(open []*domain.Load) {
	hung := func(l *domain.Load) bool {
		return slices.ContainsFunc(d.r.Fixtures, func(f domain.Fixture) bool { return f.Load == l.ID })
	}
	spread := propose.OutputProblem{Project: d.p, Design: &d.r.Design, Whole: hung,
		Leave: func(l *domain.Load) bool { return l.Egress && l.Controller == "" }}.Solve()
	if len(spread.Short) > 0 {
		d.err = d.nothingCarries(spread.Short[0])
		return
	}
	was := len(d.r.Design.Devices)
	d.do(spread.Edits(&d.r.Design, func(what string) domain.ID { return d.fresh("%s", what) })...)
	if d.err != nil {
		return
	}
	for i := was; i < len(d.r.Design.Devices); i++ {
		d.settle(d.r.Design.Devices[i].ID)
	}
	for i := range d.r.Design.Devices {
		d.tell(&d.r.Design.Devices[i], open)
	}
	for _, l := range open {
		d.pair(l.ID)
	}
}

// settle says where a new controller hangs.
func (d *draft) settle(id domain.ID) {
	place := d.above()
	if d.lay.drawn {
		place = "above the ceiling, amid its luminaires"
	}
	d.set("devices/"+string(id), "place", place)
	d.stand(id, d.amid(d.carriedBy(id)), 0)
}

func (d *draft) carriedBy(controller domain.ID) []domain.ID {
	var out []domain.ID
	for i := range d.r.Design.Loads {
		if l := &d.r.Design.Loads[i]; l.Controller == controller {
			out = append(out, l.ID)
		}
	}
	return out
}

// tell names the loads that a controller carries now and did not before.
func (d *draft) tell(dev *domain.Device, open []*domain.Load) {
	var tags []string
	for _, id := range d.carriedBy(dev.ID) {
		l := d.r.Design.Load(id)
		if slices.ContainsFunc(open, func(o *domain.Load) bool { return o.ID == id }) {
			tags = append(tags, l.Tag)
		}
	}
	if t := d.typeOf(dev); t != nil && len(tags) > 0 {
		d.adds("%s (%s) carries %s", dev.Tag, t.Name, domain.JoinWords(tags))
	}
}

func (d *draft) nothingCarries(id domain.ID) error {
	l := d.r.Design.Load(id)
	w, a, _ := l.Power(d.p)
	return fmt.Errorf("no type of the equipment book carries %s (%s, %s V, %s W, %s A): add one, or make the load smaller", l.Tag, cmp.Or(string(l.Dimming), "switched"),
		units.Trim(float64(l.Voltage(d.p)), 0), units.Trim(float64(w), 0), units.Trim(float64(a), 2))
}

// above says where what hangs above a ceiling is found.
func (d *draft) above() string {
	if len(d.lay.doors) > 0 && !d.lay.guessed.door {
		return "above the ceiling, inside the door"
	}
	return "above the ceiling, near the door"
}
