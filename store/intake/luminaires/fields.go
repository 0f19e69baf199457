package luminaires

import "scopewright/store/intake/columns"

// The fields that a luminaire schedule may state, by name.
const (
	fTag         = "tag"
	fDescription = "description"
	fWatts       = "watts"
	fVA          = "va"
	fVolts       = "volts"
	fPF          = "power_factor"
	fDrivers     = "drivers"
	fDriver      = "driver"
	fControl     = "control_ma"
	fInrush      = "inrush_a"
	fInrushUs    = "inrush_us"
	fDimsTo      = "dims_to"
	fDimToOff    = "dim_to_off"
	fSource      = "source"
	fQuantity    = "quantity"
	fTotal       = "total"
)

// fields are the columns that are understood, with the headings that luminaire
// schedules use for them, the surest first: common practice, no published source.
var fields = []columns.Field{
	{Name: fTag, Title: "Type", Key: true, Spellings: []string{
		"type mark", "type tag", "luminaire type", "fixture type", "luminaire tag", "fixture tag", "type", "tag", "mark", "luminaire id", "fixture id", "type id", "type no", "luminaire mark",
		"fixture mark", "symbol", "designation"}, Weak: []string{"luminaire", "fixture", "luminaires", "fixtures", "id", "ref", "reference"}},
	{Name: fDescription, Title: "Description", Spellings: []string{
		"description", "luminaire description", "fixture description", "type description", "desc", "name", "luminaire name", "fixture name"}, Weak: []string{"luminaire", "fixture"}},
	{Name: fWatts, Title: "Watts", Measure: columns.Power, Content: columns.Numbers, Spellings: []string{
		"watts each", "watts per luminaire", "watts per fixture", "watts luminaire", "watts fixture", "w luminaire", "w fixture", "w each", "w ea", "watts ea", "luminaire watts", "fixture watts",
		"luminaire wattage", "fixture wattage", "input watts", "input wattage", "input power", "system watts", "system wattage", "system power", "watts", "wattage", "watt", "w", "power", "rated power", "max watts", "connected load", "load"}},
	{Name: fVA, Title: "Volt-amperes", Measure: columns.Apparent, Content: columns.Numbers, Spellings: []string{
		"va", "input va", "va each", "va per luminaire", "va per fixture", "va luminaire", "va fixture", "apparent power", "volt amps", "volt amperes"}},
	{Name: fVolts, Title: "Volts", Measure: columns.Voltage, Spellings: []string{
		"volts", "voltage", "input voltage", "supply voltage", "line voltage", "rated voltage", "operating voltage", "volt", "v", "input volts"}},
	{Name: fPF, Title: "Power factor", Measure: columns.Percent, Content: columns.Numbers, Spellings: []string{"power factor", "pf", "p f", "cos phi", "cosphi", "cos φ", "λ"}},
	{Name: fDrivers, Title: "Drivers each", Measure: columns.People, Content: columns.Numbers, Spellings: []string{
		"drivers", "drivers each", "drivers per luminaire", "drivers per fixture", "no of drivers", "number of drivers", "driver qty", "driver count", "driver quantity", "qty drivers", "drivers luminaire", "drivers fixture", "no drivers"}},
	{Name: fDriver, Title: "Driver", Content: columns.Words, Spellings: []string{
		"driver type", "driver kind", "dimming type", "dimming method", "dimming protocol", "driver control", "control type", "control method", "control protocol", "dimming control", "dimming", "driver", "dimming driver", "control", "controls", "ballast driver", "driver dimming"}},
	{Name: fControl, Title: "Control current", Measure: columns.Milliamps, Content: columns.Numbers, Spellings: []string{
		"control current", "dimming current", "control ma", "sink current", "source current", "0 10v current", "0 10 v current", "0 10v ma", "0 10v sink current", "0 10v source current", "control current per driver"}},
	{Name: fInrush, Title: "Inrush", Measure: columns.Current, Content: columns.Numbers, Spellings: []string{
		"inrush", "inrush current", "inrush peak", "peak inrush", "peak inrush current", "inrush peak current", "inrush a", "max inrush", "inrush current per driver", "inrush current and time", "inrush a us"}},
	{Name: fInrushUs, Title: "Inrush width", Measure: columns.Microsec, Content: columns.Numbers, Spellings: []string{
		"inrush width", "inrush duration", "inrush time", "inrush pulse width", "inrush pulse", "inrush us", "inrush half peak width", "pulse width", "pulse duration"}},
	{Name: fDimsTo, Title: "Dims to", Measure: columns.Percent, Content: columns.Numbers, Spellings: []string{
		"dims to", "dim to", "dims down to", "dims to pct", "dim to pct", "min dim", "min dim level", "minimum dim level", "minimum dimming level", "minimum dimming", "min dimming", "dimming min", "dimming minimum",
		"min level", "minimum level", "low end", "dim level", "dimming level", "dimming range", "dimming pct", "min output", "minimum output", "min pct", "minimum pct"}},
	{Name: fDimToOff, Title: "Dims to off", Spellings: []string{"dim to off", "dims to off", "dim off", "dim to dark", "off at lowest level", "goes to off", "dim to off y n"}},
	{Name: fSource, Title: "Source", Spellings: []string{"source", "data sheet", "datasheet", "cut sheet", "cutsheet", "source of data", "spec sheet"}},
	{Name: fQuantity, Title: "Quantity", Skip: "understood and not taken: luminaires are counted from the loads of the rooms", Spellings: []string{
		"qty", "quantity", "count", "total qty", "total quantity", "number of luminaires", "no of luminaires", "number of fixtures", "no of fixtures", "fixture count", "luminaire count", "fixture qty", "luminaire qty", "number", "no", "total", "pcs", "pieces"}},
	{Name: fTotal, Title: "Total watts", Skip: "understood and not taken: totals are worked out from the loads of the rooms", Spellings: []string{
		"total watts", "total wattage", "total w", "total load", "total power", "sum watts", "total va", "extended watts"}},
}
