package propose_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/propose"
)

// areaWith gives the area that has a device or a load.
func areaWith(t require.TestingT, d propose.Division, id domain.ID) int {
	at := slices.IndexFunc(d.Areas, func(a propose.Area) bool {
		return slices.Contains(a.Devices, id) || slices.Contains(a.Loads, id)
	})
	require.GreaterOrEqual(t, at, 0, id)
	return at
}

// Each way is a division by itself, of as few areas as the best one has, and the
// best one is among them.
func TestDivisions_areEachSoundAndDiffer(t *testing.T) {
	f := openOffice()
	best := propose.Divide(f.P, f.R)
	ways := propose.Divisions(f.P, f.R, 12)
	require.Greater(t, len(ways), 3)
	require.LessOrEqual(t, len(ways), 12)
	seen := map[string]bool{}
	for _, w := range ways {
		soundDivision(t, f.P, f.R, w)
		require.Len(t, w.Areas, len(best.Areas))
		require.Equal(t, best.Bound, w.Bound)
		raw, err := json.Marshal(w.Areas)
		require.NoError(t, err)
		assert.False(t, seen[string(raw)], "the same twice")
		seen[string(raw)] = true
	}
	assert.Equal(t, ways, propose.Divisions(f.P, f.R, 12), "the same each time")
	assert.Contains(t, propose.Divisions(f.P, f.R, 1000), best)
	assert.Equal(t, ways[:1], propose.Divisions(f.P, f.R, 1))
}

func TestDivisions_sayWhyThereAreNone(t *testing.T) {
	f := newFloor(2, 2)
	ways := propose.Divisions(f.P, f.R, 12)
	require.Len(t, ways, 1)
	assert.False(t, ways[0].Fits)
	assert.Contains(t, ways[0].Why, "no need to divide it")
}

// Counted by hand: the cut beside lc0 parts one link, after which no sensor acts on
// l1; the one in the middle parts the second links of two stations, of which l2 has
// another and they have l1. Nine devices, at most seven an area.
func TestDivisions_leastBereftComesFirst(t *testing.T) {
	f := newFloor(0, 0)
	f.R.Outline = geom.Rectangle(0, 0, 40, 6)
	d := &f.R.Design
	for n := range 4 {
		lc, load := domain.ID(fmt.Sprint("lc", n)), domain.ID(fmt.Sprint("l", n))
		f.put(lc, "lc-2", geom.Pt(5+10*float64(n), 3))
		d.Loads = append(d.Loads, domain.Load{ID: load, Tag: string(load), Kind: domain.Lighting, Controller: lc, Output: 1})
	}
	for id, x := range map[domain.ID]float64{"ps0": 4, "ps3": 36} {
		f.put(id, "ps-wired", geom.Pt(x, 3))
	}
	for id, x := range map[domain.ID]float64{"sta": 14, "stb": 14.5, "stc": 26} {
		f.put(id, "st-4-mains", geom.Pt(x, 3))
	}
	for id, loads := range map[domain.ID][]domain.ID{"ps0": {"l0", "l1"}, "ps3": {"l2", "l3"}, "sta": {"l1", "l2"}, "stb": {"l1", "l2"}, "stc": {"l2"}} {
		for _, load := range loads {
			f.act(id, load)
		}
	}
	f.P.Limits = append(domain.Limits{{ID: domain.DevicesPerRoom, Value: 7}}, f.P.Limits...)
	fewest := propose.Divide(f.P, f.R)
	require.True(t, fewest.Fits, fewest.Why)
	assert.Len(t, fewest.Cut, 1)
	assert.NotEqual(t, areaWith(t, fewest, "l0"), areaWith(t, fewest, "l1"))
	first := propose.Divisions(f.P, f.R, 12)[0]
	assert.Len(t, first.Cut, 2)
	assert.Equal(t, areaWith(t, first, "l0"), areaWith(t, first, "l1"))
	assert.NotEqual(t, areaWith(t, first, "l1"), areaWith(t, first, "l2"))
}

