package daylighting

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/validate/rule"
)

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func setLimit(b *domaintest.Builder, id domain.LimitID, v float64) *domaintest.Builder {
	b.P.Limits.Own(id).Value = v
	return b
}

// The band about 6 ft is common practice, no published source: 4 to 8 ft, 1.2192 to
// 2.4384 m.
func TestOpenDistance_bothEnds(t *testing.T) {
	for far, bad := range map[float64]bool{1.2: true, 1.219: true, 1.2192: false, 1.8288: false, 2.4384: false, 2.4386: true} {
		got := found(&OpenDistance, fromGlass(far))
		require.Len(t, got, count(bad), "%g m", far)
		if bad {
			assert.Negative(t, got[0].Margin)
			assert.InDelta(t, far, got[0].Measured, 1e-9)
			assert.Equal(t, []geom.Point{geom.Pt(4, 5-far)}, got[0].Places)
		}
	}
	assert.Equal(t, "DS-1 (open loop) is 8 ft 1 in from the nearest glass that it sees, limit 8 ft: there it sees little of the sky. Move it nearer, or set it to closed loop where it hangs over a task.", found(&OpenDistance, fromGlass(2.47))[0].Message)
	assert.Empty(t, found(&OpenDistance, setLimit(fromGlass(2.47), domain.OpenLoopFarthest, 2.5)))
	assert.Empty(t, found(&OpenDistance, stand(drawn().Set("devices/ds/loop", string(domain.ClosedLoop)), "ds", 4, 2)), "a closed loop")
}

// 45 degrees are a value to choose. The glass lies at 90 degrees from the sensor.
func TestOpenFacing_limit(t *testing.T) {
	for turn, bad := range map[float64]bool{90: false, 134.9: false, 135: false, 135.1: true, 45: false, 44.9: true, 270: true, 0: false} {
		assert.Len(t, found(&OpenFacing, facing(turn)), count(bad), "%g degrees", turn)
	}
	assert.InDelta(t, 180, found(&OpenFacing, facing(270))[0].Measured, 1e-9)
}

// 1.0288 m before the sensor, 30 degrees aside are 1.0288 tan 30 = 0.59398 m.
func TestOpenLamps_withinThirtyDegrees(t *testing.T) {
	for aside, bad := range map[float64]bool{0: true, -0.5: true, 0.5939: true, 0.5941: false, -0.5941: false, 0.618: false} {
		assert.Len(t, found(&OpenLamps, between(aside)), count(bad), "%g m", aside)
	}
	b := between(0.618)
	b.P.Book = append(b.P.Book, *b.P.Book.Find("ds-open"))
	wide := &b.P.Book[len(b.P.Book)-1]
	wide.ID, wide.Angle = "ds-wide", 62.2 // half of it is more than the 31 degrees aside
	b.Set("devices/ds/type", "ds-wide")
	assert.Len(t, found(&OpenLamps, b), 1, "the view that the type states")
	wide.Angle = 61.8
	assert.Empty(t, found(&OpenLamps, b))
}

func TestNoGlass_whatHides(t *testing.T) {
	assert.Len(t, found(&NoGlass, screened(domain.FullWall, 0)), 1)
	assert.Empty(t, found(&NoGlass, screened(domain.Partition, 2.69)), "light passes above it")
	assert.Len(t, found(&NoGlass, screened(domain.Partition, 2.7)), 1, "to the ceiling of 2.7 m")
	b := screened(domain.FullWall, 0)
	b.R.Plan.Rooflights = []domain.Rooflight{{ID: "r", At: geom.Pt(4, 2), Width: 1, Length: 1}}
	assert.Empty(t, found(&NoGlass, b), "it may look up")
	b = screened(domain.FullWall, 0)
	b.R.Plan.Walls[2].Openings[0].Indoors = true
	assert.Empty(t, found(&NoGlass, b), "a window into another room is none")
}

