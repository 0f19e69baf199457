package domain

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain/units"
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

	// Radio.
	LinkMargin         LimitID = "link-margin"
	LinkMarginAdvice   LimitID = "link-margin-advice"
	LinkProbability    LimitID = "link-probability"
	Shadowing          LimitID = "radio-shadowing"
	AssumedPower       LimitID = "assumed-transmit-power"
	AssumedSensitivity LimitID = "assumed-sensitivity"
	AssumedWallLoss    LimitID = "assumed-wall-loss"
	AssumedDoorLoss    LimitID = "assumed-door-loss"
	AssumedPaneLoss    LimitID = "assumed-window-loss"
	SlabLoss           LimitID = "loss-between-storeys"
	CeilingLoss        LimitID = "loss-of-a-ceiling"
	RoutersInReach     LimitID = "routers-in-reach"
	HopsInRoom         LimitID = "hops-in-a-room"
	HopsToServer       LimitID = "hops-between-gateways"

	// Heights of what is mounted without a height of its own, and of storeys.
	StoreyHeight  LimitID = "storey-height"
	CeilingHeight LimitID = "ceiling-height"
	AboveCeiling  LimitID = "above-ceiling"
	StationHeight LimitID = "station-height"
	WallHeight    LimitID = "wall-sensor-height"

	// Sight of presence sensors.
	SeatedHeight    LimitID = "seated-height"
	StandingHeight  LimitID = "standing-height"
	CoveredShare    LimitID = "covered-share"
	SensorHigh      LimitID = "sensor-mounted-high"
	SightCell       LimitID = "sight-cell"
	LeakArea        LimitID = "corridor-seen"
	PartitionHeight LimitID = "partition-height"

	// Circuits and control pairs.
	CircuitRating   LimitID = "circuit-rating"
	TripMultiple    LimitID = "breaker-trip"
	InrushFactor    LimitID = "breaker-inrush-factor"
	PairRiseAdvice  LimitID = "control-pair-rise-advice"
	PairRise        LimitID = "control-pair-rise"
	PairRouteFactor LimitID = "control-pair-route"
	PairDrop        LimitID = "control-pair-drop"
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

var genericLimits = slices.Concat(roomLimits, daylightLimits, energyLimits)

var roomLimits = Limits{
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
	{AreaPerPresenceSensor, "Room area per presence sensor", 46.45152, "m2", "500 sq ft, common practice, no published source"},
	{OverrideLongest, "Longest after-hours override", 7200, "s", "2 h, usual in US energy codes; confirm against the adopted text"},
	{SpareShare, "Spares in the bill of materials", 3, "%", "2 to 5 %, from memory"},
	{AreaOff, "Difference between a room's stated area and its outline", 2, "%", commonPractice},
	{OutsideOutline, "Distance of a device outside of its room's outline, within the wall", 0.2032, "m", "8 in, common practice, no published source"},
	{RoomsOverlap, "Floor area that two rooms share on the plan", 0.1, "m2", "what redrawn outlines leave over; common practice, no published source"},
	{RoomBeyondWalls, "Distance that a room reaches beyond the storey's outer walls", 0.3048, "m", "1 ft, what tracing leaves over; common practice, no published source"},
	{LinkMargin, "Margin of a radio link", 10, "dB", commonPractice},
	{LinkMarginAdvice, "Margin under which a radio link is warned of", 16, "dB", commonPractice},
	{LinkProbability, "Probability with which a radio link is to be up", 95, "%", "a value to choose; with the shadowing it asks for a margin of z sigma"},
	{Shadowing, "Spread of radio losses about those of the model, sigma", 5, "dB", "ITU-R P.1238-13, office: 5.01 dB (secondary source); raise to 8 to 10 where the plan is coarse"},
	{AssumedPower, "Transmit power of a type that states no radio", 0, "dBm", "usual for IEEE 802.15.4 at 2.4 GHz, from memory"},
	{AssumedSensitivity, "Sensitivity of a type that states no radio", -95, "dBm", "typical for IEEE 802.15.4 at 2.4 GHz; the standard asks for -85 dBm"},
	{AssumedWallLoss, "Radio loss of a wall of unknown material", 3, "dB", "a stud wall: between ITU-R P.2040 and measurements"},
	{AssumedDoorLoss, "Radio loss of a door", 2, "dB", "a timber leaf: between ITU-R P.2040 and measurements"},
	{AssumedPaneLoss, "Radio loss of a window", 2, "dB", "clear double glazing: between ITU-R P.2040 and measurements"},
	{SlabLoss, "Radio loss of a floor between storeys", 20, "dB", "concrete 200 mm: between ITU-R P.2040 and measurements"},
	{CeilingLoss, "Radio loss of a ceiling under devices above it", 0.5, "dB", "mineral board by ITU-R P.2040: 0.2 dB"},
	{RoutersInReach, "Routers that a device is to hear", 2, "", "common practice, from memory"},
	{HopsInRoom, "Radio hops to the gateway within a room", 3, "", "2 to 3 in a room, common practice, from memory"},
	{HopsToServer, "Radio hops between gateways", 5, "", "4 to 5 to the network's head, common practice, from memory"},
	{StoreyHeight, "Floor to floor of a storey that states no height", 4, "m", commonPractice},
	{CeilingHeight, "Ceiling of a room that states none", 2.7432, "m", "9 ft, common practice, no published source"},
	{AboveCeiling, "Height of devices above a ceiling, over it", 0.3048, "m", "1 ft, common practice, no published source"},
	{StationHeight, "Height of wall stations that state none", 1.2192, "m", "48 in, within the reach range of US accessibility standards"},
	{WallHeight, "Height of wall-mounted sensors that state none", 2.4384, "m", "8 ft, common practice, no published source"},
	{SeatedHeight, "Height at which a seated person is to be seen", 1.1, "m", "seated head 1.1 to 1.2 m, common practice, no published source"},
	{StandingHeight, "Height at which a standing person is to be seen", 1.6, "m", "standing head 1.5 to 1.7 m, common practice, no published source"},
	{CoveredShare, "Share of a room's floor that its presence sensors see", 95, "%", commonPractice},
	{SensorHigh, "Mounting height above which a presence sensor must be made for it", 3.6576, "m", "12 ft, common practice, no published source"},
	{SightCell, "Side of the cells in which sight is reckoned", 0.25, "m", "sampling at 0.25 m is about 1 % of a room off"},
	{LeakArea, "Floor of a corridor that a sensor may see through an open door", 0.5, "m2", "a value to choose; common practice is none"},
	{PartitionHeight, "Height of a partition that states none", 1.65, "m", "65 in, common practice, no published source"},
	{CircuitRating, "Breaker of a circuit that states none", 20, "A", commonPractice},
	{TripMultiple, "Least instantaneous trip of a breaker, times its rating", 5, "", "IEC 60898: B 3, C 5, D 10, from memory"},
	{InrushFactor, "What a breaker stands of a short inrush, times its instantaneous trip", 1, "", "1 is safe; 3 to 6 usual at 200 to 300 us, from memory: read the breaker's curve"},
	{PairRiseAdvice, "Rise on a 0-10 V control pair that is warned of", 1, "%", "of the 9 V span, common practice, no published source"},
	{PairRise, "Rise on a 0-10 V control pair", 5, "%", "of the 9 V span, common practice, no published source"},
	{PairRouteFactor, "Length of a control pair over the straight way along the walls", 1.2, "", commonPractice},
	{PairDrop, "Length of a control pair for going up and down at each end", 3, "m", commonPractice},
}

