package demo

import (
	"strconv"

	"scopewright/domain"
)

// kinds of space by use, as the designer has confirmed them; that of the lobby is still
// to be confirmed, and where area counts it is the room's own.
var kinds = map[domain.Use]domain.SpaceType{
	"classroom":   "classroom_lecture_training",
	"conference":  "conference_meeting",
	"corridor":    "corridor",
	"restroom":    "restroom",
	"stair":       "stairwell",
	"electrical":  "elec_mech_room",
	"copy-room":   "copy_print",
	"break-room":  "lounge_breakroom",
	"workshop":    "workshop",
	"office-open": "office_open_gt_300ft2",
}

// kindOf gives the kind of space that a line of the room list confirms for its room;
// empty where the typical's holds.
func kindOf(line *row) domain.SpaceType {
	ft2, err := strconv.ParseFloat(line.area, 64)
	switch {
	case err != nil:
		panic("demo: " + line.number + " has no area")
	case line.use == "storage" && ft2 < 50:
		return "storage_lt_50ft2"
	case line.use == "storage":
		return "storage_ge_50ft2"
	case line.use == "office-private" && ft2 <= 150:
		return "office_enclosed_le_150ft2"
	case line.use == "office-private" && ft2 <= 250:
		return "office_enclosed_151_250ft2"
	case line.follows == "" || line.use == "copy-room":
		return kinds[line.use]
	}
	return ""
}

// receptacles of rooms by their use, controlled or not. Invented.
var receptacles = map[domain.Use]string{"office-private": "8", "classroom": "20", "conference": "12", "copy-room": "6", "break-room": "14", "office-open": "90", "workshop": "24", "corridor": "6", "lobby": "10"}