// row is a row of eight cells, in a project of four presence sensors an area.
func row() *floor {
	f := newFloor(8, 1)
	f.P.Limits = append(domain.Limits{{ID: domain.PresencePerRoom, Value: 4}}, f.P.Limits...)
	return f
}

// A station stands in the left half and has its loads in the right one.
func TestDivide_stationsGoWithTheirLoads(t *testing.T) {
	f := row()
	f.put("st", "st-4-mains", geom.Pt(2, 3), [2]int{6, 0}, [2]int{7, 0})
	f.put("both", "st-4-mains", geom.Pt(2.5, 3), [2]int{0, 0}, [2]int{7, 0})
	d := propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	require.Len(t, d.Areas, 2, "8 sensors at 4 an area")
	assert.Equal(t, areaWith(t, d, "l1-7-0"), areaWith(t, d, "st"))
	assert.Contains(t, d.Strays, propose.Stray{Device: "st", Area: areaWith(t, d, "st"), In: areaWith(t, d, "l1-0-0"), Count: 1, Of: 1})
	assert.Equal(t, areaWith(t, d, "l1-0-0"), areaWith(t, d, "both"), "it has loads where it stands")
	assert.Len(t, d.Cut, 2, "of the one that acts on both sides")
}

// halves is such a row. The second load of its first cell, on a controller of two
// outputs, hangs at the far end.
func halves() *floor {
	f := row()
	for i := range f.R.Fixtures {
		if f.R.Fixtures[i].Load == "l2-0-0" {
			f.R.Fixtures[i].At = geom.Pt(46, 2+0.5*float64(i%2))
		}
	}
	return f
}

func TestDivide_aLoadGetsAControllerWhereItHangs(t *testing.T) {
	f := halves()
	d := propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	require.Len(t, d.Areas, 2)
	far := areaWith(t, d, "lc-7-0")
	require.NotEqual(t, far, areaWith(t, d, "lc-0-0"))
	assert.Equal(t, far, areaWith(t, d, "l2-0-0"))
	require.Len(t, d.Areas[far].Hung, 1)
	hung := d.Areas[far].Hung[0]
	assert.Equal(t, domain.ID("l2-0-0"), hung.Load)
	require.Len(t, d.Areas[far].Added, 1, "the controllers there are full")
	added := d.Areas[far].Added[0]
	assert.Equal(t, added.ID, hung.Controller)
	assert.True(t, f.P.Book.Find(added.Type).Kind.Traits().Loads)
	assert.Empty(t, d.Strays)
	assert.Equal(t, areaWith(t, d, "lc-0-0"), areaWith(t, d, "l1-0-0"), "the other one stays")

	f = halves() // an output that is free there is taken first
	f.R.Design.Loads = slices.DeleteFunc(f.R.Design.Loads, func(l domain.Load) bool { return l.ID == "l2-7-0" })
	f.R.Design.Links = slices.DeleteFunc(f.R.Design.Links, func(k domain.Link) bool { return k.Load == "l2-7-0" })
	f.R.Fixtures = slices.DeleteFunc(f.R.Fixtures, func(x domain.Fixture) bool { return x.Load == "l2-7-0" })
	d = propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	far = areaWith(t, d, "lc-7-0")
	assert.Empty(t, d.Areas[far].Added)
	assert.Equal(t, []propose.Hanging{{Load: "l2-0-0", Controller: "lc-7-0", Output: 2}}, d.Areas[far].Hung)
}

// The controller that is added counts: 4 sensors, 4 controllers and it make 9.
func TestDivide_aLoadStaysWhereAControllerMoreIsOneTooMany(t *testing.T) {
	for limit, goes := range map[float64]bool{8: false, 9: true, 10: true} {
		f := halves()
		f.P.Limits = append(domain.Limits{{ID: domain.DevicesPerRoom, Value: limit}}, f.P.Limits...)
		d := propose.Divide(f.P, f.R)
		soundDivision(t, f.P, f.R, d)
		require.Len(t, d.Areas, 2)
		assert.Equal(t, goes, areaWith(t, d, "l2-0-0") != areaWith(t, d, "lc-0-0"), "limit %v", limit)
		assert.Equal(t, goes, len(d.Strays) == 0, "limit %v", limit)
	}
}