// LimitGroup names the group that begins with a limit in the order of
// GenericLimits; empty within one.
func LimitGroup(id LimitID) string {
	switch id {
	case DevicesPerRoom:
		return "Rooms and devices"
	case AreaOff:
		return "Plans"
	case LinkMargin:
		return "Radio"
	case StoreyHeight:
		return "Heights"
	case SeatedHeight:
		return "Sight of presence sensors"
	case CircuitRating:
		return "Circuits and control pairs"
	case GlassTransmittance:
		return "Daylight"
	case StandbyDriver:
		return "Energy use"
	}
	return ""
}

// GenericLimits gives a fresh copy of the built-in limits.
func GenericLimits() Limits { return append(Limits(nil), genericLimits...) }

// StartLimits gives those that a new project in a system of units starts with: the
// generic ones, and where the trade of the place has a height of its own, that one.
func StartLimits(sys units.System) Limits {
	out := GenericLimits()
	if sys == units.US {
		l := out.Own(WorkPlane)
		l.Value, l.Source = 0.762, "30 in, common practice in North America, no published source; 0.85 m in Europe"
	}
	return out
}

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

// Own gives the project's own limit to change, adding the generic one where it has
// none; nil for one that is not known.
func (ls *Limits) Own(id LimitID) *Limit {
	at := func(l Limit) bool { return l.ID == id }
	if i := slices.IndexFunc(*ls, at); i >= 0 {
		return &(*ls)[i]
	}
	i := slices.IndexFunc(genericLimits, at)
	if i < 0 {
		return nil
	}
	*ls = append(*ls, genericLimits[i])
	return &(*ls)[len(*ls)-1]
}

// Text prints the limit's number with its unit, lengths and areas as a person
// would have typed them in the project's units.
func (l *Limit) Text(sys units.System) string {
	switch {
	case l.Unit == "m":
		return units.PlainLength(units.Metres(l.Value), sys)
	case l.Unit == "s" && l.Value >= 60:
		return units.Duration(units.Seconds(l.Value))
	case l.Unit == "m2":
		return units.PlainArea(units.SquareMetres(l.Value), sys)
	}
	return strings.TrimSpace(units.Trim(l.Value, 6) + " " + l.Unit)
}

func (l *Limit) read(text string, sys units.System) (float64, error) {
	switch l.Unit {
	case "m":
		v, err := units.ParseLength(text, sys)
		return float64(v), err
	case "m2":
		v, err := units.ParseArea(text, sys)
		return float64(v), err
	case "s":
		v, err := units.ParseDuration(text, "s")
		return float64(v), err
	}
	unit := strings.ToLower(l.Unit)
	return units.In(text, unit, map[string]float64{unit: 1})
}

// Validate says what is wrong with the limit.
func (l Limit) Validate() error {
	known := false
	for i := range genericLimits {
		known = known || genericLimits[i].ID == l.ID
	}
	within, bounded := energySpans[l.ID]
	switch {
	case !known:
		return fmt.Errorf("limit %q is not known", l.ID)
	case bounded && !(l.Value >= within.least && l.Value <= within.most):
		return fmt.Errorf("limit %s: %g is out of range: use %s", l.ID, l.Value, strings.TrimSpace(fmt.Sprintf("%g to %g %s", within.least, within.most, l.Unit)))
	case l.Unit == "dBm" && !(l.Value >= -200 && l.Value <= 100):
		return fmt.Errorf("limit %s: %g is out of range: use -200 to 100 dBm", l.ID, l.Value)
	case l.Unit != "dBm" && !(l.Value >= 0 && l.Value <= 1e6):
		return fmt.Errorf("limit %s: %g is out of range: use 0 to 1,000,000", l.ID, l.Value)
	case l.Source == "":
		return fmt.Errorf("limit %s needs a source", l.ID)
	}
	return nil
}
