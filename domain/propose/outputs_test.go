package propose_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/domain/equipment"
	"scopewright/domain/propose"
)

func spread(b *domaintest.Builder) propose.Spread {
	return propose.OutputProblem{Project: b.P, Design: &b.R.Design}.Solve()
}

// carry carries the answer out.
func carry(t require.TestingT, b *domaintest.Builder, s propose.Spread) {
	n := 0
	edits := s.Edits(&b.R.Design, func(what string) domain.ID {
		n++
		return domain.ID(fmt.Sprintf("new-%x", what))
	})
	_, err := edit.All(edit.OfRoom(b.P, b.R), edits)
	require.NoError(t, err)
	require.NoError(t, b.R.Settle())
}

// sums gives the current and the control current on each output of a room, by
// the formula I = P/(V pf) and 2 mA a driver of type B.
func sums(b *domaintest.Builder) map[string][2]float64 {
	out := map[string][2]float64{}
	for _, l := range b.R.Design.Loads {
		lum := b.P.Luminaire(l.Luminaire)
		key := fmt.Sprintf("%s.%d", l.Controller, l.Output)
		at := out[key]
		at[0] += float64(l.Count) * float64(lum.Watts) / (float64(lum.Volts) * lum.PowerFactor)
		if l.Dimming == equipment.Analog {
			at[1] += float64(l.Count) * 2
		}
		out[key] = at
	}
	return out
}

func TestSpread_leavesARoomThatIsSound(t *testing.T) {
	s := spread(domaintest.Classroom())
	assert.True(t, s.Nothing())
	assert.True(t, s.Proved)
}

// 31 drivers of 2 mA are over 60 mA (IEC 60929 Annex E, from memory; common
// practice): moving the smaller of two loads is enough.
func TestSpread_movesAsFewAsItCan(t *testing.T) {
	b := domaintest.Room().Device("lc", "lc-2").Load("l1", "a", 20).Carry("l1", "lc", 1).Load("l2", "a", 11).Carry("l2", "lc", 1)
	s := spread(b)
	require.Len(t, s.Moves, 1)
	assert.True(t, s.Proved)
	assert.Equal(t, 1, s.Bound)
	assert.Empty(t, s.Added)
	assert.Contains(t, s.Title(b.P, &b.R.Design), "to LC-1 output 2")
	carry(t, b, s)
	assert.NotEqual(t, b.R.Design.Load("l1").Output, b.R.Design.Load("l2").Output)
}

func TestSpread_dividesWhatNoOutputCarries(t *testing.T) {
	b := domaintest.Room().Device("lc", "lc-1").Load("l1", "a", 31).Carry("l1", "lc", 1).Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", "100").
		Scene("s1", "On").Intent("i1", domain.ByHand).Set("intents/i1/loads", "L1")
	s := spread(b)
	assert.Equal(t, []propose.Divided{{Load: "l1", Parts: []int{16, 15}}}, s.Divided)
	assert.Equal(t, []string{"lc-1"}, s.Added)
	assert.True(t, s.AddedProved)
	assert.Equal(t, 1, s.AddedBound)
	assert.Equal(t, "Add Room controller, 1 dimmed output; divide L1 into 16 and 15", s.Title(b.P, &b.R.Design))
	carry(t, b, s)
	require.Len(t, b.R.Design.Loads, 2)
	twin := b.R.Design.Loads[1]
	assert.Equal(t, 15, twin.Count)
	assert.Equal(t, 1, twin.Output)
	assert.Len(t, b.R.Design.Links, 2, "the part is linked like the load")
	assert.NotNil(t, b.R.Design.Scenes[0].LevelOf(twin.ID))
	assert.Equal(t, []domain.ID{"l1", twin.ID}, b.R.Design.Intents[0].Loads)
}

func TestSpread_whatMustStayWholeIsNotDivided(t *testing.T) {
	b := domaintest.Room().Device("lc", "lc-1").Load("l1", "a", 31).Carry("l1", "lc", 1)
	s := propose.OutputProblem{Project: b.P, Design: &b.R.Design, Whole: func(*domain.Load) bool { return true }}.Solve()
	assert.Empty(t, s.Divided)
	assert.Equal(t, []domain.ID{"l1"}, s.Short)
}

// Loads that anything treats differently do not come to share an output.
func TestSpread_keepsLoadsApartThatAreControlledApart(t *testing.T) {
	b := domaintest.Room().Device("lc", "lc-1").Load("l1", "a", 2).Carry("l1", "lc", 1).Load("l2", "a", 2)
	assert.Empty(t, spread(b).Added, "nothing tells them apart")
	b.Device("st", "st-2-battery").Link("st", 1, domain.Press, "l1", "100")
	s := spread(b)
	assert.Equal(t, []string{"lc-1"}, s.Added)
	assert.Contains(t, s.Title(b.P, &b.R.Design), "put L2 there")
	b.P.Circuits = []domain.Circuit{{ID: "k", Seq: 1, Name: "EM-1", Emergency: true}}
	two := domaintest.Room().Device("lc", "lc-2").Load("l1", "a", 2).Carry("l1", "lc", 1).Load("l2", "a", 2).Set("loads/l1/circuit", "LP-1", "loads/l2/circuit", "EM-1")
	assert.Empty(t, spread(two).Added)
	two.P.Circuits = b.P.Circuits
	assert.Equal(t, []string{"lc-1"}, spread(two).Added, "no circuit of the emergency source in a controller with others")
}

