package edit_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// drawnRoom is the classroom with an outline of 8 by 10 m, its first device,
// two luminaires and a seat at their places.
func drawnRoom() (*domain.Project, *domain.Resolved) {
	b := domaintest.Classroom()
	at := geom.Pt(2, 2)
	b.R.Outline = geom.Rectangle(0, 0, 8, 10)
	b.R.Design.Devices[0].At = &at
	b.R.Fixtures = []domain.Fixture{{ID: "f1", Load: "l1", At: geom.Pt(2, 5)}, {ID: "f2", Load: "l1", At: geom.Pt(6, 5)}}
	b.R.Sitting = []domain.Seat{{ID: "s1", At: geom.Pt(4, 4)}}
	return b.P, b.R
}

// draw carries out a gesture on a copy, as the store does.
func draw(t require.TestingT, p *domain.Project, r *domain.Resolved, g edit.Gesture) (*domain.Resolved, *edit.Drawing, string, error) {
	work := copied(r)
	for i := range work.Design.Devices {
		if at := work.Design.Devices[i].At; at != nil {
			own := *at
			work.Design.Devices[i].At = &own
		}
	}
	d := &edit.Drawing{Project: p, Storey: r.StoreyID, Rooms: []*domain.Resolved{work}}
	said, err := edit.Draw(d, g)
	if err == nil {
		require.NoError(t, work.Settle())
		delta.Sort(work.Room) // as the store does before it compares
	}
	return work, d, said, err
}

func things(t require.TestingT, texts ...string) []edit.Thing {
	out := make([]edit.Thing, len(texts))
	for i, text := range texts {
		var err error
		out[i], err = edit.ParseThing(text)
		require.NoError(t, err)
		require.Equal(t, text, out[i].String())
	}
	return out
}

// counter gives IDs one after the other.
func counter(stem domain.ID) func() domain.ID {
	n := 0
	return func() domain.ID {
		n++
		return domain.ID(fmt.Sprintf("%s-%03d", stem, n))
	}
}

func drawGesture(t *rapid.T, n int, room string, devices []domain.Device) edit.Gesture {
	names := []string{"room/" + room, "fixture/" + room + "/f1", "fixture/" + room + "/f2", "seat/" + room + "/s1", "seat/" + room + "/gone", "device/other/x"}
	for _, d := range devices {
		names = append(names, "device/"+room+"/"+string(d.ID))
	}
	some := things(t, rapid.SliceOfNDistinct(rapid.SampledFrom(names), 1, 3, rapid.ID[string]).Draw(t, "things")...)
	number := rapid.Float64Range(-1e4, 1e4)
	point := func() geom.Point { return geom.Pt(number.Draw(t, "x"), number.Draw(t, "y")) }
	fresh := domain.ID(fmt.Sprintf("new%d", n))
	id, load := domain.ID(room), domain.ID(rapid.SampledFrom([]string{"l1", "r1", "gone"}).Draw(t, "load"))
	corner := rapid.IntRange(-1, 4).Draw(t, "corner")
	switch rapid.IntRange(0, 17).Draw(t, "gesture") {
	case 8:
		return edit.AlignThings{Things: some, To: rapid.SampledFrom([]edit.Alignment{"left", "right", "top", "bottom", "column", "row", "askew"}).Draw(t, "to")}
	case 9:
		return edit.DistributeThings{Things: some, Up: rapid.Bool().Draw(t, "up")}
	case 10:
		step := rapid.SampledFrom([]units.Metres{0, 1, 3, -1}).Draw(t, "step")
		return edit.PlaceGrid{Room: id, Load: load, Across: rapid.IntRange(0, 4).Draw(t, "across"), Down: 2, StepX: step, StepY: step, New: counter(fresh)}
	case 11:
		return edit.MoveCorner{Room: id, Corner: corner, To: geom.Pt(rapid.Float64Range(-2, 12).Draw(t, "x"), 3)}
	case 12:
		return edit.AddCorner{Room: id, After: corner, At: geom.Pt(rapid.Float64Range(-2, 12).Draw(t, "x"), 3)}
	case 13:
		return edit.RemoveCorner{Room: id, Corner: corner}
	case 14:
		return edit.SetCorner{Room: id, Corner: corner, Field: rapid.SampledFrom([]string{"x", "y", "z"}).Draw(t, "field"), Path: "p", Text: rapid.SampledFrom([]string{"", "-3 ft", "2.5 m", "wide"}).Draw(t, "text")}
	case 15:
		return edit.Cut{Things: some}
	case 16:
		return edit.DuplicateThings{Things: some, IDs: []domain.ID{fresh, fresh + "b", fresh + "c"}[:len(some)], By: point()}
	case 17:
		return edit.SetLoadZone{Room: id, Load: load, Zone: rapid.SampledFrom([]domain.WindowZone{domain.ZoneNone, domain.ZoneWindow, "attic"}).Draw(t, "zone")}
	case 0:
		return edit.MoveThings{Things: some, By: point()}
	case 1:
		return edit.TurnThings{Things: some, By: rapid.Float64Range(-400, 400).Draw(t, "by")}
	case 2:
		return edit.TakeOff{Things: some}
	case 3:
		return edit.PlaceDevice{Room: id, Device: rapid.SampledFrom(devices).Draw(t, "device").ID, At: point()}
	case 4:
		return edit.PlaceFixtures{Room: id, Load: load, IDs: []domain.ID{fresh, fresh + "b"}, At: []geom.Point{point(), point()}}
	case 5:
		return edit.PlaceSeats{Room: id, IDs: []domain.ID{fresh}, At: []geom.Point{point()}}
	case 6:
		return edit.SetOutline{Room: id, Outline: []geom.Point{point(), point(), point(), point()}}
	}
	return edit.SetPlace{Thing: some[0], Field: rapid.SampledFrom([]string{"x", "y", "turn", "z"}).Draw(t, "field"), Path: "p",
		Text: rapid.SampledFrom([]string{"", "-3 ft 6 in", "12'6", "2.5 m", "90", "wide", "-0"}).Draw(t, "text")}
}