// Similar triangles: the sill is 1.8 m beneath the sensor, so that a view of 60 degrees
// reaches glass nearer than 1.8 tan 30 = 1.03923 m.
func TestClosedGlass_limit(t *testing.T) {
	for far, bad := range map[float64]bool{0.5: true, 1.039: true, 1.0393: false, 1.04: false, 1.5: false} {
		assert.Len(t, found(&ClosedGlass, closed(4, 5-far)), count(bad), "%g m", far)
	}
	assert.Empty(t, found(&ClosedGlass, setLimit(closed(4, 4), domain.ClosedLoopView, 58)), "29.05 degrees")
	assert.Empty(t, found(&ClosedGlass, closed(0.2, 2.5)), "in the corner beside the glass")
}

// 5 ft are 1.524 m: a value to choose.
func TestClosedTask_limit(t *testing.T) {
	for far, bad := range map[float64]bool{0: false, 1.5239: false, 1.524: false, 1.5241: true, 3: true} {
		assert.Len(t, found(&ClosedTask, seated(far)), count(bad), "%g m", far)
	}
	assert.Empty(t, found(&ClosedTask, closed(4, 3.6)), "no seats on the plan")
}

func TestClosedApart_limit(t *testing.T) {
	for far, bad := range map[float64]bool{0: false, 1.5239: false, 1.524: false, 1.5241: true} {
		assert.Len(t, found(&ClosedApart, closed(4, 4.2-far)), count(bad), "%g m behind the row", far)
	}
	assert.Empty(t, found(&ClosedApart, closed(1, 3.9)), "at the end of the row, 0.8 to 7.2 m")
	assert.Len(t, found(&ClosedApart, hangAt(closed(1, 3.9), "l3", row(4.2, 4, 5, 6, 7)...)), 1, "3 m before its begin")
	assert.Empty(t, found(&ClosedApart, hangAt(closed(1, 3.9), "l3")), "not on the plan")
}

func TestTwoFacades_andItsFix(t *testing.T) {
	assert.Empty(t, found(&TwoFacades, cornered()))
	b := cornered().Link("ds", 0, "", "l4", "ACT").Set("intents/i3/loads", "L3, L4")
	got := found(&TwoFacades, b)
	require.Len(t, got, 1)
	assert.EqualValues(t, 2, got[0].Measured)
	assert.Contains(t, got[0].Message, "DS-1 governs L3 and L4, which windows on 2 sides light most")
	require.NotNil(t, got[0].Fix)
	assert.Equal(t, "Let DS-1 act on L3 only", got[0].Fix.Title)
	plan := b.R.Plan
	b.Do(got[0].Fix.Edits...)
	b.R.Plan = plan
	assert.Empty(t, found(&TwoFacades, b))
	assert.Empty(t, found(&NoSensor, b), "the intent leaves it too")

	b = hangAt(cornered(), "l3", geom.Pt(2, 4.2), geom.Pt(7.2, 1))
	got = found(&TwoFacades, b)
	require.Len(t, got, 1)
	assert.Nil(t, got[0].Fix, "one load of both: divide it first")
}

// 10 ft are 3.048 m: for each 3 m or so a zone (common practice, no published source).
func TestDeepRow_limit(t *testing.T) {
	for to, bad := range map[float64]bool{3: false, 3.8479: false, 3.848: false, 3.8482: true, 4.5: true} {
		assert.Len(t, found(&DeepRow, deep(to)), count(bad), "%g m", to)
	}
	both := func(loop domain.LoopKind) *domaintest.Builder {
		return hangAt(drawn().Set("devices/ds/loop", string(loop), "intents/i3/loads", "L1, L3").Link("ds", 0, "", "l1", "ACT"), "l1", row(0.9, 1, 2, 3)...)
	}
	assert.Empty(t, found(&DeepRow, both(domain.OpenLoop)), "set for each load")
	got := found(&DeepRow, both(domain.ClosedLoop))
	require.Len(t, got, 1, "one task for both")
	assert.InDelta(t, 3.3, got[0].Measured, 1e-9)
	assert.Contains(t, got[0].Message, "L1 and L3 together")
}

