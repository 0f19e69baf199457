package sheets

import (
	"scopewright/domain"
	"scopewright/web/ui"
)

// difference is what changed between two states, ready to print.
type difference struct {
	From, To string
	Words    string // "3 rooms changed, 1 added"
	Project  []string
	Rooms    []roomChange
	More     int // rooms beyond those listed
	Empty    bool
}

type roomChange struct {
	Label, Kind, Path string // Path is "" where the room is not there now
	Lines             []string
}

// mostRoomChanges is how many rooms are listed one by one.
const mostRoomChanges = 400

// newDifference prepares a comparison. project is "" where links to rooms
// would lead nowhere.
func newDifference(project domain.ID, from, to string, d *domain.Difference) difference {
	out := difference{From: from, To: to, Project: d.Project, Empty: d.Empty(), Words: changeWords(d)}
	for _, r := range d.Rooms {
		if len(out.Rooms) == mostRoomChanges {
			out.More = len(d.Rooms) - mostRoomChanges
			break
		}
		line := roomChange{Label: r.Label, Kind: string(r.Kind), Lines: r.Lines}
		if project != "" && r.Kind != domain.RoomRemoved {
			line.Path = ui.Room(project, r.RoomID)
		}
		out.Rooms = append(out.Rooms, line)
	}
	return out
}

func changeWords(d *domain.Difference) string {
	n := map[domain.ChangeKind]int{}
	for _, r := range d.Rooms {
		n[r.Kind]++
	}
	out := ""
	add := func(text string) {
		if out != "" {
			out += ", "
		}
		out += text
	}
	for _, k := range []domain.ChangeKind{domain.RoomChanged, domain.RoomAdded, domain.RoomRemoved} {
		if n[k] > 0 {
			add(domain.Count(n[k], "room", "rooms") + " " + string(k))
		}
	}
	if len(d.Project) > 0 {
		add(domain.Count(len(d.Project), "change", "changes") + " to the project")
	}
	if out == "" {
		return "nothing that prints"
	}
	return out
}