// Whatever a gesture does, the difference it leaves leads back to the same
// bytes, and a refused one says why and leaves what it read as it was.
func TestEveryGestureHasAnExactInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, r := drawnRoom()
		require.NoError(t, r.Settle())
		delta.Sort(r.Room)
		for n := range rapid.IntRange(1, 6).Draw(t, "gestures") {
			before := asJSON(t, r.Room)
			g := drawGesture(t, n, string(r.ID), r.Design.Devices)
			work, drawn, said, err := draw(t, p, r, g)
			require.Equal(t, before, asJSON(t, r.Room), "a gesture changed what it was only to read")
			if err != nil {
				var refused *edit.Refused
				var field *edit.FieldError
				require.True(t, errors.As(err, &refused) || errors.As(err, &field))
				require.NotEmpty(t, err.Error())
				continue
			}
			require.NotEmpty(t, said)
			if len(drawn.Removed) > 0 {
				continue // the room is gone as a whole, and comes back as a whole
			}
			changes, err := delta.Diff(r.Room, work.Room)
			require.NoError(t, err)
			back := work.Room.Clone()
			require.NoError(t, delta.Apply(back, changes.Inverse()))
			delta.Sort(back)
			require.Equal(t, before, asJSON(t, back))
			r = work
		}
	})
}

func TestMoveThings_roomTakesAlongWhatItHolds(t *testing.T) {
	p, r := drawnRoom()
	id := string(r.ID)
	work, _, said, err := draw(t, p, r, edit.MoveThings{Things: things(t, "room/"+id, "seat/"+id+"/s1"), By: geom.Pt(1, -2)})
	require.NoError(t, err)
	assert.Equal(t, "moved 2 things on the plan", said)
	assert.Equal(t, geom.Pt(3, 0), *work.Design.Devices[0].At)
	assert.Equal(t, geom.Pt(5, 2), work.Sitting[0].At, "once, although it was named too")
	assert.Equal(t, geom.Pt(3, 3), work.Fixtures[0].At)
	assert.Equal(t, geom.Rectangle(1, -2, 8, 10), work.Outline)
}