// At 1 % an overcast sky of 10,000 lx gives 100 lx. Daylight factors are in proportion
// to the glass's transmittance, so that the limit is met at a share of the first.
func TestLittle_limit(t *testing.T) {
	at := func(percent float64) *domaintest.Builder { return tinted(percent) }
	mean := rule.NewFacts(at(50).P, at(50).R, time.Time{}).Daylight().Light.Under("l3").Mean
	for share, bad := range map[float64]bool{0.99: true, 1: false, 1.01: false} {
		got := found(&Little, at(50/mean*share*(1+1e-12)))
		require.Len(t, got, count(bad), "%g of the limit", share)
		if bad {
			assert.InDelta(t, share, got[0].Measured, 1e-9)
		}
	}
	assert.Empty(t, found(&Little, tinted(5).Link("ds", 0, "", "l3", "-")), "no sensor acts on it: another rule's")
}

func TestZoneDiffers_whatMostHangIn(t *testing.T) {
	assert.Empty(t, found(&ZoneDiffers, drawn()))
	got := found(&ZoneDiffers, drawn().Set("loads/l3/zone", string(domain.ZoneSecondary)))
	require.Len(t, got, 1)
	assert.Equal(t, rule.Warning, got[0].Severity)
	assert.Equal(t, `L3 states the window zone "second row", and by the plan 4 of 4 luminaires hang in "window row", 0 in "second row" (rules of ASHRAE 90.1, 2013 to 2022): set the zone, or draw windows and luminaires as they are.`, got[0].Message)

	got = found(&ZoneDiffers, drawn().Set("loads/l1/zone", string(domain.ZoneNone)))
	require.Len(t, got, 1)
	assert.Equal(t, rule.Info, got[0].Severity, "new loads state none")

	half := func(n int) *domaintest.Builder { // of 4 luminaires in the second row
		b, at := drawn(), row(4.2, 0.8, 2.6, 5.4, 7.2)
		for i := range n {
			at[i].Y = 1.5
		}
		return hangAt(b, "l3", at...)
	}
	assert.Empty(t, found(&ZoneDiffers, half(2)))
	assert.Len(t, found(&ZoneDiffers, half(3)), 1)
	assert.Empty(t, found(&ZoneDiffers, half(3).Set("loads/l3/layer", string(domain.Task))), "codes count general lighting")
	b := half(3)
	b.R.Design.Load("l3").Zone = ""
	assert.Empty(t, found(&ZoneDiffers, b), "not stated")
	b = half(3)
	b.P.CodePack = "iecc-2018" // draws no secondary zone: of 4, 1 hangs in the primary one
	got = found(&ZoneDiffers, b)
	require.NotEmpty(t, got)
	assert.Contains(t, got[0].Message, "IECC 2018")
}

// Off at 90 % of 400 lx, back on under 85 %: what adds 20 lx or more hunts. L1 of 38 W
// luminaires and L3 share the sensor's 400 lx by watts.
func TestHunts_bandAgainstWhatTheLampsAdd(t *testing.T) {
	shared := func(all int) *domaintest.Builder { // L3 is one luminaire of so many
		b := switching(domain.ClosedLoop).Set("loads/l3/count", "1", "loads/l1/count", fmt.Sprint(all-1), "intents/i3/loads", "L1, L3", "intents/i3/target_lx", "400 lx").Link("ds", 0, "", "l1", "ACT")
		return b
	}
	for all, bad := range map[int]bool{19: true, 20: true, 21: false} {
		assert.Len(t, found(&Hunts, shared(all)), count(bad), "%g lx of 400", 400/float64(all))
	}
	got := found(&Hunts, switching(domain.ClosedLoop))
	require.Len(t, got, 1)
	assert.Equal(t, "Set DS-1 to open loop", got[0].Fix.Title)
	assert.Nil(t, found(&Hunts, switching(domain.ClosedLoop).Working(1, "ds-open"))[0].Fix, "the room has its open loop")
	assert.Empty(t, found(&Hunts, switching(domain.ClosedLoop).Set("intents/i3/may_off", "no")), "it stays on")
	assert.Empty(t, found(&Hunts, switching(domain.ClosedLoop).Set("loads/l3/dimming", "0-10V")), "it dims")
}

