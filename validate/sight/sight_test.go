package sight

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

func facts(b *domaintest.Builder) *rule.Facts {
	return rule.NewFacts(b.P, b.R, time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC))
}

func found(r *rule.Rule, b *domaintest.Builder) []rule.Finding { return r.Check(facts(b)) }

func setLimit(b *domaintest.Builder, id domain.LimitID, v float64) *domaintest.Builder {
	for i := range b.P.Limits {
		if b.P.Limits[i].ID == id {
			b.P.Limits[i].Value = v
		}
	}
	return b
}

// Similar triangles: a sensor at 2.7 m, a head at 1.1 m, a partition of 1.5 m
// that stands 3 m away throws a shadow of 1.0000 m; at 1.11 m it is 0.0189 m, at
// 1.10 m and below there is none.
func TestSeat_behindAPartition(t *testing.T) {
	for meters, hidden := range map[float64]bool{0.05: true, 0.99: true, 1.0001: false, 1.01: false} {
		assert.Len(t, found(&Seat, behindPartition(meters)), count(hidden), "%g m behind", meters)
	}
	for height, hidden := range map[units.Metres]bool{1.07: false, 1.10: false, 1.11: true, 1.65: true} {
		b := behindPartition(0.01)
		b.R.Plan.Walls[4].Height = height
		assert.Len(t, found(&Seat, b), count(hidden), "%g m high", height)
	}
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// The radius for small motion decides: a seat 3.45 m away below, at and above it.
// One that no sensor sees even of a person who walks is an error.
func TestSeat_radii(t *testing.T) {
	for _, c := range []struct {
		small, walk units.Metres
		want        rule.Severity
	}{{3.46, 5, ""}, {3.45, 5, ""}, {3.44, 5, rule.Warning}, {3.44, 3.45, rule.Warning}, {3.44, 3.44, rule.Error}} {
		typ := wide
		typ.MinorRadius, typ.MajorRadius = c.small, c.walk
		b := example(typ)
		b.R.Sitting = []domain.Seat{{ID: "near", At: geom.Pt(4, 2)}, {ID: "far", At: geom.Pt(7.45, 2.5)}}
		got := found(&Seat, b)
		if c.want == "" {
			assert.Empty(t, got, "%+v", c)
			continue
		}
		require.Len(t, got, 1, "%+v", c)
		if c.want == rule.Error {
			assert.Equal(t, rule.Error, got[0].Severity)
		} else {
			assert.Empty(t, got[0].Severity, "that of the rule")
		}
		assert.EqualValues(t, 1, got[0].Measured)
		assert.Equal(t, []geom.Point{geom.Pt(7.45, 2.5)}, got[0].Places)
		assert.Contains(t, got[0].Message, "1 of 2 seats")
	}
}

// Who comes in is seen half a meter inside: here 3.45 m across and 2 m along,
// 3.9878 m from the sensor (Pythagoras).
func TestEntrance_radii(t *testing.T) {
	for walk, hidden := range map[units.Metres]bool{3.98: true, 3.9877: true, 3.9878: false, 4: false} {
		typ := wide
		typ.MajorRadius = walk
		b := door(example(typ), 0.1, 0.9)
		got := found(&Entrance, b)
		require.Len(t, got, count(hidden), "%g m", walk)
		if hidden {
			assert.Equal(t, []geom.Point{geom.Pt(0.55, 0.5)}, got[0].Places)
			assert.Contains(t, got[0].Message, "1 of 1 entrance,")
		}
	}
	b := door(example(wide), 0.1, 0.9)
	b.R.Plan.Walls[0].Openings[0].Kind = domain.Window
	typ := wide
	typ.MajorRadius = 1
	assert.Empty(t, found(&Entrance, b), "nobody comes in through a window")
}

// One disc of 3.845 m in 9 by 7.5 m: 67.778 % of the cells of 0.25 m (exactly
// 68.488 % of the area by GEOS and by integration).
func TestShare_limit(t *testing.T) {
	for limit, short := range map[float64]bool{67: false, 67.777777: false, 67.8: true, 95: true} {
		got := found(&Share, setLimit(largeRoom(3.845), domain.CoveredShare, limit))
		require.Len(t, got, count(short), "%g %%", limit)
		if short {
			assert.InDelta(t, 67.77778, got[0].Measured, 1e-5)
			assert.InDelta(t, 67.77778-limit, got[0].Margin, 1e-5)
		}
	}
	assert.Equal(t, "PS-1 sees 67.78 % of the floor, limit 95 %: nobody who walks on the other 234 sq ft is seen (cells of 10 in). Move a sensor, add one, or take a type that sees farther.", found(&Share, largeRoom(3.845))[0].Message)
}

// What a sensor sees of a corridor 2 m wide through a door: 1.2892 m2 within
// 3.845 m (GEOS).
func TestLeak_limit(t *testing.T) {
	for limit, over := range map[float64]bool{1.28: true, 1.2885: true, 1.2893: false, 1.3: false} {
		got := found(&Leak, setLimit(smallRoom(3.845), domain.LeakArea, limit))
		require.Len(t, got, count(over), "%g m2", limit)
		if over {
			assert.InDelta(t, 1.2892, got[0].Measured, 0.0005)
			assert.Equal(t, "ps", got[0].Key)
			assert.Equal(t, []geom.Point{geom.Pt(4.45, 0)}, got[0].Places)
		}
	}
	b := smallRoom(3.845)
	for use, asked := range map[string]bool{"corridor": false, "lobby": false, "stair": true} {
		assert.Len(t, found(&Leak, b.Set("facts/use", use)), count(asked), use)
	}
}

// A type for 7 to 12 ft: below, at and above both ends. One that states no
// height is warned of over 12 ft. (Common practice, no published source.)
func TestHeight_limits(t *testing.T) {
	for h, bad := range map[string]bool{"6.9 ft": true, "7 ft": false, "12 ft": false, "12.01 ft": true} {
		got := found(&Height, domaintest.Classroom().Set("devices/ps/height_m", h))
		require.Len(t, got, count(bad), h)
		if bad {
			assert.Empty(t, got[0].Severity)
			assert.Negative(t, got[0].Margin)
		}
	}
	for h, bad := range map[string]bool{"12 ft": false, "12.01 ft": true} {
		got := found(&Height, example(wide).Set("devices/ps/height_m", h))
		require.Len(t, got, count(bad), h)
		if bad {
			assert.Equal(t, rule.Warning, got[0].Severity)
		}
	}
	b := domaintest.Classroom().Set("devices/ps/type", "ps-highbay", "facts/ceiling_m", "")
	assert.Empty(t, found(&Height, b), "nobody has said how high the ceiling is")
	b.Set("facts/ceiling_m", "11 ft")
	assert.Contains(t, found(&Height, b)[0].Message, "PS-1 hangs at 11 ft, lower than 12 ft")
}

// A wedge of 90 degrees on the left wall: it sees the room until it is turned so
// far that the wall's normal is 135 degrees off its middle.
func TestBlind(t *testing.T) {
	for turn, blind := range map[float64]bool{0: false, 90: false, 130: false, 136: true, 180: true, 224: true, 230: false} {
		assert.Len(t, found(&Blind, cornered(turn)), count(blind), "turned by %g", turn)
	}
	b := cornered(0)
	assert.Empty(t, found(&Blind, move(b, "w1", geom.Pt(-0.1, 2.5), 0)), "drawn in the wall")
	assert.Empty(t, found(&Blind, move(b, "w1", geom.Pt(-3, 2.5), 0)), "in another room: that is another rule's")
	boxed := stand(stand(example(wide).Working(1, "ps-ceiling"), geom.Pt(7, 5), geom.Pt(7, 4), 0), geom.Pt(7, 4), geom.Pt(8, 4), 0)
	assert.Empty(t, found(&Blind, move(boxed, "w1", geom.Pt(7.5, 4.5), 0)), "it sees its closet")
}

// Of three luminaires none, one or two hang where the sensor sees.
func TestLoad(t *testing.T) {
	for left, unseen := range map[int]bool{3: true, 2: false, 0: false} {
		got := found(&Load, apart(left))
		require.Len(t, got, count(unseen), "%d hang elsewhere", left)
		if unseen {
			assert.Equal(t, "l4", got[0].Key)
			assert.Len(t, got[0].Places, 3)
			assert.Contains(t, got[0].Message, "L4 is switched by PS-2, which sees nobody under any of its 3 luminaires")
		}
	}
	b := apart(3)
	b.R.Design.Device("w1").At = nil
	assert.Empty(t, found(&Load, b), "where the sensor hangs is not known")
	b = apart(3)
	b.R.Fixtures = nil
	assert.Empty(t, found(&Load, b), "where the luminaires hang is not known")
	assert.Empty(t, found(&Load, apart(3).Link("ps", 0, "", "l4", "ACT")), "the other sensor sees them")
}

// A sensor that is not on the plan leaves open what is seen: that is said once,
// and nothing else is.
func TestNotChecked(t *testing.T) {
	b := behindPartition(0.5).Working(1, wide.ID)
	got := found(&NotChecked, b)
	require.Len(t, got, 1)
	assert.Equal(t, "not placed", got[0].Key)
	assert.Contains(t, got[0].Message, "PS-2")
	for _, r := range []*rule.Rule{&Seat, &Entrance, &Share} {
		assert.Empty(t, found(r, b), r.ID)
	}
	typ := wide
	typ.StatedAt = 0
	got = found(&NotChecked, example(typ))
	require.Len(t, got, 1)
	assert.Equal(t, "no height", got[0].Key)
	got = found(&NotChecked, NotChecked.Fires())
	require.Len(t, got, 1)
	assert.Contains(t, got[0].Message, "500 sq ft")
}

// Nothing is reckoned, and nothing costs, where walls, outline or sensors are
// missing.
func TestSightNeedsThePlan(t *testing.T) {
	all := []*rule.Rule{&Seat, &Entrance, &Share, &Leak, &Blind, &Load, &NotChecked}
	for name, spoil := range map[string]func(*domaintest.Builder){
		"no walls":   func(b *domaintest.Builder) { b.R.Plan = nil },
		"no outline": func(b *domaintest.Builder) { b.R.Outline = geom.Polygon{} },
		"broken outline": func(b *domaintest.Builder) {
			b.R.Outline.Outer[0], b.R.Outline.Outer[1] = b.R.Outline.Outer[1], b.R.Outline.Outer[0]
		},
		"no sensor":  func(b *domaintest.Builder) { b.Do(edit.Remove{Part: "devices", ID: "ps"}) },
		"not placed": func(b *domaintest.Builder) { b.R.Design.Device("ps").At = nil },
	} {
		b := behindPartition(0.5)
		spoil(b)
		f := facts(b)
		assert.Nil(t, f.Sight(), name)
		for _, r := range all {
			assert.Empty(t, r.Check(f), "%s: %s", name, r.ID)
		}
	}
}

// The fix finds places from which all is seen, or says why it does not.
func TestFix(t *testing.T) {
	b := smallRoom(3.845)
	fix := found(&Leak, b)[0].Fix
	require.NotNil(t, fix)
	plan := b.R.Plan
	b.Do(fix.Edits...)
	b.R.Plan = plan
	after := facts(b).Sight()
	for _, l := range after.Leaks() {
		assert.LessOrEqual(t, l.Area, 0.5)
	}
	assert.GreaterOrEqual(t, after.Share(coverage.Major), 0.7)
	typ := wide
	typ.MajorRadius, typ.MinorRadius = 0.5, 0.5
	b = example(typ)
	b.P.Book = b.P.Book[len(b.P.Book)-1:]
	_, err := edit.All(edit.OfRoom(b.P, b.R), found(&Share, b)[0].Fix.Edits)
	assert.ErrorContains(t, err, "no places were found")
	assert.IsType(t, propose.ArrangeSensors{}, fix.Edits[0])
}

// All sight rules of a room of 8 by 5 m with six seats and two sensors.
func BenchmarkRules(b *testing.B) {
	one := cornered(0)
	for b.Loop() {
		f := facts(one)
		for _, r := range []*rule.Rule{&Seat, &Entrance, &Share, &Leak, &Height, &Blind, &Load, &NotChecked} {
			r.Check(f)
		}
	}
}