func TestMoveThings_refusesWhatHasNoPlace(t *testing.T) {
	p, r := drawnRoom()
	unplaced := r.Design.Devices[1]
	_, _, _, err := draw(t, p, r, edit.MoveThings{Things: things(t, "device/"+string(r.ID)+"/"+string(unplaced.ID)), By: geom.Pt(1, 0)})
	assert.ErrorContains(t, err, unplaced.Tag+" in room "+r.Number+" has no place")
	_, _, _, err = draw(t, p, r, edit.MoveThings{Things: things(t, "seat/"+string(r.ID)+"/s1"), By: geom.Pt(math.Inf(1), 0)})
	assert.ErrorContains(t, err, "10,000 km")
	_, _, _, err = draw(t, p, r, edit.MoveThings{})
	assert.ErrorContains(t, err, "nothing is selected")
}

func TestTakeOff_deviceStaysInTheDesign(t *testing.T) {
	p, r := drawnRoom()
	id, devices := string(r.ID), len(r.Design.Devices)
	work, _, _, err := draw(t, p, r, edit.TakeOff{Things: things(t, "device/"+id+"/"+string(r.Design.Devices[0].ID), "fixture/"+id+"/f1", "seat/"+id+"/s1", "room/"+id)})
	require.NoError(t, err)
	assert.Len(t, work.Design.Devices, devices)
	assert.Nil(t, work.Design.Devices[0].At)
	assert.Len(t, work.Fixtures, 1)
	assert.Empty(t, work.Sitting)
	assert.True(t, work.Outline.Empty())
}

func TestTurnThings_keepsAnglesFromZeroToUnder360(t *testing.T) {
	p, r := drawnRoom()
	for by, want := range map[float64]float64{90: 90, -15: 345, 360: 0, -360: 0} {
		work, _, _, err := draw(t, p, r, edit.TurnThings{Things: things(t, "fixture/"+string(r.ID)+"/f1"), By: by})
		require.NoError(t, err)
		assert.InDelta(t, want, work.Fixtures[0].Turn, 0)
	}
	_, _, _, err := draw(t, p, r, edit.TurnThings{Things: things(t, "seat/"+string(r.ID)+"/s1"), By: 90})
	assert.ErrorContains(t, err, "direction")
}

func TestOutline_refusesWhatIsNoRoom(t *testing.T) {
	p, r := drawnRoom()
	for name, c := range map[string]struct {
		ring []geom.Point
		says string
	}{
		"crossing": {[]geom.Point{{X: 0, Y: 0}, {X: 4, Y: 4}, {X: 4, Y: 0}, {X: 0, Y: 4}}, "crosses itself"},
		"two":      {[]geom.Point{{X: 0, Y: 0}, {X: 4, Y: 4}}, "three corners"},
		"flat":     {[]geom.Point{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 8, Y: 0}}, "crosses itself"},
		"many":     {make([]geom.Point, 2001), "2001 corners"},
	} {
		_, _, _, err := draw(t, p, r, edit.SetOutline{Room: r.ID, Outline: c.ring})
		require.Error(t, err, name)
		assert.ErrorContains(t, err, c.says, name)
	}
}

func TestDrawRoom_takesTheAreaOfItsOutline(t *testing.T) {
	p, r := drawnRoom()
	ring := []geom.Point{{X: 0, Y: 0}, {X: 0, Y: 3}, {X: 0, Y: 3}, {X: 4, Y: 3}, {X: 4, Y: 0}, {X: 0, Y: 0}}
	_, d, said, err := draw(t, p, r, edit.DrawRoom{ID: "new", Number: "110", Name: "Store", Outline: ring})
	require.NoError(t, err)
	assert.Equal(t, "drew new room 110", said)
	require.Len(t, d.Added, 1)
	assert.Equal(t, units.SquareMetres(12), d.Added[0].Area)
	assert.Len(t, d.Added[0].Outline.Outer, 4, "doubled corners count once")
	assert.Positive(t, geom.SignedArea(d.Added[0].Outline.Outer), "counterclockwise, as all outlines")
	_, _, _, err = draw(t, p, r, edit.DrawRoom{ID: "new", Outline: ring})
	assert.ErrorContains(t, err, "needs a number")
}

