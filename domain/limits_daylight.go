package domain

// What daylight is reckoned with where the plan does not say.
const (
	GlassTransmittance LimitID = "glass-transmittance"
	GlazedShare        LimitID = "glazed-share"
	GlassMaintenance   LimitID = "glass-maintenance"
	WindowSill         LimitID = "window-sill"
	WindowHead         LimitID = "window-head"
	ReflectanceCeiling LimitID = "reflectance-ceiling"
	ReflectanceWalls   LimitID = "reflectance-walls"
	ReflectanceFloor   LimitID = "reflectance-floor"
	ReflectanceGlass   LimitID = "reflectance-glass"
	ReflectanceGround  LimitID = "reflectance-ground"
	OutsideLuminance   LimitID = "outside-luminance"
	WorkPlane          LimitID = "work-plane"
	DaylightGrid       LimitID = "daylight-grid"
	OvercastDays       LimitID = "overcast-days"
	DimmedPower        LimitID = "dimmed-power"
	RoomBesideWindow   LimitID = "room-beside-window"
	OpenLoopNearest    LimitID = "open-loop-nearest"
	OpenLoopFarthest   LimitID = "open-loop-farthest"
	OpenLoopAside      LimitID = "open-loop-aside"
	ClosedLoopView     LimitID = "closed-loop-view"
	ClosedLoopTask     LimitID = "closed-loop-from-task"
	DaylightRowDepth   LimitID = "daylight-row-depth"
	LeastFactor        LimitID = "least-daylight-factor"
)

var daylightLimits = Limits{
	{GlassTransmittance, "Diffuse transmittance of glass that states none", 68, "%", "clear double glazing, common practice, no published source"},
	{GlazedShare, "Glass in the opening of a window, beside its frame", 85, "%", commonPractice},
	{GlassMaintenance, "Light that dirt on glass leaves", 90, "%", commonPractice},
	{WindowSill, "Sill of windows that state no heights", 0.9, "m", commonPractice},
	{WindowHead, "Head of windows that state no heights", 2.1, "m", commonPractice},
	{RoomBesideWindow, "Distance from a wall's face at which a window looks for the room on its other side", 0.3, "m", "finishes and linings lie between, " + commonPractice},
	{ReflectanceCeiling, "Reflectance of ceilings", 70, "%", commonPractice},
	{ReflectanceWalls, "Reflectance of walls", 50, "%", commonPractice},
	{ReflectanceFloor, "Reflectance of floors", 20, "%", commonPractice},
	{ReflectanceGlass, "Reflectance of glass seen from within", 10, "%", commonPractice},
	{ReflectanceGround, "Reflectance of the ground outdoors", 10, "%", "Building Research Establishment's split flux method, from memory"},
	{OutsideLuminance, "Luminance of what stands outside over that of the sky it hides", 20, "%", "Building Research Establishment's method, from memory; others use 10 %"},
	{WorkPlane, "Height of the plane on which daylight is reckoned", 0.85, "m", "0.85 m in Europe, 0.76 m (30 in) in North America, common practice"},
	{DaylightGrid, "Step of the grid on which daylight is reckoned", 0.5, "m", commonPractice},
	{OvercastDays, "Overcast days of a year, in the mixed sky", 50, "%", "a value to choose: read it from a weather record of the place"},
	{DimmedPower, "Least power of lamps dimmed by daylight, of full", 20, "%", "drivers take more power than light at their lowest level, common practice: read it from the driver's sheet"},
	{OpenLoopNearest, "Nearest that an open-loop daylight sensor hangs to the glass", 1.2192, "m", "4 ft; about 6 ft (1.8 m) is common practice, no published source"},
	{OpenLoopFarthest, "Farthest that an open-loop daylight sensor hangs from the glass", 2.4384, "m", "8 ft; about 6 ft (1.8 m) is common practice, no published source"},
	{OpenLoopAside, "Most that an open-loop daylight sensor looks aside of the glass", 45, "degrees", commonPractice},
	{ClosedLoopView, "View of a closed-loop daylight sensor that states none", 60, "degrees", "read it from the maker's sheet; " + commonPractice},
	{ClosedLoopTask, "Farthest that a closed-loop daylight sensor hangs from a task and from its zone, level", 1.524, "m", "5 ft; above a typical task is common practice, no published source"},
	{DaylightRowDepth, "Depth from the glass that is dimmed by daylight as one", 3.048, "m", "10 ft; one zone for each 3 m or so is common practice, no published source"},
	{LeastFactor, "Mean daylight factor under which a load is hardly dimmed by daylight", 1, "%", "half of the 2 % that BS 8206-2 asks of a room that looks daylit (from memory); a value to choose"},
}
