package energy

import (
	"fmt"
	"math"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// ControlOf tells by which control of the standard a load goes, from what the
// room's intents really do: a sensor without an intent that turns the load off
// counts as none, and an intent that holds under a condition only does too.
func ControlOf(p *domain.Project, d *domain.Design, l *domain.Load) Control {
	occupancy, vacancy := sensorsOn(p, d, l)
	if in := intentOn(d, l, domain.ByPresence); in != nil && (occupancy || vacancy) {
		lights := occupancy && in.Enters && entryLevel(d, in, l) > 50
		switch dims := in.OffLevel > 0; {
		case lights && dims:
			return AutoOnDimmed
		case lights:
			return AutoBoth
		case dims:
			return ManualOnDimmed
		}
		return ManualOnAutoOff
	}
	if in := intentOn(d, l, domain.BySchedule); in != nil && in.OffAt != "" && in.Do == domain.GoTo {
		return ManualSweep
	}
	return ManualBoth
}

// sensorsOn tells of which kinds the presence sensors are that act on a load.
func sensorsOn(p *domain.Project, d *domain.Design, l *domain.Load) (occupancy, vacancy bool) {
	eachActing(p, d, l, func(dev *domain.Device, t *equipment.Type) {
		if t.Kind.Traits().Presence {
			occupancy, vacancy = occupancy || dev.Presence == domain.Occupancy, vacancy || dev.Presence == domain.Vacancy
		}
	})
	return occupancy, vacancy
}

// eachActing visits the devices whose reports act on a load.
func eachActing(p *domain.Project, d *domain.Design, l *domain.Load, visit func(*domain.Device, *equipment.Type)) {
	for i := range d.Links {
		k := &d.Links[i]
		if k.Load != l.ID || k.Do.Verb != domain.Acts {
			continue
		}
		if dev := d.Device(k.Device); dev != nil {
			if t := p.Book.Find(dev.Type); t != nil {
				visit(dev, t)
			}
		}
	}
}

func intentOn(d *domain.Design, l *domain.Load, kind domain.IntentKind) *domain.Intent {
	for i := range d.Intents {
		if in := &d.Intents[i]; in.Kind == kind && in.ActsOn(l) && !in.Conditional() {
			return in
		}
	}
	return nil
}

// entryLevel is the level that people entering bring a load to, in percent.
func entryLevel(d *domain.Design, in *domain.Intent, l *domain.Load) units.Level {
	if s := d.SceneNumbered(in.Scene); in.Scene > 0 && s != nil {
		if at := s.LevelOf(l.ID); at != nil && !at.Leave {
			return at.Level
		}
		return 0
	}
	return in.Level
}

// Dimmed tells that a daylight sensor and an intent dim the load by daylight.
func Dimmed(p *domain.Project, d *domain.Design, l *domain.Load) bool {
	if intentOn(d, l, domain.ByDaylight) == nil {
		return false
	}
	dimmed := false
	eachActing(p, d, l, func(_ *domain.Device, t *equipment.Type) { dimmed = dimmed || t.Kind == equipment.Daylight })
	return dimmed
}

// Setting is what a room's result stands on beside its design.
type Setting struct {
	Profile  Profile
	Factors  Factors
	Daylit   func(*domain.Load) Daylit // daylight of a load; nil: none
	Held     float64                   // maintenance factor of constant illuminance, of loads that a sensor dims; 0: none
	Standby  units.Watts               // of one driver while it is off
	Each     units.Watts               // of one mains-powered control device, always
	Charge   units.Watts               // of one luminaire of an egress load
	Charged  float64                   // hours of charging, a year
	Latitude *float64                  // degrees north; nil: not stated
}

// SettingOf takes the profile of the room's use, the daylight of its plan, and what
// the limits say.
func SettingOf(p *domain.Project, r *domain.Resolved, lit *Lit) Setting {
	watts := func(id domain.LimitID) units.Watts { return units.Watts(p.Limits.Value(id)) }
	return Setting{
		Profile: ProfileOf(p, r.Use), Factors: FactorsOf(p), Daylit: lit.Of, Held: p.Limits.Value(domain.ConstantMF),
		Standby: watts(domain.StandbyDriver), Each: watts(domain.StandbyDevice),
		Charge: watts(domain.ChargePower), Charged: p.Limits.Value(domain.ChargeHours), Latitude: p.Latitude,
	}
}

// Line is one load's part in a room's result, with the factors that gave it.
type Line struct {
	Load    *domain.Load
	Watts   units.Watts
	Control Control
	Dims    bool
	Daylit
	Standby units.Watts // of its drivers
	Held    float64     // F_C
	People  float64     // F_O
	Sky     float64     // F_D
	KWh     float64     // of the lamps, a year
	ByHand  float64     // the same, operated by hand
}

// Result is a room's year.
type Result struct {
	Area    units.SquareMetres
	Lines   []Line
	Unknown []*domain.Load // whose watts are not stated: not in the sums
	Use     Use            // with its controls
	ByHand  Use            // the same room, switched by hand
	Drivers units.Watts    // standby of all drivers with known lamps
	Devices units.Watts    // and of the control devices
	Notes   []string
}

// Connected gives the watts of all lamps that are known.
func (r *Result) Connected() (sum units.Watts) {
	for i := range r.Lines {
		sum += r.Lines[i].Watts
	}
	return sum
}

// Saved is the share of the energy by hand that the controls save; negative
// where their standby is more than they save.
func (r *Result) Saved() float64 {
	if r.ByHand.Total() == 0 {
		return 0
	}
	return 1 - r.Use.Total()/r.ByHand.Total()
}

// AreaOf gives the floor area to reckon with: as stated, else as drawn.
func AreaOf(r *domain.Resolved) units.SquareMetres {
	if r.Area > 0 {
		return r.Area
	}
	return r.Measured()
}

// Room reckons LENI of a room load by load, with its controls and as if it were
// switched by hand at the door. Latitudes for which the table of daylight does
// not hold give no daylight; where one sensor or switch serves more than
// MostServed, the standard gives no credit for people who are away, and this
// still does: the notes say so.
func Room(p *domain.Project, r *domain.Resolved, s Setting) (Result, error) {
	out := Result{Area: AreaOf(r), Devices: s.Each * units.Watts(powered(p, &r.Design))}
	if out.Area <= 0 {
		return Result{}, fmt.Errorf("room %s states no area and has no outline", r.Number)
	}
	z := Zone{Area: out.Area, Day: s.Profile.Day, Night: s.Profile.Night, Held: 1, People: 1, Sky: 1, Charged: s.Charged}
	var lamps, byHand float64
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		if l.Kind != domain.Lighting {
			continue
		}
		line, known := out.line(p, r, l, s, z)
		if !known {
			out.Unknown = append(out.Unknown, l)
			continue
		}
		lamps, byHand = lamps+line.KWh, byHand+line.ByHand
		out.Drivers += line.Standby
		if l.Egress {
			z.Charge += s.Charge * units.Watts(max(1, l.Count))
		}
		out.Lines = append(out.Lines, line)
	}
	out.noteServed(p, r, out.Area)
	var err error
	if out.ByHand, err = z.Use(); err != nil {
		return Result{}, fmt.Errorf("room %s: %w", r.Number, err)
	}
	z.Standby = out.Drivers + out.Devices
	if out.Use, err = z.Use(); err != nil {
		return Result{}, fmt.Errorf("room %s: %w", r.Number, err)
	}
	out.Use.Lamps, out.ByHand.Lamps = lamps, byHand
	out.Use.LENI, out.ByHand.LENI = out.Use.Total()/float64(out.Area), out.ByHand.Total()/float64(out.Area)
	return out, nil
}

