// Package energycode judges a room's lighting controls by the mandatory controls
// of an energy code. A code is data: a Pack of parameters, requirements by kind
// of space and power densities, each with its clause and a mark that says whether
// the figure was seen somewhere or is from memory. Judging is a pure function of
// plain facts; FactsOf reads them out of a room as it is designed.
//
// There are three answers to what a code asks for: meets this check, does not meet
// this check, cannot tell. A blank in the data is unknown and never an exemption.
// Where a check does not apply, it is not asked, which is no answer about the room.
//
// Comparisons are made in the code's own units (ft2, W, min) on converted values at
// full precision and with the edition's own sign: "150 W or more" and "more than
// 150 W" differ at 150 W.
package energycode

// Notice stands on every screen and sheet that shows what this package finds.
const Notice = "Design aid only. What holds is the energy code as adopted where the building stands, with its local amendments. The authority having jurisdiction and a licensed professional decide. Figures here are a summary in our own words, some of them from memory: read the adopted text beside them before relying on any."

// LifeSafety is said where a check asks to darken light on the way out.
const LifeSafety = "Life-safety rules come before energy rules. Do not darken light on the way out for this check: ask the authority having jurisdiction, and have licensed people design and test the transfer device."
