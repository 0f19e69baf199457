package domain

// Caution is a warning that screens and sheets print in a box.
type Caution struct{ Title, Text string }

// CautionFooter stands at the foot of every printed page.
const CautionFooter = "Design advice only: adopted codes, the makers' data and licensed people decide. Mains wiring and egress lighting are work for those licensed to do it."

// The cautions, in our words. Common practice, no published source: the local
// code and the people licensed under it say what holds.
var (
	CautionGeneral = Caution{"What this set is", "This set states how the lighting controls of each room are meant to work. It replaces neither the adopted codes, nor the makers' instructions, nor the judgment of licensed people. Where they differ, they rule: stop and ask the designer."}

	CautionEgress = Caution{"Egress lighting", "Loads marked egress light the way out. Nothing may turn them off or hold them below the level the local code asks for. The listed device that overrides the controls when normal power fails must be fitted and tested. Design, wiring and test belong to people licensed for it."}

	CautionMains = Caution{"Mains wiring", "Line voltage: work dead, locked out and tested, by licensed electricians, to the local code and the makers' instructions. Keep line and control wiring apart as their classes ask. Loads stated here help to plan; they size no wire and no breaker."}

	CautionCircuits = Caution{"Circuits", "For design checks only. Breakers, wire and what may share a circuit follow local codes and the makers' instructions, and a licensed electrician decides. Nothing here shows that an installation is safe."}

	CautionCode = Caution{"Energy and building code", "The code edition named on a sheet is what the designer was told. Delays, areas, levels and exceptions must be checked against the adopted text and its local changes before permit and again before turnover."}

	CautionBattery = Caution{"Battery devices", "A device with a flat cell falls silent. Fit the cell named here, write the date on it, and replace it by the date in the battery plan. Keep cells away from children and dispose of them as the local rules ask."}

	CautionEstimate = Caution{"Estimates", "Energy is estimated from hours, habits and factors that are recalled or assumed, and said beside the figures. A building in use differs, often widely. Nothing here is a promise of a saving, and none of it shows that a code is met."}

	CautionPrediction = Caution{"Predictions, to be measured on site", "Radio links, what sensors see and daylight are reckoned from the plan and from what the types state. Furniture, people, ducts, metal, other radios, air streams, heat, blinds and the weather are not in it. Measure each link when devices join, walk each room under its sensors, measure daylight when its sensors are calibrated, and write down what was found."}

	CautionAsDesigned = Caution{"As designed", "Failure states are stated as designed and must be verified on site, one by one, after start-up: pull the power, cut the network, take a cell out, and watch the room."}
)

// Cautions lists all of them in the order of printing.
func Cautions() []Caution {
	return []Caution{CautionGeneral, CautionEgress, CautionMains, CautionCircuits, CautionCode, CautionBattery, CautionEstimate, CautionPrediction, CautionAsDesigned}
}
