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
)

var daylightLimits = Limits{
	{GlassTransmittance, "Diffuse transmittance of glass that states none", 68, "%", "clear double glazing, common practice, no published source"},
	{GlazedShare, "Glass in the opening of a window, beside its frame", 85, "%", commonPractice},
	{GlassMaintenance, "Light that dirt on glass leaves", 90, "%", commonPractice},
	{WindowSill, "Sill of windows that state no heights", 0.9, "m", commonPractice},
	{WindowHead, "Head of windows that state no heights", 2.1, "m", commonPractice},
	{ReflectanceCeiling, "Reflectance of ceilings", 70, "%", commonPractice},
	{ReflectanceWalls, "Reflectance of walls", 50, "%", commonPractice},
	{ReflectanceFloor, "Reflectance of floors", 20, "%", commonPractice},
	{ReflectanceGlass, "Reflectance of glass seen from within", 10, "%", commonPractice},
	{ReflectanceGround, "Reflectance of the ground outdoors", 10, "%", "Building Research Establishment's split flux method, from memory"},
	{OutsideLuminance, "Luminance of what stands outside over that of the sky it hides", 20, "%", "Building Research Establishment's method, from memory; others use 10 %"},
	{WorkPlane, "Height of the plane on which daylight is reckoned", 0.85, "m", "0.85 m in Europe, 0.76 m (30 in) in North America, common practice"},
	{DaylightGrid, "Step of the grid on which daylight is reckoned", 0.5, "m", commonPractice},
	{OvercastDays, "Overcast days of a year, in the mixed sky", 50, "%", "a value to choose: read it from a weather record of the place"},
}
