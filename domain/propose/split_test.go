package propose_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
)

// floor builds a large room: cells of 6 by 6 m in columns and rows, each with a
// sensor in its middle, a controller of two loads with two luminaires each, and
// the sensor's links to them.
type floor struct {
	*domaintest.Builder
	columns, rows int
}

const cell = 6.0

func newFloor(columns, rows int) *floor {
	f := &floor{domaintest.Room(), columns, rows}
	f.R.Outline = geom.Rectangle(0, 0, cell*float64(columns), cell*float64(rows))
	for y := range rows {
		for x := range columns {
			f.cell(x, y)
		}
	}
	return f
}

func (f *floor) cell(x, y int) {
	name := func(what string) domain.ID { return domain.ID(fmt.Sprintf("%s-%d-%d", what, x, y)) }
	left, low := cell*float64(x), cell*float64(y)
	d := &f.R.Design
	d.Devices = append(d.Devices,
		domain.Device{ID: name("ps"), Tag: string(name("PS")), Type: "ps-ceiling", Presence: domain.Vacancy, At: new(geom.Pt(left+3, low+3))},
		domain.Device{ID: name("lc"), Tag: string(name("LC")), Type: "lc-2", At: new(geom.Pt(left+3.5, low+3))})
	for n := range 2 {
		load := name(fmt.Sprintf("l%d", n+1))
		d.Loads = append(d.Loads, domain.Load{ID: load, Tag: string(load), Kind: domain.Lighting, Luminaire: "a", Count: 2, Controller: name("lc"), Output: n + 1})
		for m := range 2 {
			f.R.Fixtures = append(f.R.Fixtures, domain.Fixture{ID: load + domain.ID(fmt.Sprint("-f", m)), Load: load, At: geom.Pt(left+1.5+3*float64(n), low+1.5+3*float64(m))})
		}
		f.act(name("ps"), load)
	}
}

func (f *floor) act(device, load domain.ID) {
	f.R.Design.Links = append(f.R.Design.Links, domain.Link{ID: domain.LinkID(device, 0, "", load), Device: device, Load: load, Do: domain.Action{Verb: domain.Acts}})
}

// put adds a device at a place; a station's first button acts on the loads of cells.
func (f *floor) put(id domain.ID, typ string, at geom.Point, cells ...[2]int) {
	d := &f.R.Design
	dev := domain.Device{ID: id, Tag: string(id), Type: typ, At: &at}
	if typ == "ds-open" {
		dev.Loop = domain.ClosedLoop
	}
	d.Devices = append(d.Devices, dev)
	for _, c := range cells {
		for n := range 2 {
			load := domain.ID(fmt.Sprintf("l%d-%d-%d", n+1, c[0], c[1]))
			d.Links = append(d.Links, domain.Link{ID: domain.LinkID(id, 1, domain.Press, load), Device: id, Button: 1, On: domain.Press, Load: load, Do: domain.Action{Verb: domain.Toggle}})
		}
	}
}

// openOffice is the case of the capacity page: 78 devices with 20 sensors.
func openOffice() *floor {
	f := newFloor(5, 4)
	f.put("gw", "gw-room", geom.Pt(15.5, 12.2))
	for n := range 18 {
		f.put(domain.ID(fmt.Sprint("rc", n)), "rc-20", geom.Pt(1+1.6*float64(n), 5.5))
	}
	for n := range 12 {
		x := n % 5
		f.put(domain.ID(fmt.Sprint("st", n)), "st-4-mains", geom.Pt(cell*float64(x)+1, 24*float64(n/5%2)), [2]int{x, 3 * (n / 5 % 2)}, [2]int{min(4, x+1), 3 * (n / 5 % 2)})
	}
	for n := range 7 {
		f.put(domain.ID(fmt.Sprint("ds", n)), "ds-open", geom.Pt(2+4*float64(n), 23))
	}
	return f
}

