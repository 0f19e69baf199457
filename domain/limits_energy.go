package domain

// Factors of the energy that lighting uses.
const (
	StandbyDriver LimitID = "standby-of-a-driver"
	StandbyDevice LimitID = "standby-of-a-control-device"
)

var energyLimits = Limits{
	{StandbyDriver, "Power that a driver keeps while its lamps are off", 0.4, "W", "0.3 to 0.5 W, common practice, no published source"},
	{StandbyDevice, "Power that a mains-powered control device keeps always", 0.5, "W", "0.3 to 1 W, common practice, no published source"},
}