// Where the plan does not show enough nothing is said of places, and that once.
func TestPlaces_quietWithoutAPlan(t *testing.T) {
	bare := map[string]*domaintest.Builder{"not drawn": domaintest.Classroom(), "sensor not placed": drawn(), "no walls": drawn(), "nobody's ceiling": drawn()}
	bare["sensor not placed"].R.Design.Device("ds").At = nil
	bare["no walls"].R.Plan = nil
	bare["nobody's ceiling"].R.Room.Ceiling = 0.5
	for name, b := range bare {
		for _, r := range []*rule.Rule{&OpenDistance, &OpenFacing, &OpenLamps, &NoGlass, &ClosedGlass, &ClosedTask, &ClosedApart, &TwoFacades, &DeepRow, &NotChecked} {
			assert.Empty(t, found(r, b), "%s, %s", name, r.ID)
		}
	}
	assert.Len(t, found(&NotChecked, NotChecked.Fires()), 1)
}

// A fix moves the sensor to where none of the rules about places finds a fault, or it
// says why there is no such place.
func TestHang_movesToASoundPlace(t *testing.T) {
	for name, b := range map[string]*domaintest.Builder{"too far": fromGlass(4), "facing away": facing(270), "lamps": between(0), "screened": screened(domain.FullWall, 0), "glass in view": closed(4, 4.5), "apart": closed(4, 1)} {
		f := rule.NewFacts(b.P, b.R, time.Time{})
		fix, plan := hang(f, &f.Daylight().Sensors[0]), b.R.Plan
		b.Do(fix.Edits...)
		b.R.Plan = plan
		assert.Empty(t, rule.NewFacts(b.P, b.R, time.Time{}).Daylight().Sensors[0].Faults, name)
	}
	b := drawn()
	for i := range 12 {
		for j := range 8 {
			b.R.Fixtures = append(b.R.Fixtures, domain.Fixture{ID: domain.ID(fmt.Sprint("x", i, "-", j)), Load: "l3", At: geom.Pt(0.3+0.65*float64(i), 0.3+0.62*float64(j))})
		}
	}
	f := rule.NewFacts(b.P, b.R, time.Time{})
	_, err := edit.All(edit.OfRoom(b.P, b.R), hang(f, &f.Daylight().Sensors[0]).Edits)
	assert.ErrorContains(t, err, "no place was found for DS-1: nowhere 4 ft to 8 ft from the glass")
}

func BenchmarkDaylight(b *testing.B) {
	room := drawn()
	for _, r := range []struct {
		name  string
		rules []*rule.Rule
	}{{"facts", nil}, {"places", []*rule.Rule{&OpenDistance, &OpenFacing, &OpenLamps, &NoGlass, &ClosedGlass, &ClosedTask, &ClosedApart, &TwoFacades, &DeepRow, &NotChecked}}, {"little", []*rule.Rule{&Little}}, {"zones", []*rule.Rule{&ZoneDiffers}},
		{"all", []*rule.Rule{&OpenDistance, &OpenFacing, &OpenLamps, &NoGlass, &ClosedGlass, &ClosedTask, &ClosedApart, &TwoFacades, &DeepRow, &NotChecked, &Little, &ZoneDiffers, &Hunts}}} {
		b.Run(r.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				f := rule.NewFacts(room.P, room.R, time.Time{})
				for _, one := range r.rules {
					if len(one.Check(f)) > 0 {
						b.Fatal(one.ID)
					}
				}
			}
		})
	}
}
