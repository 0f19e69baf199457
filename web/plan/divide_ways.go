package plan

import (
	"cmp"
	"crypto/sha256"
	"encoding/base32"
	"encoding/json"
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/propose"
	"scopewright/store"
	"scopewright/validate"
	"scopewright/validate/rule"
)

const (
	waysJudged = 16 // divisions that the rules judge
	waysShown  = 3  // of which a person chooses
	// waysApart is the share of a room's devices that two shown divisions put
	// into different areas at least.
	waysApart = 0.1
)

// dividable is a room with the ways in which it can be divided.
type dividable struct {
	state            *state
	room             *domain.Resolved
	revision         int64
	propose.Division // the first way, or why there is none
	ways             []*way
	judged           int
	found            []rule.Finding // of the room as it is
}

// way is one way to divide the room.
type way struct {
	propose.Division
	gesture edit.DivideRoom
	name    string
	after   []*domain.Resolved // the rooms to be, once it was foreseen
	found   [][]rule.Finding   // of each of them
	verdict verdict
}

// verdict counts findings; those that are waived count as that alone.
type verdict struct{ errors, warnings, infos, waived int }

func verdictOf(lists ...[]rule.Finding) (v verdict) {
	for _, found := range lists {
		e, w, i, waived, _ := validate.Count(found)
		v = verdict{v.errors + e, v.warnings + w, v.infos + i, v.waived + waived}
	}
	return v
}

// dividable finds the ways to divide a room.
func (s Screen) dividable(r *http.Request, id domain.ID) (*dividable, error) {
	st, err := s.read(r)
	if err != nil {
		return nil, err
	}
	d := &dividable{state: st}
	for _, room := range st.Rooms {
		if room.Resolved.ID == id {
			d.room, d.revision = room.Resolved, room.Revision
		}
	}
	if d.room == nil {
		return nil, store.ErrNotFound
	}
	select {
	case dividing <- struct{}{}:
		defer func() { <-dividing }()
	case <-r.Context().Done():
		return nil, r.Context().Err()
	}
	found := propose.Divisions(st.Project, d.room, waysJudged)
	d.Division = found[0]
	for i := range found {
		if found[i].Fits {
			d.ways = append(d.ways, newWay(id, found[i]))
		}
	}
	return d, nil
}

func newWay(room domain.ID, found propose.Division) *way {
	w := &way{Division: found, gesture: edit.DivideRoom{Room: room}}
	for i, a := range found.Areas {
		area := edit.DividedArea{Outline: a.Outline, Devices: a.Devices, Loads: a.Loads, Added: a.Added, Parents: a.Parents}
		for _, h := range a.Hung {
			area.Hung = append(area.Hung, edit.HungLoad(h))
		}
		if i > 0 {
			area.ID = domain.NewID()
		}
		w.gesture.Areas = append(w.gesture.Areas, area)
	}
	w.name = w.stamp()
	return w
}

// stamp names what a division says, without the IDs that are new each time.
func (w *way) stamp() string {
	raw, err := json.Marshal(w.Areas)
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(raw)
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10]))
}

// way gives the way of a name, nil where there is none.
func (d *dividable) way(name string) *way {
	for _, w := range d.ways {
		if w.name == name && name != "" {
			return w
		}
	}
	return nil
}

// judgeWays has the rules judge what each way comes to and keeps the best: those
// with the fewest errors, then warnings, then links cut, then the most even areas.
func (s Screen) judgeWays(r *http.Request, d *dividable) error {
	d.found = s.Judge(d.state.Project, d.room)
	if len(d.ways) == 0 {
		return nil
	}
	know, err := s.around(r, []edit.Gesture{d.ways[0].gesture})
	if err != nil {
		return err
	}
	select {
	case dividing <- struct{}{}:
		defer func() { <-dividing }()
	case <-r.Context().Done():
		return r.Context().Err()
	}
	for _, w := range d.ways {
		if err := s.foresee(d, w, func(drawing *edit.Drawing) { know(nil, drawing) }); err != nil {
			return err
		}
	}
	slices.SortStableFunc(d.ways, compareWays)
	d.judged = len(d.ways)
	d.ways = d.apart()
	return nil
}

// foresee carries a way out on a copy and judges it: what is shown is what will be.
func (s Screen) foresee(d *dividable, w *way, know func(*edit.Drawing)) error {
	copied := *d.room
	copied.Room, copied.Design = d.room.Room.Clone(), d.room.Design.Clone()
	drawing := &edit.Drawing{Project: d.state.Project, Storey: d.state.Storey.ID, Rooms: []*domain.Resolved{&copied}}
	know(drawing)
	if _, err := edit.Draw(drawing, w.gesture); err != nil {
		return err
	}
	w.after = []*domain.Resolved{copied.OnPlan(d.state.Plan)}
	for _, room := range drawing.Added {
		w.after = append(w.after, (&domain.Resolved{Room: room, Design: room.Design}).OnPlan(d.state.Plan))
	}
	for _, room := range w.after { // not by s.Judge, which would remember each
		w.found = append(w.found, validate.Room(d.state.Project, room, s.Now()))
	}
	w.verdict = verdictOf(w.found...)
	return nil
}

func compareWays(a, b *way) int {
	return cmp.Or(cmp.Compare(a.verdict.errors, b.verdict.errors), cmp.Compare(a.verdict.warnings, b.verdict.warnings),
		cmp.Compare(len(a.Cut), len(b.Cut)), cmp.Compare(a.unevenly(), b.unevenly()))
}

// unevenly is the sum of the squares of the areas' devices.
func (w *way) unevenly() (n int) {
	for i := range w.Areas {
		have := len(w.Areas[i].Devices) + len(w.Areas[i].Added)
		n += have * have
	}
	return n
}

// apart gives the best ways that differ in more than a device or two.
func (d *dividable) apart() []*way {
	var out []*way
	least := waysApart * float64(len(d.room.Design.Devices))
	for _, w := range d.ways {
		if len(out) < waysShown && !slices.ContainsFunc(out, func(o *way) bool { return float64(placedApart(o, w)) < least }) {
			out = append(out, w)
		}
	}
	return out
}

// placedApart counts the devices that two ways put into different areas.
func placedApart(a, b *way) (n int) {
	in := map[domain.ID]int{}
	for i := range a.Areas {
		for _, id := range a.Areas[i].Devices {
			in[id] = i
		}
	}
	for i := range b.Areas {
		for _, id := range b.Areas[i].Devices {
			if at, ok := in[id]; !ok || at != i {
				n++
			}
		}
	}
	return n
}
