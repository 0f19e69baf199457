package code

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/energycode"
)

// The address of a row names it and no other.
func TestRowPath_readsBack(t *testing.T) {
	spaces := append([]string{domain.AnyCodeSpace}, spaceIDs()...)
	rapid.Check(t, func(t *rapid.T) {
		c := domain.CodeChange{Kind: rapid.SampledFrom(domain.CodeRows()).Draw(t, "kind")}
		if c.Kind != domain.DensityRow {
			c.Control = rapid.SampledFrom(domain.CodeControls()).Draw(t, "control")
		}
		switch c.Kind {
		case domain.FigureRow:
			c.Name = rapid.StringMatching(`[a-z][a-z0-9_]{0,20}`).Draw(t, "name")
		case domain.DutyRow:
			c.Space = rapid.SampledFrom(spaces).Draw(t, "space")
		case domain.DensityRow:
			c.Space = rapid.SampledFrom(spaces[1:]).Draw(t, "space")
		}
		got, ok := readRow(rowPath(&c))
		if !ok || got != c {
			t.Fatalf("%+v from %q", got, rowPath(&c))
		}
	})
}

func spaceIDs() (out []string) {
	for _, s := range domain.SpaceTypes() {
		out = append(out, string(s.Type))
	}
	return out
}

// FuzzReadRow reads addresses as a request may send them: what it takes for a row can be
// written, reads back and has a key that is an ID.
func FuzzReadRow(f *testing.F) {
	for _, seed := range []string{"figure/full_off.delay", "duty/full_off.any", "density/corridor", "duty/.", "figure/full_off.", "density/*", "", "/", "verse/1.1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, path string) {
		of, ok := readRow(path)
		if !ok {
			return
		}
		w := domain.CodeWorksheet{ID: "ws", Base: "iecc-2021"}
		row, _ := rowNow(&w, of)
		row.Sign, row.Value, row.Duty, row.Mark = "", 0.5, "R", "read"
		if err := energycode.SetRow(&w, row); err != nil {
			return // refused with a reason
		}
		require.Len(t, w.Changes, 1)
		assert.True(t, w.Changes[0].ID.Valid(), path)
		again, ok := readRow(rowPath(&w.Changes[0]))
		assert.True(t, ok)
		assert.Equal(t, w.Changes[0].ID, again.Key())
	})
}
