package domain

// GoesTo tells that the intent takes its loads to its scene or level.
func (in *Intent) GoesTo() bool {
	switch in.Kind {
	case ByPresence:
		return in.Enters
	case BySchedule:
		return in.OnAt != "" && in.Do != SetMode
	case ByAV, ByContact, OnMode:
		return in.Do == GoTo || in.Do == Lock
	case OnPowerBack:
		return in.Restore == RestoreSet
	case OnEmergency, OnNetworkLoss:
		return true
	}
	return false
}

// GoesToLevel tells that the intent takes its loads to its level and to no
// scene; a lock is always at the level.
func (in *Intent) GoesToLevel() bool {
	return in.GoesTo() && (in.Scene == 0 || in.Do == Lock || in.Kind == OnEmergency || in.Kind == OnNetworkLoss || in.Kind == OnPowerBack)
}
