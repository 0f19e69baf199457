package energycode

import (
	"scopewright/domain/domaintest"
	code "scopewright/domain/energycode"
	"scopewright/validate/rule"
)

// ParkingGarage asks that a garage's lighting falls zone by zone when nobody moves.
var ParkingGarage = rule.Rule{
	ID: "energycode-parking-garage", Title: "Garage stays lit when nobody moves", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "A garage is lit day and night, and somebody moves in any one part of it for minutes an hour.",
	Source:  source,
	Example: "ASHRAE 90.1-2019: down by 50 % within 10 min passes, a second later it does not.",
	Claims:  []code.Control{code.ParkingGarage}, Excepts: excepted(code.ParkingGarage),
	Check: func(f *rule.Facts) []rule.Finding { return check(f, about(code.ParkingGarage), garageFalls) },
	Fires: func() *domaintest.Builder {
		return garage("8 min 59 s")
	},
	Quiet: func() *domaintest.Builder {
		return garage("8 min 58 s")
	},
}

// garageFalls lets the lighting fall as far and as soon as the code asks.
func garageFalls(m *mending) {
	if n := m.a.Broken(); n != nil && (n.Name == "zones" || n.Unit == "ft2") {
		m.stuck = true
	}
	m.darken(100-m.figure(code.ParkingGarage, "reduction"), m.figure(code.ParkingGarage, "delay"))
}
