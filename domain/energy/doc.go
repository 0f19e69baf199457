// Package energy tells what a room's lighting uses in a year: by the lighting
// energy numeric indicator (LENI) of EN 15193, and by weeks of people and daylight
// that are played through the room's own intents, and once more with only hands left;
// Whys tells cause by cause why the two differ. Its factors are limits of the project,
// the built-in ones recalled from EN 15193:2007, and say so: confirm them before a
// report quotes them. Averages that studies published stand beside, as a sanity band
// and never as a room's result; money and carbon dioxide only by rates that the
// project states.
package energy
