// Package electrical is the arithmetic of a room's wiring on plain values:
// control pairs, branch circuits, inrush and sensor supplies. It sizes no
// conductor and no breaker: results are design checks, and local codes, makers'
// instructions and licensed electricians decide.
package electrical
