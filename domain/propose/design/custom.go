package design

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// custom is how rooms of a use are usually controlled, and lit. Densities are
// the W/m2 that ASHRAE 90.1-2019 allows for the nearest kind of space (as
// published with a federal building energy simulation tool); all else is
// common practice with no published source.
type custom struct {
	density  float64             // W/m2 that the standard allows
	space    string              // for which it allows them
	presence domain.PresenceKind // of its sensors; empty: none
	station  stationKind
	scenes   []look
	wallBox  bool // a single small load hangs on a controller in the wall box
	plain    bool // light that is only switched will do
	zoned    bool // sensors act on what hangs near them, loads are kept to an area
	network  bool // takes part in what the building network brings
}

// stationKind is what people find at a door.
type stationKind int

const (
	noStation  stationKind = iota // lit on entry, nothing to press
	anyStation                    // for everybody
	keyStation                    // for the operator: a public way
)

// look is a scene by the levels that its loads get, by where they hang.
type look struct {
	name          string
	general       units.Level
	window, board units.Level
}

// share is the part of the allowed density that a first count of luminaires
// takes up: designs end below what is allowed (common practice).
const share = 0.75

// zoneArea is the largest floor that one load of an open area lights: the
// control zones of open offices in several codes are 600 ft2.
const zoneArea units.SquareMetres = 600 * units.SquareMetresPerSquareFoot

var customs = map[domain.Use]custom{
	"break-room": {density: 6.35, space: "lounge or break room", presence: domain.Vacancy, station: anyStation},
	"classroom": {density: 7.64, space: "classroom", presence: domain.Vacancy, station: anyStation, network: true,
		scenes: []look{{"Teach", 100, 100, 100}, {"Present", 40, 20, 0}, {"Quiet work", 70, 70, 0}}},
	"conference": {density: 10.44, space: "conference room", presence: domain.Vacancy, station: anyStation, network: true,
		scenes: []look{{"Meet", 100, 100, 100}, {"Present", 40, 20, 0}, {"Video call", 80, 60, 60}}},
	"copy-room":      {density: 3.34, space: "copy or print room", presence: domain.Vacancy, station: anyStation, wallBox: true},
	"corridor":       {density: 4.41, space: "corridor", presence: domain.Occupancy, station: keyStation, network: true},
	"electrical":     {density: 4.63, space: "electrical or mechanical room", station: anyStation, wallBox: true, plain: true},
	"lab":            {density: 14.32, space: "laboratory", presence: domain.Vacancy, station: anyStation, network: true},
	"lobby":          {density: 9.04, space: "lobby", station: keyStation, network: true},
	"office-open":    {density: 6.57, space: "open-plan office", presence: domain.Occupancy, station: anyStation, zoned: true, network: true},
	"office-private": {density: 7.97, space: "enclosed office", presence: domain.Vacancy, station: anyStation},
	"other":          {density: 6.57, space: "open-plan office, for want of a use", presence: domain.Vacancy, station: anyStation},
	"restroom":       {density: 6.78, space: "restroom", presence: domain.Occupancy, station: keyStation},
	"retail":         {density: 11.30, space: "sales area", station: keyStation, zoned: true, network: true},
	"stair":          {density: 5.27, space: "stairwell", presence: domain.Occupancy, station: keyStation},
	"storage":        {density: 4.09, space: "storage", presence: domain.Vacancy, station: anyStation, wallBox: true, plain: true},
	"warehouse":      {density: 3.55, space: "warehouse", presence: domain.Occupancy, station: anyStation, zoned: true, network: true},
	"workshop":       {density: 13.56, space: "workshop", presence: domain.Vacancy, station: anyStation, network: true},
}

// customOf gives the custom of a use; an unknown one counts as "other".
func customOf(use domain.Use) custom {
	if c, ok := customs[use]; ok {
		return c
	}
	return customs["other"]
}
