// Package energy tells what a room's lighting uses in a year: by the lighting
// energy numeric indicator (LENI) of EN 15193, and by hours and watts. Its
// tables are recalled from EN 15193:2007 and say so: confirm them before a
// report quotes them. Averages that studies published stand beside, as a sanity
// band and never as a room's result.
package energy