// line reckons a load's part by a zone of the room's hours.
func (out *Result) line(p *domain.Project, r *domain.Resolved, l *domain.Load, s Setting, z Zone) (Line, bool) {
	watts, _, _ := l.Power(p)
	if watts <= 0 {
		return Line{}, false
	}
	line := Line{Load: l, Watts: watts, Control: ControlOf(p, &r.Design, l), Dims: Dimmed(p, &r.Design, l), Daylit: Daylit{Class: NoDaylight}, Standby: s.Standby * units.Watts(drivers(p, l)), Held: 1, Sky: 1}
	line.People = OccupancyFactor(s.Factors.Occupancy(line.Control), s.Profile.Absence)
	hand := z
	z.Power, hand.Power, hand.People = watts, watts, OccupancyFactor(s.Factors.Occupancy(ManualBoth), s.Profile.Absence)
	if s.Held > 0 && line.Dims {
		line.Held = HeldFactor(s.Held, 1)
	}
	if s.Daylit != nil {
		line.Daylit = s.Daylit(l)
	}
	if supplied, err := s.supplied(line.Class); err != nil {
		out.note(err.Error() + ": no daylight is counted")
	} else {
		out.noteRow(s.Profile.Lx, supplied, p.Units)
		line.Sky = DaylightFactor(supplied, s.Factors.Taken(line.Class, line.Dims))
		hand.Sky = DaylightFactor(supplied, s.Factors.Taken(line.Class, false))
	}
	z.Held, z.People, z.Sky = line.Held, line.People, line.Sky
	line.KWh, line.ByHand = z.lamps(), hand.lamps()
	return line, !math.IsNaN(line.People)
}