func TestSetPlace_placesADeviceByNumbers(t *testing.T) {
	p, r := drawnRoom()
	p.Units = units.US
	thing := things(t, "device/"+string(r.ID)+"/"+string(r.Design.Devices[1].ID))[0]
	work, _, said, err := draw(t, p, r, edit.SetPlace{Thing: thing, Field: "x", Text: `12' 6"`})
	require.NoError(t, err)
	assert.Contains(t, said, "placed")
	assert.InDelta(t, 3.81, work.Design.Devices[1].At.X, 1e-9) // 12.5 ft of 0.3048 m
	assert.True(t, work.Outline.Contains(*work.Design.Devices[1].At), "its other number is one within the room")
	work, _, _, err = draw(t, p, work, edit.SetPlace{Thing: thing, Field: "y", Text: "-1"})
	require.NoError(t, err)
	assert.InDelta(t, -0.3048, work.Design.Devices[1].At.Y, 1e-9)
	work, _, said, err = draw(t, p, work, edit.SetPlace{Thing: thing, Field: "y", Text: " "})
	require.NoError(t, err)
	assert.Contains(t, said, "off the plan")
	assert.Nil(t, work.Design.Devices[1].At)
}

func TestParseThing_refusesWhatNamesNothing(t *testing.T) {
	for _, bad := range []string{"", "room", "room/", "room/a/b", "device/a", "device/a/", "wall/a/b", "opening/a", "seat/A/b", "device/a/b/c"} {
		_, err := edit.ParseThing(bad)
		assert.Error(t, err, bad)
	}
}

// The parts sum to the whole, whatever the line; nothing that the room holds is lost.
func TestSplitRoom_partsSumToTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, r := drawnRoom()
		at := func(name string) geom.Point {
			return geom.Pt(rapid.Float64Range(-2, 10).Draw(t, name+"x"), rapid.Float64Range(-2, 12).Draw(t, name+"y"))
		}
		work, d, _, err := draw(t, p, r, edit.SplitRoom{Room: r.ID, A: at("a"), B: at("b"), ID: "new", Number: "101A"})
		if err != nil {
			return // the line passes the room by
		}
		require.Len(t, d.Added, 1)
		twin := d.Added[0]
		require.InDelta(t, 80, work.Outline.Area()+twin.Outline.Area(), 0.01)
		require.GreaterOrEqual(t, work.Outline.Area(), twin.Outline.Area()-1e-3)
		require.InDelta(t, 80, float64(work.Area+twin.Area), 0.03, "stated areas follow")
		require.Len(t, append(work.Sitting, twin.Sitting...), 1)
		require.Len(t, work.Fixtures, 2)
		require.Equal(t, len(r.Design.Devices), len(work.Design.Devices))
	})
}

func TestSplitRoom_refusals(t *testing.T) {
	p, r := drawnRoom()
	for says, g := range map[string]edit.SplitRoom{
		"does not cross": {A: geom.Pt(20, 0), B: geom.Pt(20, 5), Number: "1"},
		"two points":     {A: geom.Pt(2, 2), B: geom.Pt(2, 2), Number: "1"},
		"needs a number": {A: geom.Pt(0, 5), B: geom.Pt(8, 5)},
	} {
		g.Room, g.ID = r.ID, "new"
		_, _, _, err := draw(t, p, r, g)
		assert.ErrorContains(t, err, says)
	}
	work, d, said, err := draw(t, p, r, edit.SplitRoom{Room: r.ID, A: geom.Pt(0, 4.5), B: geom.Pt(8, 4.5), ID: "new", Number: "101A"})
	require.NoError(t, err)
	assert.Equal(t, "split room 101, new room 101A", said)
	assert.InDelta(t, 44, work.Outline.Area(), 1e-9) // 8 by 5.5 m stay
	assert.Len(t, d.Added[0].Sitting, 1, "the seat at 4, 4 goes along")
	assert.Empty(t, work.Sitting)
}
