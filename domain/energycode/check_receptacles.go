package energycode

import "scopewright/domain/units"

// ControlledNeeded gives how many of a room's receptacles must be controlled,
// N = ceil(total x share/100); known is false where the pack gives no share.
func (p *Pack) ControlledNeeded(total int) (n int, known bool) {
	q := p.Parameter(Receptacles, "share")
	if q == nil {
		return 0, false
	}
	return roundUp(float64(total) * q.Value / 100), true
}

// receptacles asks that a share of the receptacles goes dead when the room is empty.
func receptacles(j *judge, _ *Requirement, a *Answer) {
	delay := j.option(a, Receptacles, "delay")
	share, pair := j.option(a, Receptacles, "share"), j.option(a, Receptacles, "pair_distance")
	o := &j.f.Receptacles
	if share == nil && pair == nil {
		a.miss("how many receptacles the code wants controlled: the pack gives no share")
		a.Open = true
	}
	if delay == nil {
		a.need("controlled receptacles go dead when the room is empty, or by the clock")
	} else {
		a.need("controlled receptacles go dead within %s min of the last person's leaving, or by the clock", units.Trim(delay.Value, 1))
	}
	if o.Known && o.Controlled == 0 && len(o.Off) == 0 && len(o.Scheduled) == 0 {
		a.has("no controlled receptacle")
		a.fault("No receptacle is controlled: put some on a receptacle controller with an intent for receptacles.")
	} else {
		j.outletsOff(a, delay)
	}
	if share != nil {
		j.outletShare(a, share)
	}
	if pair != nil {
		a.need("a controlled one within %s %s of each that is not, or split ones", units.Trim(pair.Value, 1), pair.Unit)
		a.outside("where the receptacles are: each that is not controlled needs a controlled one within %s %s", units.Trim(pair.Value, 1), pair.Unit)
	}
}

// outletsOff judges when the controlled receptacles go dead.
func (j *judge) outletsOff(a *Answer, delay *Parameter) {
	o := &j.f.Receptacles
	if !o.Known {
		a.miss("which receptacles are controlled")
		return
	}
	for i := range o.Off {
		v := &o.Off[i]
		a.has("controlled receptacles: %s", v.words())
		switch {
		case v.Doubt != "":
			a.miss("%s", v.Doubt)
		case delay == nil || len(o.Scheduled) > 0:
		case !a.hold("time to dead", minutes(v.After), delay):
			a.fault("Controlled receptacles go dead %s after the last person's leaving, limit %s min: %s over (%s).", units.Duration(v.After), units.Trim(delay.Value, 1),
				units.Duration(v.After-units.Seconds(60*delay.Value)), v.By)
		}
	}
	for i := range o.Scheduled {
		a.has("controlled receptacles: off at %s by %s", o.Scheduled[i].When, o.Scheduled[i].By)
	}
	if len(o.Uncontrol) > 0 {
		a.fault("%s: nothing turns it off. Let a presence sensor act on it and state an intent for receptacles.", tagWords(o.Uncontrol))
	}
}

// outletShare holds the count of controlled receptacles to the code's share.
func (j *judge) outletShare(a *Answer, share *Parameter) {
	o := &j.f.Receptacles
	a.need("at least %s %% of the room's receptacles", units.Trim(share.Value, 1))
	if o.Total <= 0 {
		a.miss("how many receptacles the room has")
		return
	}
	needed, _ := j.p.ControlledNeeded(o.Total)
	a.need("%d of %d", needed, o.Total)
	if o.Controlled == 0 && len(o.Off)+len(o.Scheduled) > 0 {
		a.miss("how many receptacles are on the controlled circuits")
		return
	}
	count := Parameter{Sign: AtLeast, Value: float64(needed)}
	a.has("%d of %d controlled", o.Controlled, o.Total)
	if !a.hold("controlled receptacles", float64(o.Controlled), &count) {
		a.fault("%d of %d receptacles are controlled, %d needed: %d more.", o.Controlled, o.Total, needed, needed-o.Controlled)
	}
}
