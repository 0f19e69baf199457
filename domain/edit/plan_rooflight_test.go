package edit_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
)

// toplit is a plan with a rooflight of 1.2 by 2.4 m at (4, 3) and a square one at (8, 5).
func toplit() *domain.Plan {
	p := walled()
	p.Rooflights = []domain.Rooflight{{ID: "r1", Seq: 1, At: geom.Pt(4, 3), Width: 1.2, Length: 2.4}, {ID: "r2", Seq: 2, At: geom.Pt(8, 5), Width: 1, Length: 1, Turn: 350, Glass: 0.5}}
	return p
}

func TestAddRooflight_liesBetweenTwoOppositeCorners(t *testing.T) {
	p, said, err := drawWalls(t, toplit(), edit.AddRooflight{ID: "n", A: geom.Pt(3, 4), B: geom.Pt(1, 7)})
	require.NoError(t, err)
	assert.Equal(t, "added a rooflight", said)
	assert.Equal(t, domain.Rooflight{ID: "n", Seq: 3, At: geom.Pt(2, 5.5), Width: 2, Length: 3}, p.Rooflights[2])
	for width, taken := range map[float64]bool{0.049: false, 0.05: true, 0.051: true} {
		_, _, err := drawWalls(t, toplit(), edit.AddRooflight{ID: "n", B: geom.Pt(width, 1)})
		assert.Equal(t, taken, err == nil, "%g m", width)
	}
	_, _, err = drawWalls(t, toplit(), edit.AddRooflight{ID: "n", A: geom.Pt(math.NaN(), 0), B: geom.Pt(1, 1)})
	assert.Error(t, err)
	full := toplit()
	full.Rooflights = make([]domain.Rooflight, domain.MaxRooflights)
	_, _, err = drawWalls(t, full, edit.AddRooflight{ID: "n", B: geom.Pt(1, 1)})
	assert.ErrorContains(t, err, "the most that it can have")
}

func TestRooflights_moveTurnCopyAlignAndGo(t *testing.T) {
	both := things(t, "rooflight/r1", "rooflight/r2")
	p, said, err := drawWalls(t, toplit(), edit.MoveThings{Things: both[:1], By: geom.Pt(1, -0.5)})
	require.NoError(t, err)
	assert.Equal(t, "moved a rooflight", said)
	assert.Equal(t, geom.Pt(5, 2.5), p.Rooflights[0].At)

	p, said, err = drawWalls(t, toplit(), edit.TurnThings{Things: both, By: 15})
	require.NoError(t, err)
	assert.Equal(t, "turned 2 things on the plan", said)
	assert.InDelta(t, 15, p.Rooflights[0].Turn, 1e-9)
	assert.InDelta(t, 5, p.Rooflights[1].Turn, 1e-9, "350 + 15 degrees")

	p, _, err = drawWalls(t, toplit(), edit.DuplicateThings{Things: both[1:], IDs: []domain.ID{"n"}, By: geom.Pt(0, 2)})
	require.NoError(t, err)
	assert.Equal(t, domain.Rooflight{ID: "n", Seq: 3, At: geom.Pt(8, 7), Width: 1, Length: 1, Turn: 350, Glass: 0.5}, p.Rooflights[2])

	p, _, err = drawWalls(t, toplit(), edit.AlignThings{Things: both, To: edit.AlignRow})
	require.NoError(t, err)
	assert.Equal(t, []geom.Point{geom.Pt(4, 4), geom.Pt(8, 4)}, []geom.Point{p.Rooflights[0].At, p.Rooflights[1].At})

	three := toplit()
	three.Rooflights = append(three.Rooflights, domain.Rooflight{ID: "r3", At: geom.Pt(5, 9), Width: 1, Length: 1})
	p, _, err = drawWalls(t, three, edit.DistributeThings{Things: things(t, "rooflight/r1", "rooflight/r2", "rooflight/r3")})
	require.NoError(t, err)
	assert.Equal(t, geom.Pt(6, 9), p.Rooflights[2].At, "halfway between 4 and 8 m")

	p, said, err = drawWalls(t, toplit(), edit.TakeOff{Things: both[:1]})
	require.NoError(t, err)
	assert.Equal(t, "took off the plan: a rooflight", said)
	assert.Equal(t, domain.ID("r2"), p.Rooflights[0].ID)
	p, _, err = drawWalls(t, toplit(), edit.Cut{Things: both})
	require.NoError(t, err)
	assert.Empty(t, p.Rooflights)

	gone := things(t, "rooflight/gone")
	for _, g := range []edit.Gesture{edit.MoveThings{Things: gone}, edit.TurnThings{Things: gone}, edit.TakeOff{Things: gone}, edit.AlignThings{Things: append(gone, both...), To: edit.AlignRow},
		edit.DuplicateThings{Things: gone, IDs: []domain.ID{"n"}}} {
		_, _, err := drawWalls(t, toplit(), g)
		assert.ErrorContains(t, err, "rooflight", "%T", g)
	}
}

// Rooms and rooflights align together: the gesture changes both.
func TestAlignThings_ofARoomWithARooflight(t *testing.T) {
	p, r := drawnRoom()
	d := &edit.Drawing{Project: p, Storey: "s1", Plan: toplit(), Rooms: []*domain.Resolved{copied(r)}}
	g := edit.AlignThings{Things: things(t, "seat/"+string(r.ID)+"/s1", "rooflight/r2"), To: edit.AlignLeft}
	assert.True(t, g.Walls())
	assert.Equal(t, []domain.ID{r.ID}, g.Rooms())
	_, err := edit.Draw(d, g)
	require.NoError(t, err)
	assert.InDelta(t, d.Rooms[0].Sitting[0].At.X, d.Plan.Rooflights[1].At.X, 1e-9)
	assert.False(t, edit.AlignThings{Things: g.Things[:1]}.Walls(), "without a rooflight the plan is not asked for")
}