// A load of which one luminaire hangs at home has two places and stays.
func TestDivide_aLoadOnBothSidesStaysWithItsController(t *testing.T) {
	f := halves()
	f.R.Fixtures = append(f.R.Fixtures, domain.Fixture{ID: "home", Load: "l2-0-0", At: geom.Pt(4, 4)})
	d := propose.Divide(f.P, f.R)
	soundDivision(t, f.P, f.R, d)
	assert.Equal(t, areaWith(t, d, "lc-0-0"), areaWith(t, d, "l2-0-0"))
	require.Len(t, d.Strays, 1)
	assert.Equal(t, 2, d.Strays[0].Count)
}

// carriedOut applies a way as an edit.
func carriedOut(t require.TestingT, f *floor, d propose.Division) []*domain.Room {
	g := edit.DivideRoom{Room: f.R.ID}
	for n, a := range d.Areas {
		area := edit.DividedArea{ID: domain.ID(fmt.Sprint("area-", n)), Outline: a.Outline, Devices: a.Devices, Loads: a.Loads, Added: a.Added, Parents: a.Parents}
		for _, h := range a.Hung {
			area.Hung = append(area.Hung, edit.HungLoad(h))
		}
		g.Areas = append(g.Areas, area)
	}
	copied := *f.R
	copied.Room, copied.Design = f.R.Room.Clone(), f.R.Design.Clone()
	drawing := &edit.Drawing{Project: f.P, Storey: f.R.StoreyID, Rooms: []*domain.Resolved{&copied}}
	_, err := edit.Draw(drawing, g)
	require.NoError(t, err)
	require.NoError(t, copied.Settle())
	return append([]*domain.Room{copied.Room}, drawing.Added...)
}

// However a room is divided, nothing is lost but links, each load hangs on a
// controller of its own room, and the difference leads back to the same bytes.
func TestDivisions_loseNothingAndComeBack(t *testing.T) {
	divided := 0
	rapid.Check(t, func(t *rapid.T) {
		f := drawFloor(t)
		for n := range rapid.IntRange(0, 5).Draw(t, "seats") {
			f.R.Sitting = append(f.R.Sitting, domain.Seat{ID: domain.ID(fmt.Sprint("seat", n)), At: geom.Pt(1+5*float64(n), 2)})
		}
		f.R.Room.Design = f.R.Design
		delta.Sort(f.R.Room)
		f.R.Design = f.R.Room.Design
		before, err := json.Marshal(f.R.Room)
		require.NoError(t, err)
		for _, way := range propose.Divisions(f.P, f.R, 3) {
			if !way.Fits {
				continue
			}
			divided++
			soundParts(t, f.R, way)
			rooms := carriedOut(t, f, way)
			var devices, loads, fixtures, seats, added int
			for n, room := range rooms {
				added += len(way.Areas[n].Added)
				devices, loads = devices+len(room.Design.Devices), loads+len(room.Design.Loads)
				fixtures, seats = fixtures+len(room.Fixtures), seats+len(room.Sitting)
				for _, l := range room.Design.Loads {
					require.True(t, l.Controller == "" || room.Design.Device(l.Controller) != nil, "%s hangs on %s", l.ID, l.Controller)
				}
			}
			require.Equal(t, len(f.R.Design.Devices)+added, devices)
			require.Equal(t, len(f.R.Design.Loads), loads)
			require.Equal(t, len(f.R.Fixtures), fixtures)
			require.Equal(t, len(f.R.Sitting), seats)
			changes, err := delta.Diff(f.R.Room, rooms[0])
			require.NoError(t, err)
			require.NoError(t, delta.Apply(rooms[0], changes.Inverse()))
			delta.Sort(rooms[0])
			back, err := json.Marshal(rooms[0])
			require.NoError(t, err)
			require.Equal(t, string(before), string(back))
		}
	})
	require.NotZero(t, divided)
}
