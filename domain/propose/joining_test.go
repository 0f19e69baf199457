package propose_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/propose"
	"scopewright/domain/radio"
	"scopewright/domain/units"
)

func said(steps []propose.Join) []string {
	var out []string
	for _, s := range steps {
		out = append(out, fmt.Sprintf("%s through %s, %d hops %s", s.Device, s.Through, s.Hops, s.Why))
	}
	return out
}

// A row of routers 9 m apart with radios of 10 m, the gateway at its end: the
// order is that of the hops, and of two at a hop the better link comes first. The
// margin over 9 m is 20 lg(10/9) over the 10 dB at 10 m.
func TestJoining(t *testing.T) {
	p, r := onPlan(10, dev("B", "rt-plug", 18, 0), dev("A", "rt-plug", 9, 0), dev("near", "rt-plug", 4, 0), dev("gw", "gw-room", 0, 0), dev("far", "rt-plug", 60, 0),
		dev("b1", "ps-ceiling", 18, 1), dev("a1", "ps-ceiling", 10, 0), dev("astray", "st-2-battery", 1, 0), dev("lost", "ps-ceiling", 40, 40), domain.Device{ID: "list", Type: "ps-ceiling", Parent: "A"}, domain.Device{ID: "box", Type: "rt-plug"}, dev("wired", "ps-wired", 1, 1))
	r.Design.Device("b1").Parent, r.Design.Device("a1").Parent, r.Design.Device("astray").Parent = "B", "A", "B"
	got := propose.Joining(p, &r.Design, radio.NewRoom(p, r))
	assert.Equal(t, []string{
		"gw through , 0 hops starts the network",
		"near through gw, 1 hops ",
		"A through gw, 1 hops ",
		"B through A, 2 hops ",
		"far through , -1 hops no joined device in reach",
		"box through , -1 hops not on the plan: reach not checked",
		"astray through gw, 1 hops its parent is not in reach",
		"a1 through A, 2 hops ",
		"list through A, 2 hops not on the plan: reach not checked",
		"b1 through B, 3 hops ",
		"lost through , -1 hops no joined device in reach",
	}, said(got))
	assert.InDelta(t, 10+20*math.Log10(10.0/9), got[2].Margin, 1e-9)
	assert.True(t, math.IsNaN(got[0].Margin))
}

// Where nothing stands on the plan the order is still one to work by.
func TestJoining_withoutAPlan(t *testing.T) {
	b := domaintest.Classroom()
	got := propose.Joining(b.P, &b.R.Design, nil)
	require.Len(t, got, 6)
	assert.Equal(t, domain.ID("gw"), got[0].Device)
	assert.Equal(t, propose.StartsNetwork, got[0].Why)
	assert.Equal(t, "ps through lc, -1 hops not on the plan: reach not checked", said(got)[4])
	assert.Empty(t, propose.Joining(domaintest.Project(units.SI), &domain.Design{}, nil))
}

// Whatever the room: each device with a radio comes once, and joins through one
// that has joined before it and that it hears.
func TestJoining_eachThroughOneThatHasJoined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5))
		types := []string{"gw-room", "rt-plug", "lc-1", "ps-ceiling", "st-2-battery"}
		var devices []domain.Device
		for i := range 1 + r.IntN(12) {
			d := dev(domain.ID(fmt.Sprint("d", i)), types[r.IntN(len(types))], r.Float64()*30, r.Float64()*20)
			if r.IntN(5) == 0 {
				d.At = nil
			}
			if r.IntN(2) == 0 {
				d.Parent = domain.ID(fmt.Sprint("d", r.IntN(12)))
			}
			devices = append(devices, d)
		}
		p, resolved := onPlan(11, devices...)
		room := radio.NewRoom(p, resolved)
		steps := propose.Joining(p, &resolved.Design, room)
		if len(steps) != len(devices) {
			t.Fatalf("%d steps for %d devices", len(steps), len(devices))
		}
		before := map[domain.ID]int{}
		for _, s := range steps {
			if _, twice := before[s.Device]; twice {
				t.Fatalf("%s joins twice", s.Device)
			}
			if s.Through != "" {
				hops, joined := before[s.Through]
				if !joined {
					t.Fatalf("%s joins through %s, which has not joined", s.Device, s.Through)
				}
				if hops >= 0 && s.Hops != hops+1 {
					t.Fatalf("%s has %d hops through one of %d", s.Device, s.Hops, hops)
				}
				if s.Why != propose.PlaceUnknown && !room.Hears(room.Find(s.Device), room.Find(s.Through)) {
					t.Fatalf("%s joins through %s, which it does not hear", s.Device, s.Through)
				}
			}
			before[s.Device] = s.Hops
		}
	})
}