func TestSetRooflight(t *testing.T) {
	set := func(field, text string) (domain.Rooflight, error) {
		p, _, err := drawWalls(t, toplit(), edit.SetRooflight{Thing: things(t, "rooflight/r1")[0], Field: field, Text: text, Path: "rooflight/r1/" + field})
		return p.Rooflights[0], err
	}
	for field, c := range map[string]struct {
		text string
		want domain.Rooflight
	}{
		"x":      {"-2.5 m", domain.Rooflight{At: geom.Pt(-2.5, 3), Width: 1.2, Length: 2.4}},
		"y":      {"10 m", domain.Rooflight{At: geom.Pt(4, 10), Width: 1.2, Length: 2.4}},
		"width":  {"900 mm", domain.Rooflight{At: geom.Pt(4, 3), Width: 0.9, Length: 2.4}},
		"length": {"4 ft", domain.Rooflight{At: geom.Pt(4, 3), Width: 1.2, Length: 4 * 0.3048}},
		"turn":   {"-30°", domain.Rooflight{At: geom.Pt(4, 3), Width: 1.2, Length: 2.4, Turn: 330}},
		"glass":  {"55 %", domain.Rooflight{At: geom.Pt(4, 3), Width: 1.2, Length: 2.4, Glass: 0.55}},
	} {
		got, err := set(field, c.text)
		require.NoError(t, err, field)
		c.want.ID, c.want.Seq = "r1", 1
		assert.Equal(t, asJSON(t, c.want), asJSON(t, got), field)
	}
	for _, c := range [][2]string{{"width", ""}, {"width", "0.04 m"}, {"length", "101 m"}, {"turn", "361"}, {"glass", "68"}, {"glass", "0.5 %"}, {"x", "far"}, {"x", ""}, {"sill", "1"}} {
		before, err := set(c[0], c[1])
		var field *edit.FieldError
		require.ErrorAs(t, err, &field, "%v", c)
		assert.Equal(t, "rooflight/r1/"+c[0], field.Path)
		assert.Equal(t, toplit().Rooflights[0], before, "what is refused changes nothing: %v", c)
	}
}

func TestPaste_rooflightsKeepTheirSizeAndGlass(t *testing.T) {
	from := &edit.Drawing{Project: &domain.Project{}, Storey: "s1", Plan: toplit()}
	clip, err := edit.Copied(from, things(t, "rooflight/r2"))
	require.NoError(t, err)
	raw, err := json.Marshal(clip)
	require.NoError(t, err)
	clip, err = edit.ReadClip(raw)
	require.NoError(t, err)
	p, _ := drawnRoom()
	to := &edit.Drawing{Project: p, Storey: "s1", Plan: walled()}
	said, err := edit.Draw(to, edit.Paste{Clip: clip, By: geom.Pt(1, 1), New: counter("n")})
	require.NoError(t, err)
	assert.Equal(t, "pasted 1 thing", said)
	require.Len(t, to.Plan.Rooflights, 1)
	got := to.Plan.Rooflights[0]
	assert.Equal(t, domain.Rooflight{ID: got.ID, Seq: 1, At: geom.Pt(9, 6), Width: 1, Length: 1, Turn: 350, Glass: 0.5}, got)
	clip.Rooflights[0].Width = -1
	_, err = edit.Draw(to, edit.Paste{Clip: clip, New: counter("n")})
	assert.ErrorContains(t, err, "cannot be pasted")
}

// Whatever a gesture does to rooflights, the difference leads back to the same
// bytes, and each keeps a size and an angle that can be stored.
func TestEveryRooflightGestureHasAnExactInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := toplit()
		number := rapid.Float64Range(-50, 50)
		point := func() geom.Point { return geom.Pt(number.Draw(t, "x"), number.Draw(t, "y")) }
		for n := range rapid.IntRange(1, 6).Draw(t, "gestures") {
			some := things(t, rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"rooflight/r1", "rooflight/r2", "rooflight/n0", "wall/w1"}), 1, 2, rapid.ID[string]).Draw(t, "things")...)
			id := domain.ID("n" + string(rune('0'+n)))
			g := []edit.Gesture{
				edit.AddRooflight{ID: id, A: point(), B: point()}, edit.MoveThings{Things: some, By: point()}, edit.TakeOff{Things: some},
				edit.SetRooflight{Thing: edit.Thing{Kind: edit.RooflightThing, ID: "r1"}, Field: rapid.SampledFrom([]string{"width", "turn", "glass"}).Draw(t, "field"), Text: rapid.SampledFrom([]string{"0.5", "", "3", "300"}).Draw(t, "text")},
			}[rapid.IntRange(0, 3).Draw(t, "gesture")]
			before := asJSON(t, p)
			work, said, err := drawWalls(t, p, g)
			if err != nil {
				continue
			}
			require.NotEmpty(t, said)
			changes, err := delta.Diff(p, work)
			require.NoError(t, err)
			back := new(domain.Plan)
			require.NoError(t, json.Unmarshal([]byte(asJSON(t, work)), back))
			require.NoError(t, delta.Apply(back, changes.Inverse()))
			require.Equal(t, before, asJSON(t, back))
			for _, l := range work.Rooflights {
				require.GreaterOrEqual(t, min(l.Width, l.Length), domain.LeastRooflight)
				require.True(t, l.Turn >= 0 && l.Turn < 360 && l.Glass >= 0 && l.Glass <= 1, "%+v", l)
			}
			p = work
		}
	})
}
