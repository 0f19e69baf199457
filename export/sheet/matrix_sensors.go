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

// presenceIntents are the intents by which people move a load: one, or several that each
// count under a condition of their own.
func (r *room) presenceIntents(l *domain.Load) []*domain.Intent {
	kind := domain.ByPresence
	if l.Kind == domain.Receptacle {
		kind = domain.ForReceptacles
	}
	return r.allSensed(l, kind)
}

func (r *room) allSensed(l *domain.Load, kind domain.IntentKind) []*domain.Intent {
	var out []*domain.Intent
	for i := range r.Design.Intents {
		if in := &r.Design.Intents[i]; in.Kind == kind && in.ActsOn(l) {
			out = append(out, in)
		}
	}
	return out
}

// delayOf is the delay that runs for a load.
func (r *room) delayOf(in *domain.Intent, l *domain.Load) units.Seconds {
	return in.DelayFor(r.c.project, &r.Design, l.ID)
}

// codes joins what several intents do to one load.
func codes(intents []*domain.Intent, say func(*domain.Intent) string) string {
	var out []string
	for _, in := range intents {
		out = addOnce(out, conditional(in, say(in)))
	}
	return strings.Join(out, " / ")
}

// presenceRows states both sides of a presence sensor: what entering does, and what
// leaving does after the delay.
func (r *room) presenceRows(d *domain.Device, row domain.MatrixRow) []matrixRow {
	delays, steps := r.sensorDelays(row.Input)
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
		intents := r.presenceIntents(l)
		if len(intents) == 0 {
			return r.linkCell(row.Input, l, undecided)
		}
		return r.linkCell(row.Input, l, onlyIf(k, codes(intents, say)))
	}
	step := or(strings.Join(steps, ", "), none)
	return []matrixRow{
		{tag: d.Tag, name: "occupied", step: step, cells: r.cellsOf(func(l *domain.Load) Cell {
			return linked(l, func(in *domain.Intent) string { return occupiedCode(d, in) })
		})},
		{tag: d.Tag, name: name, step: step, cells: r.cellsOf(func(l *domain.Load) Cell {
			return linked(l, func(in *domain.Intent) string { return r.vacantCode(l, in, len(delays) > 1) })
		})},
	}
}

// onlyIf adds the state of the partition that a sensor's cell is limited to.
func onlyIf(k *domain.Link, code string) string {
	if k.Do.If == "" {
		return code
	}
	return code + " @" + string(k.Do.If)
}

// sensorDelays lists the different delays after which a sensor's loads go off, and the
// statements that say so.
func (r *room) sensorDelays(input domain.Input) (delays []units.Seconds, steps []string) {
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		k := r.link(input, l.ID)
		if k == nil || k.Do.Verb != domain.Acts {
			continue
		}
		for _, in := range r.presenceIntents(l) {
			delays = addOnce(delays, r.delayOf(in, l))
			steps = addOnce(steps, r.stepOfIntent(in.ID))
		}
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

func (r *room) vacantCode(l *domain.Load, in *domain.Intent, withDelay bool) string {
	code := "OFF"
	if in.Kind == domain.ByPresence {
		code = number(float64(in.OffLevel))
		if in.Warning > 0 {
			code = "WARN" + hardSpace + code
		}
	}
	if withDelay {
		code += " @" + units.Duration(r.delayOf(in, l))
	}
	return code
}

// goalCode is the scene or level that an intent goes to.
func goalCode(in *domain.Intent) string {
	if in.Scene > 0 && !in.GoesToLevel() {
		return fmt.Sprintf("SC%d", in.Scene)
	}
	return number(float64(in.Level))
}

func (r *room) daylightRow(d *domain.Device, row domain.MatrixRow) matrixRow {
	var steps []string
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
		steps = addOnce(steps, r.stepOfIntent(in.ID))
		return r.linkCell(row.Input, l, onlyIf(k, conditional(in, "TRIM")))
	})
	return matrixRow{tag: d.Tag, name: "reading", cells: cells, step: or(strings.Join(steps, ", "), none)}
}