// soundDivision checks all that must hold of a division that fits.
func soundDivision(t require.TestingT, p *domain.Project, r *domain.Resolved, d propose.Division) {
	require.True(t, d.Fits, d.Why)
	soundParts(t, r, d)
	gateways := slices.ContainsFunc(r.Design.Devices, func(d domain.Device) bool { return d.Type == "gw-room" })
	for _, a := range d.Areas {
		withinLimits(t, p, r, a, gateways)
	}
}

// soundParts checks that the areas tile the outline and that each part of the
// room is in one of them.
func soundParts(t require.TestingT, r *domain.Resolved, d propose.Division) {
	require.GreaterOrEqual(t, len(d.Areas), d.Bound)
	devices, loads, sum := map[domain.ID]int{}, map[domain.ID]int{}, 0.0
	for n, a := range d.Areas {
		require.Empty(t, a.Outline.Validate())
		sum += a.Outline.Area()
		for m := range n {
			shared, err := geom.OverlapArea(a.Outline, d.Areas[m].Outline)
			require.NoError(t, err)
			require.Less(t, shared, 0.01, "areas %d and %d overlap", m, n)
		}
		beyond, err := geom.Difference(a.Outline, r.Outline)
		require.NoError(t, err)
		require.Less(t, geom.TotalArea(beyond), 0.01)
		for _, id := range a.Devices {
			_, twice := devices[id]
			require.False(t, twice, "device %s twice", id)
			devices[id] = n
		}
		for _, id := range a.Loads {
			_, twice := loads[id]
			require.False(t, twice, "load %s twice", id)
			loads[id] = n
		}
	}
	require.InDelta(t, r.Outline.Area(), sum, 0.01)
	require.Len(t, devices, len(r.Design.Devices))
	require.Len(t, loads, len(r.Design.Loads))
	for _, l := range r.Design.Loads {
		if by, ok := devices[l.Controller]; ok && !hangsAnew(d.Areas[loads[l.ID]], l.ID) {
			require.Equal(t, by, loads[l.ID], "load %s stays with its controller", l.ID)
		}
	}
	cut := 0
	for _, k := range r.Design.Links {
		if devices[k.Device] != loads[k.Load] && k.Do.Verb != domain.Nothing {
			cut++
		}
	}
	require.Len(t, d.Cut, cut)
}

// hangsAnew tells that a load of an area changes its controller, and holds it to
// one that the area has or gets.
func hangsAnew(a propose.Area, load domain.ID) bool {
	return slices.ContainsFunc(a.Hung, func(h propose.Hanging) bool {
		return h.Load == load && h.Output > 0 && (slices.Contains(a.Devices, h.Controller) ||
			slices.ContainsFunc(a.Added, func(d domain.Device) bool { return d.ID == h.Controller }))
	})
}

// withinLimits counts anew what an area has and holds it to the limits.
func withinLimits(t require.TestingT, p *domain.Project, r *domain.Resolved, a propose.Area, gateway bool) {
	sub := &domain.Design{Devices: slices.Clone(a.Added)}
	for _, id := range a.Devices {
		sub.Devices = append(sub.Devices, *r.Design.Device(id))
	}
	var presence, stations, daylight, gateways, av int
	children := map[domain.ID]int{}
	for i := range sub.Devices {
		d := &sub.Devices[i]
		typ := p.Book.Find(d.Type)
		tr := typ.Kind.Traits()
		if tr.Presence {
			presence++
		}
		if tr.Buttons && !tr.OwnOnly && typ.Supply == "battery" {
			stations++
		}
		if tr.Daylight && d.Loop != domain.ClosedLoop {
			daylight++
		}
		switch typ.Kind {
		case "gateway":
			gateways++
		case "av":
			av++
		}
		if typ.Supply == "battery" {
			parent := sub.Device(a.Parents[d.ID])
			require.NotNil(t, parent, "%s has a parent in its area", d.ID)
			require.True(t, p.Book.Find(parent.Type).Routes)
			children[parent.ID]++
		}
	}
	limit := func(id domain.LimitID) int { return int(p.Limits.Value(id)) }
	require.LessOrEqual(t, len(sub.Devices), limit(domain.DevicesPerRoom))
	require.LessOrEqual(t, presence, limit(domain.PresencePerRoom))
	require.LessOrEqual(t, stations, limit(domain.BatteryStations))
	require.LessOrEqual(t, daylight, limit(domain.DaylightPerRoom))
	require.LessOrEqual(t, gateways, limit(domain.GatewaysPerRoom))
	require.LessOrEqual(t, av, limit(domain.AVPerRoom))
	for id, n := range children {
		require.LessOrEqual(t, n, limit(domain.ChildrenPerRouter), "children of %s", id)
	}
	if gateway {
		require.NotZero(t, gateways, "each area has a gateway of its own")
	}
}

