package edits

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/ui"
)

// Use is where one luminaire or equipment type is used.
type Use struct {
	Count    int // luminaires or devices in all rooms together
	Rooms    []string
	Typicals []string // that no room needs to follow
}

// Uses are the uses by type.
type Uses map[string]*Use

// Part gives, for one design, how many of each type it holds.
type Part func(*domain.Design, func(typ string, n int))

// OfLuminaires counts luminaires by their type.
func OfLuminaires(d *domain.Design, add func(string, int)) {
	for i := range d.Loads {
		if l := &d.Loads[i]; l.Luminaire != "" {
			add(string(l.Luminaire), l.Count)
		}
	}
}

// OfDevices counts devices by their type.
func OfDevices(d *domain.Design, add func(string, int)) {
	for i := range d.Devices {
		add(d.Devices[i].Type, 1)
	}
}

// CountUses goes through a project's rooms and typicals.
func CountUses(s *domain.Scope, part Part) (Uses, error) {
	uses := Uses{}
	inTypical := map[domain.ID]map[string]int{}
	for i := range s.Typicals {
		t := &s.Typicals[i]
		inTypical[t.ID] = tally(&t.Design, part)
		for typ := range inTypical[t.ID] {
			u := uses.at(typ)
			u.Typicals = append(u.Typicals, t.Name)
		}
	}
	for i := range s.Rooms {
		r := &s.Rooms[i]
		counts := inTypical[r.TypicalID]
		if r.TypicalID == "" || len(r.Exceptions) > 0 {
			resolved, err := s.Resolve(r)
			if err != nil {
				return nil, fmt.Errorf("counting what is used: %w", err)
			}
			counts = tally(&resolved.Design, part)
		}
		for typ, n := range counts {
			u := uses.at(typ)
			u.Count += n
			u.Rooms = append(u.Rooms, r.Number)
		}
	}
	return uses, nil
}

func tally(d *domain.Design, part Part) map[string]int {
	out := map[string]int{}
	part(d, func(typ string, n int) { out[typ] += n })
	return out
}

func (us Uses) at(typ string) *Use {
	if us[typ] == nil {
		us[typ] = &Use{}
	}
	return us[typ]
}

// Of gives the use of a type, empty where there is none.
func (us Uses) Of(typ string) Use {
	if u := us[typ]; u != nil {
		return *u
	}
	return Use{}
}

// Cell gives a table's cell that says how much a type is used.
func (us Uses) Cell(typ string) ui.Cell {
	if us == nil {
		return ui.Cell{Text: "..."}
	}
	use := us.Of(typ)
	return ui.Cell{Text: use.Brief(), Title: use.Where()}
}

// None tells that neither a room nor a typical uses the type.
func (u Use) None() bool { return len(u.Rooms)+len(u.Typicals) == 0 }

// Brief gives "12 in 3 rooms" for a table cell.
func (u Use) Brief() string {
	switch {
	case len(u.Rooms) > 0:
		return fmt.Sprintf("%d in %s", u.Count, Count(len(u.Rooms), "room"))
	case len(u.Typicals) > 0:
		return "in " + Count(len(u.Typicals), "typical")
	}
	return "not used"
}

// Where names the rooms and typicals: "rooms 101, 102 and 48 more, typical CR".
func (u Use) Where() string {
	var parts []string
	if len(u.Rooms) > 0 {
		parts = append(parts, names("room", u.Rooms))
	}
	if len(u.Typicals) > 0 {
		parts = append(parts, names("typical", u.Typicals))
	}
	return strings.Join(parts, " and in ")
}

func names(noun string, list []string) string {
	const most = 6
	list = slices.Clone(list)
	slices.Sort(list)
	if len(list) > 1 {
		noun += "s"
	}
	if len(list) <= most {
		return noun + " " + strings.Join(list, ", ")
	}
	return fmt.Sprintf("%s %s and %d more", noun, strings.Join(list[:most], ", "), len(list)-most)
}

// ReadUses counts where types are used now.
func ReadUses(ctx context.Context, s *store.Store, project domain.ID, part Part) (Uses, error) {
	scope, err := s.Load(ctx, project)
	if err != nil {
		return nil, err
	}
	return CountUses(scope, part)
}

// manyRooms is from where on uses are counted after the page is shown: the
// first count reads every room's design.
const manyRooms = 1000

// PageUses counts for a page. later tells that a large project is counted only
// when the page asks again, as Counting does.
func PageUses(r *http.Request, s *store.Store, project domain.ID, part Part) (uses Uses, later bool, err error) {
	if !ui.IsFragment(r) {
		totals, err := s.Totals(r.Context(), project)
		if err != nil {
			return nil, false, err
		}
		rooms := 0
		for _, t := range totals {
			rooms += t.Rooms
		}
		if rooms > manyRooms {
			return nil, true, nil
		}
	}
	uses, err = ReadUses(r.Context(), s, project, part)
	return uses, false, err
}

// Unused changes the project in one transaction that knows where types are
// used, so that none is taken away under a room.
func Unused(r *http.Request, s *store.Store, part Part, change func(*store.Tx, Uses) (string, error)) (store.Outcome, error) {
	project := ProjectID(r)
	request := store.Request{ProjectID: project, Who: ui.Signed(r), Base: Base(r), Scope: Subject("project", project)}
	return s.Edit(r.Context(), request, func(tx *store.Tx) (string, error) {
		scope, err := scopeOf(tx)
		if err != nil {
			return "", err
		}
		uses, err := CountUses(scope, part)
		if err != nil {
			return "", err
		}
		return change(tx, uses)
	})
}

func scopeOf(tx *store.Tx) (*domain.Scope, error) {
	typicals, err := tx.Typicals()
	if err != nil {
		return nil, err
	}
	rooms, err := tx.Rooms(store.Pick{})
	if err != nil {
		return nil, err
	}
	out := &domain.Scope{}
	for _, t := range typicals {
		out.Typicals = append(out.Typicals, *t)
	}
	for _, room := range rooms {
		out.Rooms = append(out.Rooms, *room.Room)
	}
	return out, nil
}
