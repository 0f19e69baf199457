package design

import (
	"slices"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/propose"
	"scopewright/domain/sequence"
)

// builtOn tells on which groups the intents of a kind rest beside the loads.
var builtOn = map[domain.IntentKind][]topic{
	domain.ByHand:         {ofStations, ofPower, ofCells},
	domain.ByPresence:     {ofPresence, ofCells},
	domain.ByDaylight:     {ofDaylight, ofCells},
	domain.BySchedule:     {ofPresence, ofStations, ofCells},
	domain.ForReceptacles: {ofPresence, ofCells},
	domain.ByAV:           {ofScenes, ofCells},
	domain.ByContact:      {ofCells},
	domain.OnPowerBack:    {ofPower},
	domain.OnEmergency:    {ofPower},
	domain.OnNetworkLoss:  {ofGateway},
}

// intents proposes what the room then does, a group for each kind that it has
// no intent of.
func (d *draft) intents() {
	list := propose.MissingKinds(propose.StartingIntents(d.p, d.r.Use, &d.r.Design), &d.r.Design)
	list = append(list, d.networkLoss(list)...)
	list = slices.DeleteFunc(list, func(in domain.Intent) bool { return in.Kind == domain.OnEmergency && !d.keptLit(list) })
	for _, kind := range domain.IntentKinds() {
		var some []domain.Intent
		for _, in := range list {
			if in.Kind == kind {
				in.ID = d.fresh("intent %s %d", kind, len(some))
				some = append(some, in)
			}
		}
		if len(some) == 0 {
			continue
		}
		d.group(ofIntents, "Intents: "+lowerFirst(kind.Title()), "What the room does, as a sentence with its numbers. They are common practice: check them against the owner's wishes and the adopted code.",
			append([]topic{ofLoads}, builtOn[kind]...), func() {
				d.do(edit.StartIntents{Intents: some})
				for i := range some {
					d.adds("%s", some[i].Sentence(domain.Env{Project: d.p, Design: &d.r.Design}))
				}
			})
	}
}

// keptLit tells that egress lighting stays lit when nobody is there. Where that
// is not said, the end of an emergency signal would put it back to dark, and the
// designer has to say first what keeps it lit.
func (d *draft) keptLit(list []domain.Intent) bool {
	for _, l := range d.lighting() {
		kept := slices.ContainsFunc(slices.Concat(d.r.Design.Intents, list), func(in domain.Intent) bool {
			return in.Kind == domain.ByPresence && in.OffLevel > 0 && in.ActsOn(l)
		})
		if l.Egress && !kept {
			return false
		}
	}
	return true
}

// networkLoss says what becomes of loads that a schedule alone turns off when
// the network that brings it is gone: where no sensor is they go to full, so
// that nobody stands in the dark, elsewhere to what a vacant room keeps.
func (d *draft) networkLoss(list []domain.Intent) []domain.Intent {
	all := slices.Concat(d.r.Design.Intents, list)
	find := func(want func(*domain.Intent) bool) *domain.Intent {
		if i := slices.IndexFunc(all, func(in domain.Intent) bool { return want(&in) }); i >= 0 {
			return &all[i]
		}
		return nil
	}
	clock := find(func(in *domain.Intent) bool {
		return in.Kind == domain.BySchedule && in.OffAt != "" && in.Do != domain.SetMode
	})
	said := find(func(in *domain.Intent) bool { return in.Kind == domain.OnNetworkLoss })
	if clock == nil || said != nil || !d.onNetwork() {
		return nil
	}
	in := domain.NewIntent("", domain.OnNetworkLoss)
	in.Loads = slices.Clone(clock.Loads)
	if p := find(func(in *domain.Intent) bool { return in.Kind == domain.ByPresence }); p != nil {
		if p.OffLevel == 0 {
			return nil // the sensors turn off what the schedule cannot
		}
		in.Level = p.OffLevel
	}
	return []domain.Intent{in}
}

func (d *draft) onNetwork() bool {
	return slices.ContainsFunc(d.r.Design.Devices, func(dev domain.Device) bool {
		t := d.typeOf(&dev)
		return t != nil && t.Kind == equipment.Gateway
	})
}

func lowerFirst(s string) string {
	if s == domain.ByAV.Title() || s == "" {
		return s
	}
	return string(s[0]|0x20) + s[1:]
}

// stories proposes scenarios out of the design's own numbers, those that it
// keeps: they are what a rehearsal and a test on site begin with.
func (d *draft) stories() {
	if len(d.r.Design.Scenarios) > 0 || len(d.r.Design.Intents) == 0 || len(d.out.Changes) == 0 {
		return
	}
	told := *d.s.Design
	told.Scenarios = sequence.Generate(d.p, &d.r.Design)
	results := sequence.RunAll(d.p, &told)
	all := make([]topic, 0, len(d.out.Changes))
	for i := range d.out.Changes {
		all = append(all, d.out.Changes[i].topic)
	}
	d.group(ofStories, "Scenarios", "Stories of the room with what is expected, to rehearse the design with and to test it on site.", all, func() {
		for i := range told.Scenarios {
			if results[i].Passed && len(d.now.Edits) < domain.MaxParts {
				d.do(edit.AddScenario{Scenario: told.Scenarios[i]})
				d.adds("%s", told.Scenarios[i].Name)
			}
		}
	})
}
