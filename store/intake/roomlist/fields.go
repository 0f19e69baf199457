package roomlist

import "scopewright/store/intake/columns"

// The fields that a room list may state, by name.
const (
	fNumber   = "number"
	fName     = "name"
	fBuilding = "building"
	fStorey   = "storey"
	fUse      = "use"
	fArea     = "area"
	fCeiling  = "ceiling"
	fWindows  = "windows"
	fSeats    = "seats"
	fTypical  = "typical"
	fNotes    = "notes"
)

// fields are the columns that are understood, with the headings that room
// lists use for them, the surest first: common practice, no published source.
var fields = []columns.Field{
	{Name: fNumber, Title: "Room number", Key: true, Spellings: []string{
		"room no", "room number", "number", "rm no", "rm number", "room num", "rm num", "space no", "space number", "room code", "space code", "area no", "no room", "no",
		"room id", "space id", "num", "room number and name", "room no and name", "room no name", "room number name", "number and name", "room name and number",
		"room name and no", "no and name", "room and name"}, Weak: []string{"rm", "room", "space", "rooms", "spaces", "id"}},
	{Name: fName, Title: "Room name", Spellings: []string{
		"room name", "name", "space name", "rm name", "room title", "room description", "space description", "description", "room desc", "designation", "area name"}, Weak: []string{"room", "space", "title"}},
	{Name: fBuilding, Title: "Building", Spellings: []string{"building", "building name", "bldg", "bldg name", "building no", "bldg no", "block", "tower", "wing"}},
	{Name: fStorey, Title: "Storey", Spellings: []string{
		"storey", "story", "level", "floor", "storey name", "level name", "floor name", "floor level", "building level", "level no", "floor no", "floor number", "lvl", "flr", "fl"}},
	{Name: fUse, Title: "Use", Content: columns.Words, Spellings: []string{
		"use", "room use", "space use", "usage", "room type", "space type", "occupancy type", "function", "room function", "type of use", "room category", "category", "type", "space category", "occupancy"}},
	{Name: fArea, Title: "Area", Measure: columns.Area, Content: columns.Numbers, Spellings: []string{
		"net area", "area net", "net floor area", "area", "room area", "floor area", "usable area", "nia", "nfa", "nsf", "sf", "sq ft", "sqft", "square feet", "square footage",
		"ft2", "m2", "sqm", "sq m", "square meters", "square metres", "size", "gross area", "area gross", "gia", "gsf"}},
	{Name: fCeiling, Title: "Ceiling height", Measure: columns.Length, Content: columns.Numbers, Spellings: []string{
		"ceiling height", "ceiling ht", "ceiling hgt", "clg height", "clg ht", "clg hgt", "ceil ht", "ceil height", "height of ceiling", "finished ceiling height", "clear height", "room height", "clg", "ceiling", "height", "ch", "ht"}},
	{Name: fWindows, Title: "Windows", Spellings: []string{
		"windows", "window", "has windows", "windows y n", "windows yes no", "window y n", "exterior windows", "exterior window", "glazing", "daylit", "daylight"}},
	{Name: fSeats, Title: "Occupants", Measure: columns.People, Content: columns.Numbers, Spellings: []string{
		"occupants", "seats", "no of occupants", "number of occupants", "occupant count", "no occupants", "occupant load", "people", "no of people", "number of people", "persons",
		"headcount", "head count", "capacity", "seating", "seat count", "no of seats", "number of seats", "design occupancy", "max occupants", "occ load", "occ", "pax", "occupancy"}},
	{Name: fTypical, Title: "Typical", Spellings: []string{"typical", "typical room", "room typical", "typical name", "typical no", "typ", "typ room"}},
	{Name: fNotes, Title: "Notes", Spellings: []string{"notes", "note", "remarks", "remark", "comments", "comment"}},
}
