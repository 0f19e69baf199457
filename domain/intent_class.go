package domain

import "scopewright/domain/units"

// Class gives the class of the commands that the intent makes.
func (in *Intent) Class() Class {
	switch in.Kind {
	case ByHand, ByAV, ByContact:
		return ClassManual
	case ByPresence, ForReceptacles:
		return ClassOccupancy
	case OnEmergency:
		return ClassEmergency
	case OnDemandResponse:
		return ClassDemand
	case ByDaylight:
		return ClassDaylight
	}
	return ClassSchedule
}

// untilNext is how long a command without a claim counts.
const untilNext = "until the next command"

// Lasts says how long what the intent does counts against lower classes.
func (in *Intent) Lasts(e Env) string {
	switch in.Kind {
	case ByHand:
		return holdWords(in.Hold)
	case ByAV, ByContact:
		return in.untilOfResponse(e)
	case BySchedule:
		if in.OnAt != "" && in.OffAt != "" && in.Do != SetMode {
			return "until " + in.OffAt
		}
	case ByDaylight:
		return "as long as daylight is read"
	case OnDemandResponse:
		return "until demand response ends"
	case OnEmergency:
		return "until the signal ends"
	case OnMode:
		if in.Do == Lock || in.Do == HoldAutomatic {
			return "until the mode ends"
		}
	}
	return untilNext
}

func (in *Intent) untilOfResponse(e Env) string {
	switch in.Do {
	case SetMode:
		return "until the mode changes"
	case PartitionJoins, PartitionParts:
		return "until the partition moves again"
	case Lock:
		return "until released"
	case Release:
		return untilNext
	case HoldAutomatic:
		if in.Hold > 0 {
			return "for " + units.Duration(in.Hold) + ", or until released"
		}
		return "until released"
	}
	hold, alike := in.holdOfTargets(e)
	if !alike {
		return "for the hold of a press on each load"
	}
	return holdWords(hold)
}

// holdOfTargets gives the hold that a person's word has on the intent's loads,
// and whether it is the same on all.
func (in *Intent) holdOfTargets(e Env) (hold units.Seconds, alike bool) {
	if e.Design == nil {
		return 0, true
	}
	for i, id := range in.Targets(e.Design) {
		of := units.Seconds(0)
		if l := e.Design.Load(id); l != nil {
			if hand := e.Design.intentFor(ByHand, l); hand != nil {
				of = hand.Hold
			}
		}
		if i > 0 && of != hold {
			return 0, false
		}
		hold = of
	}
	return hold, true
}

// intentFor gives the first intent of a kind that acts on a load, nil where none does.
func (d *Design) intentFor(kind IntentKind, l *Load) *Intent {
	for i := range d.Intents {
		if in := &d.Intents[i]; in.Kind == kind && in.ActsOn(l) {
			return in
		}
	}
	return nil
}

func holdWords(hold units.Seconds) string {
	if hold == 0 {
		return untilNext
	}
	return "for " + units.Duration(hold) + ", or until the room is vacant"
}

// DelayFor gives the delay that runs for a load once all its sensors say
// vacant: the longest that one of them states of its own, else the intent's.
func (in *Intent) DelayFor(p *Project, d *Design, load ID) units.Seconds {
	longest := units.Seconds(0)
	for i := range d.Links {
		k := &d.Links[i]
		if k.Load != load || k.Do.Verb != Acts {
			continue
		}
		dev := d.Device(k.Device)
		if dev == nil || dev.Delay <= longest {
			continue
		}
		if t := p.Book.Find(dev.Type); t != nil && t.Kind.Traits().Presence {
			longest = dev.Delay
		}
	}
	if longest > 0 {
		return longest
	}
	return in.Delay
}
