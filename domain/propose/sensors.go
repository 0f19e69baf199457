package propose

import (
	"math"
	"slices"

	"scopewright/domain"
	"scopewright/domain/coverage"
	"scopewright/domain/equipment"
)

// SensorWish is what presence sensors are to see of a room, and what may be
// used for it. Zero values stand for the project's limits and the book's types.
type SensorWish struct {
	Types []string // of the book; none: those that the room has, else any that needs no feed
	Share float64  // of the floor on which a person who walks is to be seen, 0 to 1
	Most  int      // sensors in the room
	Shut  bool     // none may see more than the limit LeakArea through doors
	Nodes int      // of each search for the fewest; 0: sensorNodes
}

// sensorNodes bounds each search for the fewest sensors to some tenths of a
// second.
const sensorNodes = 20_000

// SensorPlan is where presence sensors would go.
type SensorPlan struct {
	Steps []SensorStep

	Sites    int            // places and types that were looked at
	Bound    int            // no answer at these places has fewer sensors
	Proved   bool           // this one has the fewest
	Complete bool           // all seats, all entrances and the share of the floor are seen
	After    *coverage.Room // what is seen then: the share, and of each seat and entrance by which sensors
	Outside  float64        // m2, the most that one of them sees through open doors
}

// Unseen counts the seats and entrances that stay unseen.
func (s *SensorPlan) Unseen() (seats, entrances int) {
	return unseenOf(s.After.Seats), unseenOf(s.After.Entrances)
}

func unseenOf(list []coverage.Target) (n int) {
	for i := range list {
		if !list[i].Seen() {
			n++
		}
	}
	return n
}

// Sensors proposes the fewest presence sensors that see all seats for small
// motion, all entrances, and the share of the floor for a person who walks: on a
// grid under the ceiling and, of types that hang on walls, in corners and along
// walls. Places from which more than the limit LeakArea is seen through doors are
// taken only where there is no other way, and so are types that the room does not
// have. Sensors of the room stay where they are if that takes no more of them. It
// is nil where the room has no sound outline or no type is made for its height.
//
// Choosing the fewest is set cover: see CoverProblem for what is proved. While it
// searches, the floor is sampled; the answer is then reckoned as any room.
func Sensors(p *domain.Project, r *domain.Resolved, wish SensorWish) *SensorPlan {
	s := newSensorSearch(p, r, wish)
	if s == nil {
		return nil
	}
	var best *SensorPlan
	for _, stage := range s.stages() {
		plan := s.solve(stage)
		if plan != nil && (best == nil || s.worth(plan) > s.worth(best)) {
			best = plan
		}
		if best != nil && best.Complete {
			break
		}
	}
	return best
}

// sensorSearch is a room to find places in.
type sensorSearch struct {
	p     *domain.Project
	r     *domain.Resolved
	wish  SensorWish
	room  *coverage.Room // without its sensors
	have  []int          // the room's presence sensors, indices of its devices
	cells []floorCell    // sampled
	spots map[string][]spot
}

type floorCell struct{ column, row int }

// mostSamples is about how many cells a search counts.
const mostSamples = 500

func newSensorSearch(p *domain.Project, r *domain.Resolved, wish SensorWish) *sensorSearch {
	room := coverage.Empty(p, r)
	if room == nil {
		return nil
	}
	s := &sensorSearch{p: p, r: r, wish: wish, room: room, spots: map[string][]spot{}}
	others := 0
	for i := range r.Design.Devices {
		if t := p.Book.Find(r.Design.Devices[i].Type); t != nil && t.Kind.Traits().Presence {
			s.have = append(s.have, i)
		} else {
			others++
		}
	}
	if s.wish.Share == 0 {
		s.wish.Share = p.Limits.Value(domain.CoveredShare) / 100
	}
	if s.wish.Most == 0 {
		// A room that has too many devices already keeps as many sensors as it has.
		s.wish.Most = min(int(p.Limits.Value(domain.PresencePerRoom)), max(len(s.have), int(p.Limits.Value(domain.DevicesPerRoom))-others))
	}
	if s.wish.Nodes == 0 {
		s.wish.Nodes = sensorNodes
	}
	s.sample()
	return s
}

// sample takes every nth cell of the floor in both directions.
func (s *sensorSearch) sample() {
	every := max(1, int(math.Ceil(math.Sqrt(float64(s.room.Floor.Count())/mostSamples))))
	g := s.room.Grid
	for row := every / 2; row < g.Rows; row += every {
		for column := every / 2; column < g.Columns; column += every {
			if g.At(s.room.Floor, column, row) {
				s.cells = append(s.cells, floorCell{column, row})
			}
		}
	}
}

// sensorStage is one try: of which types, and whether places may look out of
// doors.
type sensorStage struct {
	types []string
	leaks bool
}

// stages lists the tries, the most welcome first.
func (s *sensorSearch) stages() []sensorStage {
	all := s.allStages()
	if s.wish.Shut {
		all = slices.DeleteFunc(all, func(t sensorStage) bool { return t.leaks })
	}
	return all
}

func (s *sensorSearch) allStages() []sensorStage {
	own := slices.Clone(s.wish.Types)
	if len(own) > 0 {
		return []sensorStage{{own, false}, {own, true}}
	}
	for _, i := range s.have {
		if t := s.r.Design.Devices[i].Type; !slices.Contains(own, t) {
			own = append(own, t)
		}
	}
	all := slices.Clone(own)
	for i := range s.p.Book {
		if t := &s.p.Book[i]; t.Kind.Traits().Presence && t.Supply != equipment.Wired && !slices.Contains(all, t.ID) {
			all = append(all, t.ID)
		}
	}
	if len(own) == 0 || len(own) == len(all) {
		return []sensorStage{{all, false}, {all, true}}
	}
	return []sensorStage{{own, false}, {own, true}, {all, false}, {all, true}}
}

// worth orders plans that are not complete.
func (s *sensorSearch) worth(plan *SensorPlan) float64 {
	seats, entrances := plan.Unseen()
	worth := -10*float64(seats+entrances) + 5*min(s.wish.Share, plan.After.Share(coverage.Major)) - 0.01*plan.Outside
	if plan.Complete {
		worth += 1e6
	}
	return worth
}

// solve looks for the fewest sensors of a stage. What samples of the floor
// promise is held against the room's own cells; where they promised too much,
// more is asked of them.
func (s *sensorSearch) solve(stage sensorStage) *SensorPlan {
	spots := s.undominated(s.spotsOf(stage))
	if len(spots) == 0 {
		return nil
	}
	var plan *SensorPlan
	ask := s.wish.Share
	for range 3 {
		found := s.choose(spots, ask)
		var moved []spot
		moved, found.Chosen = s.shift(spots, found.Chosen, stage.leaks)
		next := s.planOf(found, moved)
		next.Sites = len(spots)
		if plan == nil || s.worth(next) > s.worth(plan) {
			plan = next
		}
		short := s.wish.Share - next.After.Share(coverage.Major)
		if plan.Complete || len(found.Chosen) >= s.wish.Most || short <= 0 || ask >= 1 {
			break
		}
		ask = min(1, ask+short+0.002)
	}
	return plan
}
