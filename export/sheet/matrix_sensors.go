package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// sensed gives the intent that a sensor's link leads to for a load, nil where none does.
func (r *room) sensed(l *domain.Load, kinds ...domain.IntentKind) *domain.Intent {
	for _, k := range kinds {
		for i := range r.Design.Intents {
			if in := &r.Design.Intents[i]; in.Kind == k && in.ActsOn(l) {
				return in
			}
		}
	}
	return nil
}

// presenceIntent is the intent by which people move a load.
func (r *room) presenceIntent(l *domain.Load) *domain.Intent {
	if l.Kind == domain.Receptacle {
		return r.sensed(l, domain.ForReceptacles)
	}
	return r.sensed(l, domain.ByPresence)
}

// delayOf is the delay that holds for a sensor and a load: the sensor's own, else the
// intent's.
func delayOf(d *domain.Device, in *domain.Intent) units.Seconds {
	if d.Delay > 0 {
		return d.Delay
	}
	return in.Delay
}

// presenceRows states both sides of a presence sensor: what entering does, and what
// leaving does after the delay.
func (r *room) presenceRows(d *domain.Device, row domain.MatrixRow) []matrixRow {
	delays, steps := r.sensorDelays(d, row.Input)
	name := "vacant"
	if len(delays) == 1 {
		name += " for " + units.Duration(delays[0])
	}
	linked := func(l *domain.Load, say func(*domain.Intent) string) Cell {
		k := r.link(row.Input, l.ID)
		switch {
		case k == nil || k.Do.Verb == "":
			return r.linkCell(row.Input, l, undecided)
		case k.Do.Verb == domain.Nothing:
			return r.linkCell(row.Input, l, none)
		}
		in := r.presenceIntent(l)
		if in == nil {
			return r.linkCell(row.Input, l, undecided)
		}
		return r.linkCell(row.Input, l, say(in))
	}
	step := or(strings.Join(steps, ", "), none)
	return []matrixRow{
		{tag: d.Tag, name: "occupied", step: step, cells: r.cellsOf(func(l *domain.Load) Cell {
			return linked(l, func(in *domain.Intent) string { return occupiedCode(d, in) })
		})},
		{tag: d.Tag, name: name, step: step, cells: r.cellsOf(func(l *domain.Load) Cell {
			return linked(l, func(in *domain.Intent) string { return vacantCode(d, in, len(delays) > 1) })
		})},
	}
}

// sensorDelays lists the different delays after which a sensor's loads go off, and the
// statements that say so.
func (r *room) sensorDelays(d *domain.Device, input domain.Input) (delays []units.Seconds, steps []string) {
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		k := r.link(input, l.ID)
		if k == nil || k.Do.Verb != domain.Acts {
			continue
		}
		in := r.presenceIntent(l)
		if in == nil {
			continue
		}
		delays = addOnce(delays, delayOf(d, in))
		steps = addOnce(steps, r.stepOfIntent(in.ID))
	}
	return delays, steps
}

func addOnce[T comparable](list []T, x T) []T {
	for _, y := range list {
		if y == x {
			return list
		}
	}
	return append(list, x)
}

// occupiedCode: only an occupancy sensor may light anything.
func occupiedCode(d *domain.Device, in *domain.Intent) string {
	switch {
	case in.Kind == domain.ForReceptacles:
		return "ON"
	case !in.Enters || d.Presence != domain.Occupancy:
		return "ENA"
	}
	return goalCode(in)
}

func vacantCode(d *domain.Device, in *domain.Intent, withDelay bool) string {
	code := "OFF"
	if in.Kind == domain.ByPresence {
		code = number(float64(in.OffLevel))
		if in.Warning > 0 {
			code = "WARN" + hardSpace + code
		}
	}
	if withDelay {
		code += " @" + units.Duration(delayOf(d, in))
	}
	return code
}

// goalCode is the scene or level that an intent goes to.
func goalCode(in *domain.Intent) string {
	if in.Scene > 0 {
		return fmt.Sprintf("SC%d", in.Scene)
	}
	return number(float64(in.Level))
}

func (r *room) daylightRow(d *domain.Device, row domain.MatrixRow) matrixRow {
	step := none
	cells := r.cellsOf(func(l *domain.Load) Cell {
		k := r.link(row.Input, l.ID)
		switch {
		case k == nil || k.Do.Verb == "":
			return r.linkCell(row.Input, l, undecided)
		case k.Do.Verb == domain.Nothing:
			return r.linkCell(row.Input, l, none)
		}
		in := r.sensed(l, domain.ByDaylight)
		if in == nil {
			return r.linkCell(row.Input, l, undecided)
		}
		step = r.stepOfIntent(in.ID)
		return r.linkCell(row.Input, l, "TRIM")
	})
	return matrixRow{tag: d.Tag, name: "reading", cells: cells, step: step}
}