// ceil(78/32) = 3 areas, with 8 sensors an area also ceil(20/8) = 3: common
// practice, no published source.
func TestDivide_openOfficeOf78DevicesTakesThreeAreas(t *testing.T) {
	f := openOffice()
	require.Len(t, f.R.Design.Devices, 78)
	d := propose.Divide(f.P, f.R)
	assert.Equal(t, 3, d.Bound)
	assert.Contains(t, d.Ceilings, propose.Ceiling{Limit: domain.DevicesPerRoom, Have: 78, Most: 32, Areas: 3})
	assert.Contains(t, d.Ceilings, propose.Ceiling{Limit: domain.PresencePerRoom, Have: 20, Most: 8, Areas: 3})
	soundDivision(t, f.P, f.R, d)
	assert.Len(t, d.Areas, 3)
	assert.True(t, d.Fewest && d.Best, "the search came to its end")
	assert.Contains(t, d.Areas[0].Devices, domain.ID("gw"), "the first area keeps the gateway")
	assert.Empty(t, d.Areas[0].Added)
	assert.Equal(t, d, propose.Divide(f.P, f.R), "the same each time")
	for _, a := range d.Areas[1:] {
		require.Len(t, a.Added, 1)
		assert.Equal(t, "gw-room", a.Added[0].Type)
	}
}

// A case by hand: 33 devices, one over the limit of 32 (common practice), in two
// halves of a room that nothing links; the doorway between them is the short cut.
func TestDivide_oneDeviceOverIsCutAtTheNarrowPlace(t *testing.T) {
	f := newFloor(0, 0)
	// Two rooms of 10 by 10 m, with a neck of 2 by 2 m between them.
	f.R.Outline = geom.Polygon{Outer: points(0, 0, 10, 0, 10, 4, 12, 4, 12, 0, 22, 0, 22, 10, 12, 10, 12, 6, 10, 6, 10, 10, 0, 10)}
	for n := range 33 {
		x := 1 + 0.5*float64(n)
		if n > 16 {
			x = 12.5 + 0.5*float64(n-17)
		}
		f.put(domain.ID(fmt.Sprint("rt", n)), "rt-plug", geom.Pt(x, 5))
	}
	d := propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	require.Len(t, d.Areas, 2)
	assert.Equal(t, 2, d.Bound)
	assert.InDelta(t, 2, float64(d.Length), 1e-3, "across the neck")
	f.R.Design.Devices = f.R.Design.Devices[:32]
	d = propose.Divide(f.P, f.R)
	assert.False(t, d.Fits)
	assert.Equal(t, 1, d.Bound)
	assert.Contains(t, d.Why, "no need to divide it")
}

func points(xy ...float64) []geom.Point {
	out := make([]geom.Point, len(xy)/2)
	for i := range out {
		out[i] = geom.Pt(xy[2*i], xy[2*i+1])
	}
	return out
}

