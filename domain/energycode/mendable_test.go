package energycode_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/domain/demo"
	"scopewright/domain/energycode"
)

// What is found without words must be what Judge finds, by brief facts as well, in every
// room of the demo by every code and some kinds of space.
func TestMendable_asByJudge(t *testing.T) {
	s := demo.Scope()
	for i := range s.Rooms {
		r, err := s.Resolve(&s.Rooms[i])
		require.NoError(t, err)
		full := energycode.FactsOf(&s.Project, r, energycode.Given{Outlets: 12})
		brief := energycode.FactsOf(&s.Project, r, energycode.Given{Outlets: 12, Brief: true})
		for _, p := range energycode.Packs() {
			for k, space := range p.Spaces {
				if (i+k)%5 != 0 {
					continue // each kind of space in some rooms, and each room as some kinds
				}
				var want []energycode.Answer
				for _, a := range energycode.Judge(p, space.ID, &full) {
					if a.Mendable() {
						want = append(want, a)
					}
				}
				require.Equal(t, want, energycode.Mendable(p, space.ID, &full))
				require.Equal(t, len(want) > 0, energycode.SomeMendable(p, space.ID, &brief))
				quick := energycode.Mendable(p, space.ID, &brief)
				require.Len(t, quick, len(want))
				for n := range want {
					require.Equal(t, want[n].Control, quick[n].Control)
					require.Equal(t, want[n].Verdict, quick[n].Verdict, want[n].Sentence())
				}
			}
		}
	}
}
