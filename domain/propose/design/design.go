// Package design proposes a whole first design of a room: loads, controllers,
// scenes, stations, sensors, gateway, parents and intents, as groups of edits
// that a designer takes or leaves. What the room has already is kept; only what
// is missing is proposed. It decides nothing: what it assumed and what it could
// not do stands beside the groups.
package design

import (
	"scopewright/domain"
	"scopewright/domain/daylight"
	"scopewright/domain/edit"
)

// Options are what a designer may say ahead; the zero value leaves all to the
// program.
type Options struct {
	Luminaire domain.ID           // type of new lighting loads; empty: one that suits the use
	Density   float64             // W/m2 of new lighting loads; 0: as usual for the use
	Zones     *daylight.ZoneRules // that tell the rows at the windows apart, where the plan shows windows; nil: the first that are known
}

// Proposal is a first design as a list of changes.
type Proposal struct {
	Changes []Group
	Assumed []string // what was taken for granted, to be checked
	Short   []string // what could not be proposed, and why
	Left    []string // what a first design leaves to the designer
}

// Group is a part of the proposal that is taken or left as one.
type Group struct {
	Title string
	Why   string
	Adds  []string // what it brings, a line each
	Edits []edit.Edit
	Needs []int // groups of lower index without which its edits do not fit

	topic topic
}

// topic names a group to those that build on it.
type topic string

const (
	ofFacts    topic = "facts"
	ofLoads    topic = "loads"
	ofZones    topic = "zones"
	ofPower    topic = "power"
	ofScenes   topic = "scenes"
	ofStations topic = "stations"
	ofPresence topic = "presence"
	ofDaylight topic = "daylight"
	ofGateway  topic = "gateway"
	ofCells    topic = "cells"
	ofRouters  topic = "routers"
	ofParents  topic = "parents"
	ofIntents  topic = "intents"
	ofStories  topic = "stories"
)

// Room proposes what a room lacks. It gives the same answer each time it is
// asked of the same room, changes nothing, and gives no changes at all for a
// room that no design within the project's limits can serve: such a room is to
// be divided first, and Short says so.
func Room(p *domain.Project, r *domain.Resolved, o Options) Proposal {
	d := newDraft(p, r, o)
	if d.refuses() {
		return d.out
	}
	if _, known := r.Use.Info(); !known {
		d.assume("The room does not say what it is for: it is taken for a room in which people work and press for light.")
	}
	d.facts()
	d.lights()
	d.windowZones()
	d.carriers()
	d.scenes()
	d.presence()
	d.stations()
	d.daylight()
	d.gateway()
	d.cells()
	d.routers()
	d.parents()
	d.intents()
	if d.over() {
		return d.out
	}
	d.stories()
	d.left()
	return d.out
}

// Take gives the edits of the groups that are asked for, with those that they
// need, in order; added tells which came along. Indices beyond the list count
// for nothing.
func (p *Proposal) Take(groups []int) (edits []edit.Edit, added []int) {
	asked, taken := make([]bool, len(p.Changes)), make([]bool, len(p.Changes))
	for _, i := range groups {
		if i >= 0 && i < len(taken) {
			asked[i], taken[i] = true, true
		}
	}
	for i := len(taken) - 1; i >= 0; i-- {
		if taken[i] {
			for _, n := range p.Changes[i].Needs {
				taken[n] = true
			}
		}
	}
	for i := range p.Changes {
		if !taken[i] {
			continue
		}
		edits = append(edits, p.Changes[i].Edits...)
		if !asked[i] {
			added = append(added, i)
		}
	}
	return edits, added
}

// All names every group.
func (p *Proposal) All() []int {
	out := make([]int, len(p.Changes))
	for i := range out {
		out[i] = i
	}
	return out
}