// supplied is F_D,S for a class at the setting's place.
func (s *Setting) supplied(class Penetration) (float64, error) {
	switch {
	case class == NoDaylight || class == "":
		return 0, nil
	case s.Latitude == nil:
		return 0, fmt.Errorf("the project states no latitude")
	}
	return s.Factors.Supply(*s.Latitude, units.Lux(s.Profile.Lx), class)
}

// noteRow says which row of F_D,S was taken where the table has none for the task.
func (out *Result) noteRow(lx, supplied float64, sys units.System) {
	row := nearestRow(units.Lux(lx))
	if supplied == 0 || lx == float64(row) {
		return
	}
	task := units.Trim(lx, 0) + " lx"
	if sys == units.US {
		task = units.Light(units.Lux(lx), sys) + " (" + task + ")"
	}
	out.note(fmt.Sprintf("F_D,S has rows for 300, 500 and 750 lx: for a task of %s the nearest, that of %d lx, was taken", task, row))
}

// noteServed tells where a sensor has more floor than the standard gives credit
// for.
func (out *Result) noteServed(p *domain.Project, r *domain.Resolved, area units.SquareMetres) {
	credited := false
	for i := range out.Lines {
		credited = credited || out.Lines[i].People < 1
	}
	if !credited {
		return
	}
	sensors := 0
	for i := range r.Design.Devices {
		if t := p.Book.Find(r.Design.Devices[i].Type); t != nil && t.Kind.Traits().Presence {
			sensors++
		}
	}
	if each := area / units.SquareMetres(max(1, sensors)); each > MostServed && r.Use != "conference" {
		out.note(fmt.Sprintf("one sensor or switch serves more than %s, for which EN 15193:2007 takes F_O = 1 (from memory); that is not done here", units.Area(MostServed, p.Units)))
	}
}

func (out *Result) note(text string) {
	for _, n := range out.Notes {
		if n == text {
			return
		}
	}
	out.Notes = append(out.Notes, text)
}

func drivers(p *domain.Project, l *domain.Load) int {
	if lum := p.Luminaire(l.Luminaire); lum != nil {
		return l.Count * lum.DriverCount()
	}
	return 0
}

// powered counts the mains-powered control devices of a design.
func powered(p *domain.Project, d *domain.Design) (n int) {
	for i := range d.Devices {
		if t := p.Book.Find(d.Devices[i].Type); t != nil && t.Supply == equipment.Mains {
			n++
		}
	}
	return n
}
