package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/store/intake/roomlist"
)

// action is what happens to one line: "new", "update", "same" or "skip"; or
// "missing" for what the project has and the file does not name.
type action string

const (
	isNew    action = "new"
	isUpdate action = "update"
	isSame   action = "same"
	isSkip   action = "skip"
	missing  action = "missing"
)

// line is what one line of the file does, whatever the file holds.
type line struct {
	Number  int    // in the file; 0 for what it does not name
	Place   string // the storey, where the file is a model
	Action  action
	Label   string
	Path    string // of the thing that is there already
	Changes []string
	Problem string

	Drawn, Here string // areas: in a model, and stated here
	Differs     bool   // those two
}

// planRooms says what the room list does to a project. New rooms whose line
// names no storey go where the person said.
func (p *parcel) planRooms(project *domain.Project, typicals []domain.Typical, existing []*domain.Room, newID func() domain.ID) (plan *roomlist.Plan, placeless int) {
	plan = p.rooms.Plan(project, typicals, existing, newID)
	lost := map[int]bool{}
	byLine := make(map[int]roomlist.Action, len(plan.Steps))
	for i := range plan.Steps {
		byLine[plan.Steps[i].Line] = plan.Steps[i].Action
	}
	for i := range p.rooms.Rooms {
		l := &p.rooms.Rooms[i]
		if a := byLine[l.Line]; l.Storey == "" && (a == roomlist.New || a == roomlist.Skip) {
			lost[l.Line] = true
		}
	}
	building, storey := project.FindStorey(p.storey)
	if storey == nil || len(lost) == 0 {
		return plan, len(lost)
	}
	placed := *p.rooms
	placed.Rooms = slices.Clone(p.rooms.Rooms)
	for i := range placed.Rooms {
		if l := &placed.Rooms[i]; lost[l.Line] {
			l.Storey = storey.Name
			if l.Building == "" {
				l.Building = building.Name
			}
		}
	}
	return placed.Plan(project, typicals, existing, newID), len(lost)
}

// stamp tells two plans apart, whatever IDs they give to what is new.
func stamp(lines []line) string {
	h := sha256.New()
	for _, l := range lines {
		if l.Action == isSame || l.Action == missing {
			continue // not written
		}
		fmt.Fprintf(h, "%d\x00%s\x00%s\x00%s\x00%q\x00%q\n", l.Number, l.Action, l.Label, l.Path, l.Changes, l.Problem)
	}
	return hex.EncodeToString(h.Sum(nil)[:12])
}

// stateStamp tells two states of a project apart.
func stateStamp(scope *domain.Scope) (string, error) {
	h := sha256.New()
	if err := json.NewEncoder(h).Encode(scope); err != nil {
		return "", fmt.Errorf("comparing states: %w", err)
	}
	return hex.EncodeToString(h.Sum(nil)[:12]), nil
}
