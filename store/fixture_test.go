package store

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

var ctx = context.Background()

const (
	projectID = domain.ID("p1")
	typicalID = domain.ID("t1")
)

// invented gives an invented project: two storeys, a typical with nine devices,
// and rooms of which every third follows it. The others have a design of their
// own with that many devices.
func invented(rooms, devices int) *domain.Scope {
	s := &domain.Scope{Project: domain.Project{
		ID: projectID, Name: "Invented annex", Number: "0001", Units: units.US, Invented: true,
		Buildings:  []domain.Building{{ID: "b1", Seq: 1, Name: "Annex", Storeys: []domain.Storey{{ID: "s1", Seq: 1, Name: "Level 1"}, {ID: "s2", Seq: 2, Name: "Level 2"}}}},
		Luminaires: []domain.Luminaire{{ID: "l1", Seq: 1, Tag: "A1", Watts: 32, Volts: 277, Driver: domain.DriverAnalog}},
		Book:       equipment.Generic(), Limits: domain.GenericLimits(),
		Checklist: []domain.ChecklistItem{{ID: "i1", Seq: 1, Subject: "Sensors", Text: "Does each sensor see the whole room?", For: domain.AskRoom}},
	}}
	s.Typicals = []domain.Typical{{ID: typicalID, Seq: 1, Name: "CR-1", Use: "classroom", Design: design(9)}}
	for i := range rooms {
		r := domain.Room{ID: roomID(i), StoreyID: "s1", Number: fmt.Sprint(101 + i), Name: "Room", Use: "classroom", Area: 74.3}
		if i >= rooms/2 {
			r.StoreyID = "s2"
		}
		if i%3 == 2 {
			r.TypicalID = typicalID
		} else {
			r.Design = design(devices)
		}
		s.Rooms = append(s.Rooms, r)
	}
	return s
}

func roomID(i int) domain.ID { return domain.ID(fmt.Sprintf("r%05d", i)) }

// design has one controller, one gateway, and stations with two links each.
func design(devices int) domain.Design {
	d := domain.Design{
		Loads:   []domain.Load{{ID: "z1", Seq: 1, Tag: "Z1", Kind: domain.Lighting, Luminaire: "l1", Count: 12, Circuit: "LP1-3", Dimming: equipment.Analog, Controller: "d1", Output: 1}},
		Scenes:  []domain.Scene{{ID: "c1", Seq: 1, Number: 1, Name: "Teaching", Levels: []domain.SceneLevel{{ID: "z1", Level: 80, Fade: 2}}}},
		Intents: []domain.Intent{domain.NewIntent("n1", domain.ByPresence)},
	}
	for i := range devices {
		v := domain.Device{ID: domain.ID(fmt.Sprintf("d%d", i+1)), Seq: i + 1, Tag: fmt.Sprintf("ST-%d", i), Type: "st-2-battery", Place: "by the door", Height: 1.2}
		switch i {
		case 0:
			v.Tag, v.Type = "LC-1", "lc-1"
		case 1:
			v.Tag, v.Type = "GW-1", "gw-room"
		default:
			for button := 1; button <= 2; button++ {
				d.Links = append(d.Links, domain.Link{ID: domain.LinkID(v.ID, button, domain.Press, "z1"), Device: v.ID, Button: button, On: domain.Press, Load: "z1", Do: domain.Action{Verb: domain.ToLevel, Level: units.Level(50 * button)}})
			}
			v.Buttons = []domain.Button{{ID: "1", Label: "On"}, {ID: "2", Label: "Off"}}
		}
		d.Devices = append(d.Devices, v)
	}
	return d
}

// open opens a fresh database with the scope in it.
func open(t testing.TB, scope *domain.Scope, change ...func(*Options)) *Store {
	t.Helper()
	s := reopen(t, filepath.Join(t.TempDir(), "project.db"), change...)
	if scope != nil {
		require.NoError(t, s.ImportScope(ctx, "Ada Example", scope, false, nil))
	}
	return s
}

func reopen(t testing.TB, path string, change ...func(*Options)) *Store {
	t.Helper()
	o := Options{Path: path}
	for _, c := range change {
		c(&o)
	}
	s, err := Open(ctx, o)
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// rename is an edit of a room's name.
func rename(id domain.ID, name string) func(*Tx) (string, error) {
	return func(tx *Tx) (string, error) {
		r, err := tx.Room(id)
		if err != nil {
			return "", err
		}
		r.Name = name
		return "renamed room " + r.Number + " to " + name, tx.PutRoom(r)
	}
}

func edit(t testing.TB, s *Store, scope string, change func(*Tx) (string, error)) Outcome {
	t.Helper()
	out, err := s.Edit(ctx, Request{ProjectID: projectID, Who: "Ada Example", Scope: scope}, change)
	require.NoError(t, err)
	return out
}

func room(t testing.TB, s *Store, id domain.ID) *RoomState {
	t.Helper()
	r, err := s.Room(ctx, id)
	require.NoError(t, err)
	return r
}

func line(t testing.TB, s *Store, id domain.ID) RoomLine {
	t.Helper()
	lines, _, err := s.RoomLines(ctx, projectID, Filter{})
	require.NoError(t, err)
	for _, l := range lines {
		if l.ID == id {
			return l
		}
	}
	t.Fatalf("no line of room %s", id)
	return RoomLine{}
}

// bytesOf gives the project as it would be frozen.
func bytesOf(t require.TestingT, s *Store) string {
	scope, err := s.Load(ctx, projectID)
	require.NoError(t, err)
	b, err := json.Marshal(scope)
	require.NoError(t, err)
	return string(b)
}
