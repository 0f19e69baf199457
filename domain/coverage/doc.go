// Package coverage tells what presence sensors see of a room: patterns by
// mounting height, walls and doors in the line of sight, and the shadows of
// partitions that do not reach the ceiling (2.5-D). It reckons on plain values;
// where a result could be taken for a promise, test on site. NewRoom reads a room
// of a project into them.
package coverage
