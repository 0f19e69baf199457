package demo_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/demo"
	"scopewright/domain/geom"
)

func TestDemoRoomsAreDrawnAsLargeAsTheListSays(t *testing.T) {
	s := demo.Scope()
	for i := range s.Rooms {
		r := &s.Rooms[i]
		assert.Empty(t, r.Outline.Validate(), r.Number)
		assert.InEpsilon(t, float64(r.Area), float64(r.Measured()), 0.001, r.Number)
		resolved, err := s.Resolve(r)
		require.NoError(t, err)
		devices, luminaires := resolved.Unplaced()
		assert.Zero(t, devices, r.Number)
		assert.Zero(t, luminaires, r.Number)
		assert.Len(t, r.Sitting, r.Seats, r.Number)
		taken := map[geom.Point]string{}
		for _, d := range resolved.Design.Devices {
			assert.True(t, r.Outline.Contains(*d.At), "%s %s at %v", r.Number, d.Tag, *d.At)
			assert.Empty(t, taken[*d.At], "%s: %s lies on another device", r.Number, d.Tag)
			taken[*d.At] = d.Tag
		}
		for _, f := range r.Fixtures {
			assert.True(t, r.Outline.Contains(f.At), "%s %s at %v", r.Number, f.ID, f.At)
		}
	}
}

func TestDemoRoomsDoNotOverlap(t *testing.T) {
	s := demo.Scope()
	for i := range s.Rooms {
		for j := range i {
			a, b := &s.Rooms[i], &s.Rooms[j]
			if a.StoreyID != b.StoreyID {
				continue
			}
			shared, err := geom.OverlapArea(a.Outline, b.Outline)
			require.NoError(t, err)
			assert.LessOrEqual(t, shared, 0.01, "%s and %s", a.Number, b.Number)
		}
	}
}

func TestDemoPlansHaveWallsDoorsAndWindows(t *testing.T) {
	s := demo.Scope()
	require.Len(t, s.Plans, 3)
	for i := range s.Plans {
		p := &s.Plans[i]
		kinds := map[domain.OpeningKind]int{}
		for j := range p.Walls {
			w := &p.Walls[j]
			assert.Greater(t, w.Line().Length(), 0.1, w.ID)
			for k := range w.Openings {
				o := &w.Openings[k]
				kinds[o.Kind]++
				assert.GreaterOrEqual(t, float64(o.At), 0.0, "%s %s", p.ID, w.ID)
				assert.LessOrEqual(t, float64(o.At+o.Width), w.Line().Length(), "%s %s", p.ID, w.ID)
				assert.Greater(t, o.Head, o.Sill)
			}
		}
		rooms, windows := 0, 0
		for j := range s.Rooms {
			if r := &s.Rooms[j]; r.StoreyID == p.ID {
				rooms++
				if r.Windows {
					windows++
				}
			}
		}
		assert.GreaterOrEqual(t, kinds[domain.Door]+kinds[domain.Gap], rooms-1, "each room but the corridor has a way in")
		assert.GreaterOrEqual(t, kinds[domain.Window], windows, "each room with windows has one")
	}
}

// The demo shows rooflights, a facade with something across the yard and a window
// between two rooms; every mark fits the rooms beside the window.
func TestDemoPlansShowWhatDaylightDependsOn(t *testing.T) {
	s := demo.Scope()
	hidden, indoors := 0, 0
	for i := range s.Plans {
		p := &s.Plans[i]
		var rooms []domain.Footprint
		for j := range s.Rooms {
			if r := &s.Rooms[j]; r.StoreyID == p.ID {
				rooms = append(rooms, r.Footprint())
				if r.Number == "300" {
					require.Len(t, p.Rooflights, 2)
					for _, l := range p.Rooflights {
						for _, corner := range l.Box().Outer {
							assert.True(t, r.Outline.Contains(corner), "%s lies over the corridor of the top storey", l.ID)
						}
					}
				}
			}
		}
		ground := domain.GroundOf(rooms...)
		for j := range p.Walls {
			w := &p.Walls[j]
			for k := range w.Openings {
				o := &w.Openings[k]
				if o.Kind != domain.Window {
					assert.False(t, o.Indoors)
					continue
				}
				assert.Equal(t, o.Indoors, w.Stands(o, 0.3, ground) == domain.BetweenRooms, "%s %s", p.ID, w.ID)
				if o.Blocked > 0 {
					hidden++
					assert.InDelta(t, 20, o.Blocked, 5, "a building across a yard")
				}
				if o.Indoors {
					indoors++
				}
			}
		}
	}
	assert.Positive(t, hidden)
	assert.Equal(t, 1, indoors)
}