func TestSpread_addsTheFewestControllers(t *testing.T) {
	for _, c := range []struct {
		luminaires []domain.ID
		want       []string
	}{
		{[]domain.ID{"a"}, []string{"lc-1"}}, {[]domain.ID{"a", "a"}, []string{"lc-2"}}, {[]domain.ID{"a", "a", "a"}, []string{"lc-4"}},
		{[]domain.ID{"a", "a", "a", "a", "a"}, []string{"lc-1", "lc-4"}}, {[]domain.ID{"a", "c"}, []string{"lc-1", "lc-digital"}},
		{[]domain.ID{"s", "s"}, []string{"lc-2"}}, {[]domain.ID{"c", "s", "s", "s"}, []string{"lc-digital"}},
	} {
		b := domaintest.Room()
		for i, lum := range c.luminaires {
			id := domain.ID(fmt.Sprint("l", i))
			b.Load(id, lum, 2)
			b.Device(domain.ID(fmt.Sprint("st", i)), "st-2-battery").Link(domain.ID(fmt.Sprint("st", i)), 1, domain.Press, id, "100") // so that none may share
		}
		s := spread(b)
		assert.Equal(t, c.want, s.Added, "%v", c.luminaires)
		assert.True(t, s.AddedProved)
		assert.Equal(t, len(c.want), s.AddedBound)
		carry(t, b, s)
		for _, l := range b.R.Design.Loads {
			assert.NotEmpty(t, l.Controller)
		}
	}
}

// Against all ways there are of hanging up to five loads on up to four outputs:
// the fewest moves, and none where none does.
func TestSpread_movesAreTheFewest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := domaintest.Room()
		for i := range rapid.IntRange(1, 2).Draw(t, "controllers") {
			b.Device(domain.ID(fmt.Sprint("lc", i)), rapid.SampledFrom([]string{"lc-1", "lc-2"}).Draw(t, "type"))
		}
		var outlets [][2]any
		for _, d := range b.R.Design.Devices {
			for n := 1; n <= b.P.Book.Find(d.Type).Outputs; n++ {
				outlets = append(outlets, [2]any{d.ID, n})
			}
		}
		count := rapid.IntRange(1, 5).Draw(t, "loads")
		was := make([]int, count)
		for i := range count {
			id := domain.ID(fmt.Sprint("l", i))
			was[i] = rapid.IntRange(-1, len(outlets)-1).Draw(t, "at")
			b.Load(id, "b", rapid.IntRange(1, 30).Draw(t, "count"))
			if was[i] >= 0 {
				b.Carry(id, outlets[was[i]][0].(domain.ID), outlets[was[i]][1].(int))
			}
		}
		fewest := bruteMoves(b, outlets, was)
		s := spread(b)
		if fewest < 0 {
			assert.NotEmpty(t, s.Added)
		} else {
			assert.Empty(t, s.Added)
			assert.Len(t, s.Moves, fewest)
			assert.True(t, s.Proved)
		}
		assert.LessOrEqual(t, s.Bound, len(s.Moves))
		carry(t, b, s)
		for key, at := range sums(b) {
			assert.NotEqual(t, ".0", key, "every load hangs somewhere")
			assert.LessOrEqual(t, at[0], 16*0.8+1e-9, "80 %% of 16 A: NEC 210.20(A)")
			assert.LessOrEqual(t, at[1], 60+1e-9)
		}
	})
}

// bruteMoves tries every assignment: the fewest moves of one that holds 12.8 A and
// 60 mA on each output, -1 where there is none.
func bruteMoves(b *domaintest.Builder, outlets [][2]any, was []int) int {
	best := -1
	at := make([]int, len(was))
	for {
		amps, ma, moves := make([]float64, len(outlets)), make([]float64, len(outlets)), 0
		for i, o := range at {
			n := float64(b.R.Design.Loads[i].Count)
			amps[o], ma[o] = amps[o]+n*38/(120*0.95), ma[o]+n*2
			if o != was[i] {
				moves++
			}
		}
		sound := true
		for o := range outlets {
			sound = sound && amps[o] <= 12.8+1e-9 && ma[o] <= 60
		}
		if sound && (best < 0 || moves < best) {
			best = moves
		}
		i := 0
		for i < len(at) {
			if at[i]++; at[i] < len(outlets) {
				break
			}
			at[i], i = 0, i+1
		}
		if i == len(at) {
			return best
		}
	}
}

// BenchmarkSpread is a room of 24 loads on outputs that are all a little over.
func BenchmarkSpread(bench *testing.B) {
	b := domaintest.Room()
	for c := range 6 {
		lc := domain.ID(fmt.Sprint("lc", c))
		b.Device(lc, "lc-4")
		for n := range 4 {
			id := domain.ID(fmt.Sprint("l", c, "x", n))
			b.Load(id, "a", 14).Carry(id, lc, n/2+1)
			twin := id + "b"
			b.Load(twin, "a", 17).Carry(twin, lc, n/2+1)
		}
	}
	for bench.Loop() {
		spread(b)
	}
}
