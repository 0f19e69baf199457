package energycode

import (
	"scopewright/domain"
	"scopewright/domain/daylight"
)

// ZoneCodeOf gives the rules by which a project's daylight zones are drawn: those of
// its energy code, else the first that are known.
func ZoneCodeOf(p *domain.Project) daylight.ZoneCode {
	if pack := PackOf(p); pack != nil {
		if code, known := daylight.FindZoneCode(pack.ZoneRules); known {
			return code
		}
	}
	return daylight.ZoneCodes()[0]
}
