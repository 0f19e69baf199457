package domain

import (
	"fmt"
	"math"
)

// LimitID names a number that rules test against.
type LimitID string

// The limits. Each is data of a project, with the values of GenericLimits as a
// start; rules never carry such a number themselves.
const (
	DevicesPerRoom        LimitID = "devices-per-room"
	BatteryStations       LimitID = "battery-stations-per-room"
	PresencePerRoom       LimitID = "presence-sensors-per-room"
	DaylightPerRoom       LimitID = "open-daylight-sensors-per-room"
	GatewaysPerRoom       LimitID = "gateways-per-room"
	AVPerRoom             LimitID = "av-interfaces-per-room"
	ChildrenPerRouter     LimitID = "children-per-router"
	ScenesPerController   LimitID = "scenes-per-controller"
	ScenesPerStation      LimitID = "scenes-per-station"
	RoomsPerServer        LimitID = "rooms-per-server"
	GatewaysPerBackbone   LimitID = "gateways-per-backbone"
	BroadcastsPerWindow   LimitID = "broadcasts-per-window"
	BroadcastWindow       LimitID = "broadcast-window"
	GroupIsBroadcast      LimitID = "group-counts-as-broadcast"
	AuxSupply             LimitID = "auxiliary-supply"
	SinkCurrent           LimitID = "control-current-per-output"
	WallBoxFuse           LimitID = "wall-box-fuse"
	OutputShare           LimitID = "share-of-output-rating"
	StationBatteryLife    LimitID = "station-battery-life"
	SensorBatteryLife     LimitID = "sensor-battery-life"
	BatteryNotice         LimitID = "battery-notice"
	AreaPerPresenceSensor LimitID = "area-per-presence-sensor"
	OverrideLongest       LimitID = "longest-override"
	SpareShare            LimitID = "spares"
	AreaOff               LimitID = "area-off-outline"
	OutsideOutline        LimitID = "device-outside-outline"
	RoomsOverlap          LimitID = "rooms-overlap"
	RoomBeyondWalls       LimitID = "room-beyond-outer-walls"
)

// Limit is one number with its unit and source.
type Limit struct {
	ID     LimitID `json:"id"`
	Title  string  `json:"title"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit,omitempty"`
	Source string  `json:"source"`
}

// Limits are a project's limits; one that is missing counts as the generic one.
type Limits []Limit

const commonPractice = "common practice, no published source"

var genericLimits = Limits{
	{DevicesPerRoom, "Devices in one room, all kinds together", 32, "", commonPractice},
	{BatteryStations, "Battery wall stations in one room", 8, "", commonPractice},
	{PresencePerRoom, "Occupancy or vacancy sensors in one room", 8, "", commonPractice},
	{DaylightPerRoom, "Open-loop daylight sensors in one room", 1, "", commonPractice},
	{GatewaysPerRoom, "Gateways in one room", 1, "", commonPractice},
	{AVPerRoom, "AV interfaces in one room", 1, "", commonPractice},
	{ChildrenPerRouter, "Battery devices per router", 6, "", commonPractice},
	{ScenesPerController, "Scenes that a load controller stores", 16, "", commonPractice},
	{ScenesPerStation, "Scenes that a wall station recalls directly", 3, "", commonPractice},
	{RoomsPerServer, "Controlled rooms under one building server", 200, "", commonPractice},
	{GatewaysPerBackbone, "Gateways on one backbone network", 50, "", commonPractice},
	{BroadcastsPerWindow, "Broadcasts in any window", 8, "", commonPractice},
	{BroadcastWindow, "Broadcast window", 9, "s", "common practice; agrees with the broadcast delivery time of the Zigbee network layer, 9 s"},
	{GroupIsBroadcast, "Group messages count as broadcasts (1 yes, 0 no)", 1, "", "in Zigbee a multicast travels as a broadcast; 1 is the safe side"},
	{AuxSupply, "Auxiliary supply of one contact input for wired sensors", 6, "W", commonPractice},
	{SinkCurrent, "0-10 V current that one output sinks", 60, "mA", commonPractice},
	{WallBoxFuse, "Fuse of a wall-box controller", 8, "A", commonPractice},
	{OutputShare, "Share of a rating for continuous load", 80, "%", "NEC 210.19(A)(1), 210.20(A): 125 % of continuous load; elsewhere a value to choose"},
	{StationBatteryLife, "Battery life of a wall station", 5, "years", commonPractice},
	{SensorBatteryLife, "Battery life of a sensor", 10, "years", commonPractice},
	{BatteryNotice, "Notice before a battery is due", 6, "months", commonPractice},
	{AreaPerPresenceSensor, "Room area per presence sensor", 46.45152, "m2", "500 ft2, common practice, no published source"},
	{OverrideLongest, "Longest after-hours override", 7200, "s", "2 h, usual in US energy codes; confirm against the adopted text"},
	{SpareShare, "Spares in the bill of materials", 3, "%", "2 to 5 %, from memory"},
	{AreaOff, "Difference between a room's stated area and its outline", 2, "%", commonPractice},
	{OutsideOutline, "Distance of a device outside of its room's outline, within the wall", 0.2032, "m", "8 in, common practice, no published source"},
	{RoomsOverlap, "Floor area that two rooms share on the plan", 0.1, "m2", "what redrawn outlines leave over; common practice, no published source"},
	{RoomBeyondWalls, "Distance that a room reaches beyond the storey's outer walls", 0.3048, "m", "1 ft, what tracing leaves over; common practice, no published source"},
}

// GenericLimits gives a fresh copy of the built-in limits.
func GenericLimits() Limits { return append(Limits(nil), genericLimits...) }

// Find gives the limit of that ID: the project's, else the generic one.
func (ls Limits) Find(id LimitID) Limit {
	for i := range ls {
		if ls[i].ID == id {
			return ls[i]
		}
	}
	for i := range genericLimits {
		if genericLimits[i].ID == id {
			return genericLimits[i]
		}
	}
	return Limit{ID: id}
}

// Value gives the number of a limit.
func (ls Limits) Value(id LimitID) float64 { return ls.Find(id).Value }

// Validate says what is wrong with the limit.
func (l Limit) Validate() error {
	known := false
	for i := range genericLimits {
		known = known || genericLimits[i].ID == l.ID
	}
	switch {
	case !known:
		return fmt.Errorf("limit %q is not known", l.ID)
	case math.IsNaN(l.Value) || l.Value < 0 || l.Value > 1e6:
		return fmt.Errorf("limit %s: %g is out of range: use 0 to 1,000,000", l.ID, l.Value)
	case l.Source == "":
		return fmt.Errorf("limit %s needs a source", l.ID)
	}
	return nil
}
