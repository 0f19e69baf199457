package plan

import (
	"encoding/json"
	"errors"
	"net/http"
	"slices"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/geom"
	"scopewright/domain/units"
	"scopewright/store"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// gesture stores one finished gesture as one step to undo. One that was stored
// before and whose answer was lost is answered again, and not carried out again.
func (s Screen) gesture(w http.ResponseWriter, r *http.Request) {
	read, err := readGesture(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	try := s.tries.begin(r.URL.Path, read.token)
	if try == nil {
		s.desk(r).Done(w, r, store.Outcome{Changed: true}, nil, "")
		return
	}
	stored := false
	defer func() { s.tries.end(try, stored) }()
	outcome, err := s.carryOut(r, read)
	stored = err == nil
	s.desk(r).Done(w, r, outcome, err, "")
}

func (s Screen) carryOut(r *http.Request, read *wire) (store.Outcome, error) {
	if read.Do == "fix" {
		return s.fix(r, read.Rule, read.Key)
	}
	g, err := read.gesture()
	if err != nil {
		return store.Outcome{}, err
	}
	return s.draw(r, []edit.Gesture{g})
}

// draw carries out gestures in one transaction. Only the rooms that they change
// must be as the page showed them.
func (s Screen) draw(r *http.Request, gestures []edit.Gesture) (store.Outcome, error) {
	var ids []domain.ID
	walls := false
	prepare, err := s.around(r, gestures)
	if err != nil {
		return store.Outcome{}, err
	}
	for _, g := range gestures {
		walls = walls || g.Walls()
		for _, id := range g.Rooms() {
			if !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	request := store.Request{ProjectID: edits.ProjectID(r), Who: ui.Signed(r), Scope: subject(r), Base: baseOf(r, ids, walls)}
	return s.Store.Edit(r.Context(), request, func(tx *store.Tx) (string, error) { return drawn(tx, storeyID(r), ids, walls, gestures, prepare) })
}

func drawn(tx *store.Tx, storey domain.ID, ids []domain.ID, walls bool, gestures []edit.Gesture, prepare func(*store.Tx, *edit.Drawing)) (string, error) {
	d := &edit.Drawing{Storey: storey}
	prepare(tx, d)
	var err error
	if d.Project, err = tx.ReadProject(); err != nil {
		return "", err
	}
	if _, found := d.Project.FindStorey(storey); found == nil {
		return "", store.ErrNotFound
	}
	if len(ids) > 0 { // an empty pick would be all rooms
		if d.Rooms, err = tx.Rooms(store.Pick{Storey: storey, IDs: ids}); err != nil {
			return "", err
		}
	}
	if walls {
		if d.Plan, err = tx.Plan(storey); err != nil {
			return "", err
		}
	}
	var told []string
	for _, g := range gestures {
		said, err := edit.Draw(d, g)
		if err != nil {
			return "", err
		}
		told = append(told, said)
	}
	for _, room := range d.Rooms {
		if err := tx.PutRoom(room); err != nil {
			return "", err
		}
	}
	for _, id := range d.Removed {
		if err := tx.RemoveRoom(id); err != nil {
			return "", err
		}
	}
	for _, room := range d.Added {
		if err := tx.AddRoom(room); err != nil {
			return "", err
		}
	}
	if walls {
		if err := tx.PutPlan(d.Plan); err != nil {
			return "", err
		}
	}
	return edits.Told(told), nil
}

// baseOf gives the revisions of rooms and of the walls out of all that the page
// is based on.
func baseOf(r *http.Request, ids []domain.ID, walls bool) map[string]int64 {
	all, out := edits.Base(r), map[string]int64{}
	var subjects []string
	for _, id := range ids {
		subjects = append(subjects, store.RoomSubject(id))
	}
	if walls {
		subjects = append(subjects, subject(r))
	}
	for _, s := range subjects {
		if n, known := all[s]; known {
			out[s] = n
		}
	}
	return out
}

// wire is a gesture as the page's script sends it.
type wire struct {
	Do      string       `json:"do"`
	Things  []string     `json:"things"` // "device/<room>/<id>"
	By      geom.Point   `json:"by"`     // meters
	Turn    float64      `json:"turn"`   // degrees, counterclockwise
	Room    domain.ID    `json:"room"`
	Load    domain.ID    `json:"load"`
	At      []geom.Point `json:"at"`
	Number  string       `json:"number"`
	Name    string       `json:"name"`
	Outline []geom.Point `json:"outline"`

	Kind      string       `json:"kind"` // of a wall or an opening
	Wall      domain.ID    `json:"wall"`
	Along     units.Metres `json:"along"` // from the wall's first end to the opening's middle
	Width     units.Metres `json:"width"`
	Sill      units.Metres `json:"sill"`
	Head      units.Metres `json:"head"`
	Thickness units.Metres `json:"thickness"`

	To      string          `json:"to"`     // of an alignment: "left", "row"
	Corner  int             `json:"corner"` // of an outline, from 0
	Columns int             `json:"columns"`
	Rows    int             `json:"rows"`
	Step    geom.Point      `json:"step"` // across and down; 0: fill the room
	Clip    json.RawMessage `json:"clip"` // what was copied

	Field string `json:"field"` // of the one thing, with its text
	Text  string `json:"text"`
	Rule  string `json:"rule"` // of a finding, with its key
	Key   string `json:"key"`

	token string // names this attempt; empty for none
}

// mostBytes bounds a gesture: some 40 rooms that are pasted, or an outline of
// 2,000 corners with room to spare.
const mostBytes = 1 << 20

// readGesture reads the gesture of a request's form field "gesture", and the
// "token" under which it is sent again should its answer be lost.
func readGesture(r *http.Request) (*wire, error) {
	r.Body = http.MaxBytesReader(nil, r.Body, mostBytes)
	if err := r.ParseForm(); err != nil {
		var tooLarge *http.MaxBytesError
		if errors.As(err, &tooLarge) {
			return nil, err
		}
		return nil, edits.Refusef("the gesture could not be read: reload the page and try again")
	}
	read := new(wire)
	if err := json.Unmarshal([]byte(r.PostForm.Get("gesture")), read); err != nil {
		return nil, edits.Refusef("the gesture could not be read: reload the page and try again")
	}
	if read.token = r.PostForm.Get("token"); len(read.token) > mostToken {
		return nil, edits.Refusef("the gesture could not be read: reload the page and try again")
	}
	return read, nil
}

func (g *wire) gesture() (edit.Gesture, error) {
	things := make([]edit.Thing, len(g.Things))
	for i, text := range g.Things {
		var err error
		if things[i], err = edit.ParseThing(text); err != nil {
			return nil, &edit.Refused{Err: err}
		}
	}
	switch g.Do {
	case "move":
		return edit.MoveThings{Things: things, By: g.By}, nil
	case "turn":
		return edit.TurnThings{Things: things, By: g.Turn}, nil
	case "take off":
		return edit.TakeOff{Things: things}, nil
	case "place device":
		if len(things) != 1 || things[0].Kind != edit.DeviceThing || len(g.At) != 1 {
			return nil, edits.Refusef("place one device at a time")
		}
		return edit.PlaceDevice{Room: things[0].Room, Device: things[0].ID, At: g.At[0]}, nil
	case "place luminaires":
		return edit.PlaceFixtures{Room: g.Room, Load: g.Load, IDs: newIDs(len(g.At)), At: g.At, Turn: g.Turn}, nil
	case "place seats":
		return edit.PlaceSeats{Room: g.Room, IDs: newIDs(len(g.At)), At: g.At}, nil
	case "outline":
		return edit.SetOutline{Room: g.Room, Outline: g.Outline}, nil
	case "split":
		if len(g.At) != 2 {
			return nil, edits.Refusef("a line to split along needs two points")
		}
		return edit.SplitRoom{Room: g.Room, A: g.At[0], B: g.At[1], ID: domain.NewID(), Number: g.Number, Name: g.Name}, nil
	case "load zone":
		return edit.SetLoadZone{Room: g.Room, Load: g.Load, Zone: domain.WindowZone(g.Kind)}, nil
	case "draw room":
		return edit.DrawRoom{ID: g.roomIDs()(), Number: g.Number, Name: g.Name, Outline: g.Outline}, nil
	}
	if more, err := g.arranging(things); more != nil || err != nil {
		return more, err
	}
	return g.wallGesture(things)
}

func (g *wire) wallGesture(things []edit.Thing) (edit.Gesture, error) {
	switch g.Do {
	case "walls":
		return edit.DrawWalls{IDs: newIDs(max(0, len(g.At)-1)), Points: g.At, Kind: domain.WallKind(g.Kind), Thickness: g.Thickness}, nil
	case "opening":
		return edit.AddOpening{Wall: g.Wall, ID: domain.NewID(), Kind: domain.OpeningKind(g.Kind), At: g.Along, Width: g.Width, Sill: g.Sill, Head: g.Head}, nil
	case "rooflight":
		if len(g.At) != 2 {
			return nil, edits.Refusef("a rooflight lies between two opposite corners")
		}
		return edit.AddRooflight{ID: domain.NewID(), A: g.At[0], B: g.At[1]}, nil
	case "set":
		if len(things) != 1 {
			return nil, edits.Refusef("a field is set of one thing at a time")
		}
		return setting(things[0], g.Field, edits.Cell{Path: things[0].String() + "/" + g.Field, Text: g.Text}), nil
	case "inside":
		if len(g.At) != 1 {
			return nil, edits.Refusef("click between the walls of one room")
		}
		return edit.DrawInside{At: g.At[0], Room: g.Room, ID: g.roomIDs()(), Number: g.Number, Name: g.Name}, nil
	}
	return nil, edits.Refusef("the plan knows no gesture %q", g.Do)
}

func newIDs(n int) []domain.ID {
	out := make([]domain.ID, n)
	for i := range out {
		out[i] = domain.NewID()
	}
	return out
}