// 4 routers and 28 battery devices of which each router takes 6: 4 short, one
// router more makes 33 devices, which does not fit 32 (common practice).
func TestDivide_countsTheRoutersThatAreasNeed(t *testing.T) {
	f := newFloor(0, 0)
	f.R.Outline = geom.Rectangle(0, 0, 40, 8)
	for n := range 4 {
		f.put(domain.ID(fmt.Sprint("rt", n)), "rt-plug", geom.Pt(5+10*float64(n), 4))
	}
	for n := range 28 {
		f.put(domain.ID(fmt.Sprint("ds", n)), "ds-open", geom.Pt(0.7+1.4*float64(n), 6))
	}
	d := propose.Divide(f.P, f.R)
	assert.Equal(t, 2, d.Bound, "33 of 32")
	soundDivision(t, f.P, f.R, d)
	require.Len(t, d.Areas, 2)
	added := len(d.Areas[0].Added) + len(d.Areas[1].Added)
	assert.GreaterOrEqual(t, added, 1)
	f.P.Limits = append(domain.Limits{{ID: domain.DevicesPerRoom, Value: 33}}, f.P.Limits...)
	d = propose.Divide(f.P, f.R)
	assert.Contains(t, d.Why, "no need to divide it", "33 devices with the router that it lacks are within 33")
}

// A battery device that states what it hears gets a router near it where its
// area has none that it hears.
func TestDivide_keepsToWhatDevicesHear(t *testing.T) {
	f := openOffice()
	for i := range f.R.Design.Devices {
		if d := &f.R.Design.Devices[i]; d.Type == "ps-ceiling" {
			d.Hears = []domain.ID{"lc-0-0", "lc-2-0", "lc-4-3", "gw"}
		}
	}
	d := propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	for _, a := range d.Areas {
		for child, parent := range a.Parents {
			dev := f.R.Design.Device(child)
			if len(dev.Hears) == 0 || slices.Contains(dev.Hears, parent) {
				continue
			}
			assert.True(t, slices.ContainsFunc(a.Added, func(o domain.Device) bool { return o.ID == parent && o.Type == "rt-plug" }), "%s has %s", child, parent)
		}
	}
}

// A sensor has a parent within its radio's reach on the plan, or one that is to
// be added near it. At a margin of 45 dB, 0 dBm and -100 dBm reach over 55 dB of
// loss: 5.5 m in free space at 2440 MHz (ITU-R P.525: 20 lg f + 20 lg d - 27.55 dB).
func TestDivide_keepsToWhatTheRadioReaches(t *testing.T) {
	f := openOffice()
	f.P.Limits = append(domain.Limits{{ID: domain.LinkMargin, Value: 45}}, f.P.Limits...)
	for i := range f.R.Design.Devices { // controllers go to the far corner
		if d := &f.R.Design.Devices[i]; d.Type == "lc-2" || d.Type == "rc-20" || d.Type == "st-4-mains" {
			*d.At = geom.Pt(29-float64(i%12)/10, 1+float64(i/12)/10)
		}
	}
	d := propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	reached, added := 0, 0
	for _, a := range d.Areas {
		for child, parent := range a.Parents {
			if slices.ContainsFunc(a.Added, func(o domain.Device) bool { return o.ID == parent }) {
				added++
				continue
			}
			far := f.R.Design.Device(child).At.Distance(*f.R.Design.Device(parent).At)
			assert.Less(t, far, 5.6, "%s and %s", child, parent)
			reached++
		}
	}
	assert.NotZero(t, reached)
	assert.NotZero(t, added)
}

func TestDivide_roomsOfAllShapes(t *testing.T) {
	for name, shape := range map[string]geom.Polygon{
		"L":       {Outer: points(0, 0, 30, 0, 30, 12, 12, 12, 12, 24, 0, 24)},
		"U":       {Outer: points(0, 0, 30, 0, 30, 24, 20, 24, 20, 10, 10, 10, 10, 24, 0, 24)},
		"comb":    {Outer: points(0, 0, 30, 0, 30, 24, 24, 24, 24, 8, 18, 8, 18, 24, 12, 24, 12, 8, 6, 8, 6, 24, 0, 24)},
		"court":   {Outer: points(0, 0, 30, 0, 30, 24, 0, 24), Holes: [][]geom.Point{points(10, 8, 10, 16, 20, 16, 20, 8)}},
		"turned":  geom.Rectangle(0, 0, 30, 24).Rotate(geom.Pt(3, 4), 0.7),
		"slanted": {Outer: points(0, 0, 30, 3, 33, 24, -4, 20)},
	} {
		f := openOffice()
		f.R.Outline = shape
		d := propose.Divide(f.P, f.R)
		soundDivision(t, f.P, f.R, d)
		assert.Equal(t, 3, d.Bound, name)
		assert.LessOrEqual(t, len(d.Areas), 4, name)
	}
}

