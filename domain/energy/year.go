package energy

import (
	"slices"

	"scopewright/domain"
)

// Model reckons rooms of one project: what all of them share is made once.
type Model struct {
	p      *domain.Project
	door   *domain.Project // with a switch at the door in its book
	skies  *Skies
	dark   string // why there are no skies
	weeks  map[Profile][]Week
	leftOn float64
}

// weekSeed makes the weeks the same on every print.
const weekSeed = 1

// NewModel makes a project's rooms ready to be reckoned.
func NewModel(p *domain.Project) *Model {
	m := &Model{p: p, door: withDoor(p), weeks: map[Profile][]Week{}, leftOn: p.Limits.Value(domain.LeftOn) / 100}
	var err error
	if m.skies, err = SkiesOf(p); err != nil {
		m.dark = err.Error()
	}
	return m
}

// Year is what a room's lighting uses in a year: by the standard's indicator, and,
// where it was played, by typical weeks run through its own intents.
type Year struct {
	Room    *domain.Resolved
	Setting Setting
	LENI    Result
	Problem string // why there is no figure
	Played  *Played

	lit *Lit
}

// Played is a year of typical weeks.
type Played struct {
	Loads    []Burned // lighting loads whose watts are known, as Result.Lines
	In       float64  // hours in which people are in
	Lamps    float64  // kWh
	Standby  float64  // kWh: devices always, drivers while their lamps are off, charging
	ByHand   float64  // kWh of the same weeks and people in the room switched by hand, lamps and charging
	Daylight string   // why no daylight was played; empty: it was, or there is none to play
	Hours    [24]Hour // of an average day of use; only where asked for
}

// Total is lamps and standby, kWh a year.
func (p *Played) Total() float64 { return p.Lamps + p.Standby }

// Lacks says why no daylight is played; empty: the project states its place.
func (m *Model) Lacks() string { return m.dark }

// Room reckons a room by the standard's indicator.
func (m *Model) Room(r *domain.Resolved) Year {
	y := Year{Room: r, lit: LitOf(m.p, r)}
	y.Setting = SettingOf(m.p, r, y.lit)
	var err error
	if y.LENI, err = Room(m.p, r, y.Setting); err != nil {
		y.Problem = err.Error()
	}
	return y
}

// Play plays the year of a room that Room has reckoned, with its controls and switched
// by hand; by hour where asked.
func (m *Model) Play(y *Year, byHour bool) error {
	if y.Problem != "" {
		return nil
	}
	weeks, dark := m.weeksOf(y)
	r := newPlayer(m.p, &y.Room.Design)
	if byHour {
		r.hours = new([24]Hour)
		r.days, _, _ = y.Setting.Profile.opening()
	}
	if err := r.play(weeks); err != nil {
		return err
	}
	y.Played = y.played(r.year(len(weeks)), weeks)
	y.Played.Daylight = dark
	var err error
	if y.Played.ByHand, err = m.playHand(y); err != nil {
		return err
	}
	if byHour {
		days := float64(len(weeks) * r.days)
		for i, h := range r.hours {
			y.Played.Hours[i] = Hour{h.In / days, h.Lamps / days, h.Bright / days}
		}
	}
	return nil
}

// weeksOf gives the weeks of a room's profile with its own daylight, and why there
// is none where a load would follow it.
func (m *Model) weeksOf(y *Year) (weeks []Week, dark string) {
	weeks, drawn := m.weeks[y.Setting.Profile]
	if !drawn {
		weeks = TypicalWeeks(y.Setting.Profile, m.leftOn, Weeks, weekSeed)
		m.weeks[y.Setting.Profile] = weeks
	}
	switch {
	case !slices.ContainsFunc(y.LENI.Lines, func(l Line) bool { return l.Dims }):
		return weeks, ""
	case m.skies == nil:
		return weeks, m.dark
	case !y.lit.Drawn():
		return weeks, "the plan shows no windows of the room"
	}
	readings := m.skies.Readings(m.p, y.Room, y.lit)
	if !slices.ContainsFunc(readings, func(w []Reading) bool { return len(w) > 0 }) {
		return weeks, "the loads that daylight dims have no luminaires on the plan"
	}
	weeks = slices.Clone(weeks)
	for i := range weeks {
		weeks[i].Daylight = readings[i]
	}
	return weeks, ""
}

// played sums up the loads of the result's lines.
func (y *Year) played(all []Burned, weeks []Week) *Played {
	out := &Played{}
	for _, w := range weeks {
		for _, s := range w.Stays {
			out.In += s.To - s.From
		}
	}
	out.In *= weeksPerYear / float64(len(weeks))
	charge := y.LENI.ByHand.Standby
	out.Standby = StandbyKWh(y.LENI.Devices, 0) + charge
	for i := range y.LENI.Lines {
		l := &y.LENI.Lines[i]
		k := slices.IndexFunc(all, func(b Burned) bool { return b.Load == l.Load.ID })
		b := all[k]
		b.KWh = b.Full * float64(l.Watts) / 1000
		out.Loads = append(out.Loads, b)
		out.Lamps += b.KWh
		out.Standby += StandbyKWh(l.Standby, b.Hours)
	}
	return out
}