func TestDivide_saysWhyItCannot(t *testing.T) {
	f := openOffice()
	f.R.Outline = geom.Polygon{}
	assert.Contains(t, propose.Divide(f.P, f.R).Why, "no outline on the plan")

	f = openOffice()
	f.R.Outline = geom.Polygon{Outer: points(0, 0, 30, 24, 30, 0, 0, 24)}
	assert.Contains(t, propose.Divide(f.P, f.R).Why, "not sound")

	f = openOffice()
	f.R.Fixtures = nil
	for i := range f.R.Design.Devices {
		f.R.Design.Devices[i].At = nil
	}
	d := propose.Divide(f.P, f.R)
	assert.Contains(t, d.Why, "Nothing in the room has a place")
	assert.Equal(t, 3, d.Bound, "the bound is known all the same")
	assert.Len(t, d.Unplaced, 78)

	f = openOffice()
	for i := range f.R.Design.Devices {
		if at := f.R.Design.Devices[i].At; at != nil {
			*at = geom.Pt(5, 5)
		}
	}
	for i := range f.R.Fixtures {
		f.R.Fixtures[i].At = geom.Pt(5, 5)
	}
	assert.Contains(t, propose.Divide(f.P, f.R).Why, "No straight cuts were found that give 3 to", "all in one place")

	// Nine wired sensors on one contact input go together: 9 where 8 are allowed;
	// eight do not stand against it.
	f = newFloor(5, 2)
	f.put("cn", "cn-2", geom.Pt(1, 1))
	for n := range 8 {
		id := domain.ID(fmt.Sprint("wired", n))
		f.put(id, "ps-wired", geom.Pt(0.5+float64(n)/10, 2))
		f.R.Design.Device(id).FedBy = "cn"
	}
	soundDivision(t, f.P, f.R, propose.Divide(f.P, f.R))
	f.put("wired8", "ps-wired", geom.Pt(1.4, 2))
	f.R.Design.Device("wired8").FedBy = "cn"
	assert.Equal(t, `cn and what is wired to it stay together and make 9 where the limit "Occupancy or vacancy sensors in one room" is 8: wire some of it to another device first.`, propose.Divide(f.P, f.R).Why)
}

// What has no place goes with what it acts on: here each station with the loads
// of its cell, though none of them stands anywhere.
func TestDivide_whatHasNoPlaceGoesWithItsLoads(t *testing.T) {
	f := newFloor(8, 2)
	for x := range 8 {
		id := domain.ID(fmt.Sprint("st", x))
		f.put(id, "st-4-mains", geom.Point{}, [2]int{x, 0}, [2]int{x, 1})
		f.R.Design.Device(id).At = nil
	}
	d := propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	require.Len(t, d.Areas, 2, "16 sensors at 8 an area")
	assert.Empty(t, d.Cut)
	assert.Len(t, d.Unplaced, 8)
}

// A load goes whole to one area, with its controller, wherever its luminaires hang.
func TestDivide_tellsWhatStandsInAnotherArea(t *testing.T) {
	f := newFloor(4, 3)
	for x := range 4 { // the first load of each cell lights the far side of the room too
		load := domain.ID(fmt.Sprintf("l1-%d-0", x))
		f.R.Fixtures = append(f.R.Fixtures, domain.Fixture{ID: load + "-far", Load: load, At: geom.Pt(cell*float64((x+2)%4)+3, 16)})
	}
	d := propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	require.Len(t, d.Areas, 2)
	require.NotEmpty(t, d.Strays)
	for _, x := range d.Strays {
		assert.NotEqual(t, x.Area, x.In)
		assert.Equal(t, 3, x.Of, "two in its cell, one far away")
		assert.Contains(t, d.Areas[x.Area].Loads, x.Load)
	}
}
