package store

import (
	"errors"
	"fmt"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
)

func TestAnEditIsStoredAndReadBack(t *testing.T) {
	s := open(t, invented(6, 5))
	before := room(t, s, roomID(0))
	out := edit(t, s, RoomSubject(roomID(0)), func(tx *Tx) (string, error) {
		r, err := tx.Room(roomID(0))
		require.NoError(t, err)
		r.Design.Devices[2].Delay = 600
		r.Number = "101A"
		return "set a delay", tx.PutRoom(r)
	})
	require.True(t, out.Changed)
	assert.Equal(t, "set a delay", out.Undo)
	assert.Empty(t, out.Redo)
	assert.Equal(t, []string{"room:r00000"}, out.Touched)
	assert.Equal(t, map[string]int64{"room:r00000": 2}, out.Revisions)
	var paths []string
	for _, c := range out.Changes {
		paths = append(paths, c.Path)
	}
	assert.Equal(t, []string{"rooms/r00000/number", "rooms/r00000/design/devices/d3/delay_s"}, paths)

	after := room(t, s, roomID(0))
	assert.Same(t, out.Room.Resolved, after.Resolved, "what the rules saw is what Room gives")
	assert.EqualValues(t, 600, after.Resolved.Design.Devices[2].Delay)
	assert.EqualValues(t, 0, before.Resolved.Design.Devices[2].Delay, "what was published never changes")
	assert.Equal(t, "101A", line(t, s, roomID(0)).Number)

	again := reopen(t, s.Path())
	assert.Equal(t, after.Resolved.Room, room(t, again, roomID(0)).Resolved.Room)
}

func TestAnEditWithoutAChangeWritesNothing(t *testing.T) {
	s := open(t, invented(3, 4))
	out := edit(t, s, RoomSubject(roomID(1)), rename(roomID(1), "Room"))
	assert.False(t, out.Changed)
	assert.EqualValues(t, 1, room(t, s, roomID(1)).Revision)
	entries, err := s.History(ctx, projectID, HistoryFilter{})
	require.NoError(t, err)
	require.Len(t, entries, 1)
	assert.Equal(t, Note, entries[0].State)
}

func TestStaleEditIsRefused(t *testing.T) {
	s := open(t, invented(3, 4))
	subject := RoomSubject(roomID(0))
	edit(t, s, subject, rename(roomID(0), "Lab"))
	_, err := s.Edit(ctx, Request{ProjectID: projectID, Base: map[string]int64{subject: 1}}, func(*Tx) (string, error) {
		t.Error("a stale edit must not run")
		return "", nil
	})
	var stale *StaleError
	require.ErrorAs(t, err, &stale)
	assert.Equal(t, StaleError{Subject: subject, Base: 1, Now: 2}, *stale)
	assert.Contains(t, err.Error(), "nothing was stored")
	assert.Equal(t, "Lab", room(t, s, roomID(0)).Resolved.Name)

	// A room that follows a typical may also be based on the typical's revision.
	edit(t, s, "", func(tx *Tx) (string, error) {
		typical, err := tx.Typical(typicalID)
		require.NoError(t, err)
		typical.Title = "Classroom"
		return "titled", tx.PutTypical(typical)
	})
	base := map[string]int64{RoomSubject(roomID(2)): 1, TypicalSubject(typicalID): 1}
	_, err = s.Edit(ctx, Request{ProjectID: projectID, Base: base}, rename(roomID(2), "X"))
	require.ErrorAs(t, err, &stale)
	assert.Equal(t, TypicalSubject(typicalID), stale.Subject)

	edit(t, s, "", func(tx *Tx) (string, error) { return "removed", tx.RemoveRoom(roomID(0)) })
	_, err = s.Edit(ctx, Request{ProjectID: projectID, Base: map[string]int64{subject: 2}}, rename(roomID(0), "X"))
	require.ErrorAs(t, err, &stale)
	assert.Zero(t, stale.Now)
}

func TestTwoEditorsNeverOverwrite(t *testing.T) {
	s := open(t, invented(1, 4))
	subject := RoomSubject(roomID(0))
	const editors, edits = 4, 25
	var wg sync.WaitGroup
	for range editors {
		wg.Go(func() {
			for done := 0; done < edits; {
				now, err := s.Room(ctx, roomID(0))
				if !assert.NoError(t, err) {
					return
				}
				_, err = s.Edit(ctx, Request{ProjectID: projectID, Base: map[string]int64{subject: now.Revision}}, func(tx *Tx) (string, error) {
					r, err := tx.Room(roomID(0))
					if err != nil {
						return "", err
					}
					r.Seats = now.Resolved.Seats + 1 // on purpose from what was read before
					return "one more seat", tx.PutRoom(r)
				})
				var stale *StaleError
				if err == nil {
					done++
				} else if !assert.ErrorAs(t, err, &stale) {
					return
				}
			}
		})
	}
	wg.Wait()
	assert.Equal(t, editors*edits, room(t, s, roomID(0)).Resolved.Seats, "each edit counted once")
}

func TestGroupCommitIsolatesFailures(t *testing.T) {
	s := open(t, invented(40, 4))
	hold, held := make(chan struct{}), make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() { // keeps the writer busy until the others stand in line
		_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) {
			close(held)
			<-hold
			return rename(roomID(0), "first")(tx)
		})
		assert.NoError(t, err)
	})
	<-held
	refusal := errors.New("not this one")
	errs := make([]error, 40)
	for i := 1; i < 40; i++ {
		wg.Go(func() {
			_, errs[i] = s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) {
				said, err := rename(roomID(i), "changed")(tx)
				switch {
				case err != nil:
					return "", err
				case i%4 == 1:
					return "", refusal
				case i%4 == 2:
					// Fails only when written: no such storey.
					r, err := tx.Room(roomID(i))
					if err != nil {
						return "", err
					}
					r.StoreyID = "nowhere"
					return said, tx.PutRoom(r)
				case i%4 == 3:
					panic("a defect in an edit")
				}
				return said, nil
			})
		})
	}
	waitInLine(s, 39)
	close(hold)
	wg.Wait()
	assert.Equal(t, "first", room(t, s, roomID(0)).Resolved.Name)
	for i := 1; i < 40; i++ {
		name := room(t, s, roomID(i)).Resolved.Name
		switch i % 4 {
		case 0:
			assert.NoError(t, errs[i])
			assert.Equal(t, "changed", name)
		case 1:
			assert.ErrorIs(t, errs[i], refusal)
			assert.Equal(t, "Room", name)
		default:
			assert.ErrorIs(t, errs[i], ErrRefused)
			assert.Equal(t, "Room", name)
		}
	}
}

// A test that fails inside an edit ends its goroutine: that must not keep the
// turn, nor leave the transaction open.
func TestAnEditThatEndsItsGoroutineStoresNothing(t *testing.T) {
	s := open(t, invented(2, 2))
	var wg sync.WaitGroup
	wg.Go(func() {
		_, _ = s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) {
			if _, err := rename(roomID(0), "X")(tx); err != nil {
				return "", err
			}
			runtime.Goexit()
			return "", nil
		})
	})
	wg.Wait()
	assert.Equal(t, "Room", room(t, s, roomID(0)).Resolved.Name)
	edit(t, s, "", rename(roomID(1), "Y"))
}

func TestEditsInOneGroupSeeEachOther(t *testing.T) {
	s := open(t, invented(1, 4))
	hold, held := make(chan struct{}), make(chan struct{})
	var wg sync.WaitGroup
	addSeat := func(tx *Tx) (string, error) {
		r, err := tx.Room(roomID(0))
		if err != nil {
			return "", err
		}
		r.Seats++
		return "one more seat", tx.PutRoom(r)
	}
	wg.Go(func() {
		_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) { close(held); <-hold; return addSeat(tx) })
		assert.NoError(t, err)
	})
	<-held
	for range 30 {
		wg.Go(func() {
			_, err := s.Edit(ctx, Request{ProjectID: projectID}, addSeat)
			assert.NoError(t, err)
		})
	}
	waitInLine(s, 30)
	close(hold)
	wg.Wait()
	assert.Equal(t, 31, room(t, s, roomID(0)).Resolved.Seats)
	assert.Equal(t, 31, room(t, reopen(t, s.Path()), roomID(0)).Resolved.Seats)
}

func TestWhatDoesNotBelongTogetherIsRefused(t *testing.T) {
	s := open(t, invented(3, 4))
	for name, c := range map[string]struct {
		change func(*Tx) error
		says   string
	}{
		"typical with followers": {func(tx *Tx) error { return tx.RemoveTypical(typicalID) }, "1 room follows it (103)"},
		"storey with rooms": {func(tx *Tx) error {
			p, err := tx.Project()
			if err == nil {
				p.Buildings[0].Storeys = p.Buildings[0].Storeys[1:]
				err = tx.PutProject(p)
			}
			return err
		}, "1 room lies on it (101)"},
		"room on no storey": {func(tx *Tx) error { return tx.AddRoom(&domain.Room{ID: "x1", Number: "9", StoreyID: "s9"}) }, "storey that the project does not have"},
		"room of no typical": {func(tx *Tx) error {
			return tx.AddRoom(&domain.Room{ID: "x1", Number: "9", StoreyID: "s1", TypicalID: "t9"})
		}, "typical that the project does not have"},
		"room that is there":       {func(tx *Tx) error { return tx.AddRoom(&domain.Room{ID: roomID(0), Number: "9", StoreyID: "s1"}) }, "is there already"},
		"typical that is there":    {func(tx *Tx) error { return tx.AddTypical(&domain.Typical{ID: typicalID, Name: "CR-9"}) }, "is there already"},
		"room that is not there":   {func(tx *Tx) error { _, err := tx.Room("nope"); return err }, "no room nope"},
		"removing what is not":     {func(tx *Tx) error { return tx.RemoveRoom("nope") }, "no room nope"},
		"an ID that is none":       {func(tx *Tx) error { return tx.AddRoom(&domain.Room{ID: "A B", StoreyID: "s1"}) }, "is no ID"},
		"another typical in place": {func(tx *Tx) error { r, _ := tx.Room(roomID(2)); r.TypicalID = ""; return tx.PutRoom(r) }, "PutBareRoom"},
	} {
		before := bytesOf(t, s)
		_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) { return name, c.change(tx) })
		assert.ErrorContains(t, err, c.says, name)
		assert.Equal(t, before, bytesOf(t, s), name)
	}
}

func TestTypicalEditReachesFollowersSummaries(t *testing.T) {
	s := open(t, invented(9, 4))
	assert.Equal(t, 9, line(t, s, roomID(2)).Devices)
	assert.Equal(t, 1, line(t, s, roomID(2)).Gateways)
	was := room(t, s, roomID(2))
	out := edit(t, s, TypicalSubject(typicalID), func(tx *Tx) (string, error) {
		typical, err := tx.Typical(typicalID)
		require.NoError(t, err)
		typical.Design.Devices = typical.Design.Devices[:4]
		return "fewer devices", tx.PutTypical(typical)
	})
	assert.Equal(t, map[string]int64{"typical:t1": 2}, out.Revisions)
	for _, i := range []int{2, 5, 8} {
		assert.Equal(t, 4, line(t, s, roomID(i)).Devices, "room %d", i)
		now := room(t, s, roomID(i))
		assert.Len(t, now.Resolved.Design.Devices, 4)
		assert.EqualValues(t, 1, now.Revision, "the room's own revision stays")
		assert.EqualValues(t, 2, now.TypicalRevision)
	}
	assert.Len(t, was.Resolved.Design.Devices, 9)

	_, err := s.Undo(ctx, Request{Scope: TypicalSubject(typicalID)})
	require.NoError(t, err)
	assert.Equal(t, 9, line(t, s, roomID(5)).Devices)
	assert.Len(t, room(t, s, roomID(5)).Resolved.Design.Devices, 9)
}

// The typical's edit fails in its group after its followers were judged with it:
// they must not remember what never came to be, although the next edit of the
// typical gets the very same revision.
func TestAFailedTypicalEditLeavesNoTraceInItsFollowers(t *testing.T) {
	for _, alone := range []bool{true, false} {
		s := open(t, invented(3, 4))
		shrink := func(to int) func(*Tx) (string, error) {
			return func(tx *Tx) (string, error) {
				typical, err := tx.Typical(typicalID)
				if err != nil {
					return "", err
				}
				typical.Design.Devices = typical.Design.Devices[:to]
				return "shrunk", tx.PutTypical(typical)
			}
		}
		require.Len(t, room(t, s, roomID(2)).Resolved.Design.Devices, 9)
		failing := func(w *work) (effects, error) {
			tx := newTx(w, projectID)
			_, err := shrink(2)(tx)
			require.NoError(t, err)
			_, err = tx.store(Request{})
			require.NoError(t, err)
			return effects{}, errors.New("fails at the very end")
		}
		if alone {
			assert.ErrorContains(t, s.submit(ctx, "failing", failing), "very end")
		} else {
			failAsSecond(t, s, failing)
		}
		assert.Len(t, room(t, s, roomID(2)).Resolved.Design.Devices, 9)
		edit(t, s, "", shrink(5))
		assert.Len(t, room(t, s, roomID(2)).Resolved.Design.Devices, 5)
		assert.Equal(t, 5, line(t, s, roomID(2)).Devices)
	}
}

// waitInLine waits until that many edits stand behind the one that runs.
func waitInLine(s *Store, n int) {
	for len(s.jobs) < n {
		time.Sleep(time.Millisecond)
	}
}

func failAsSecond(t *testing.T, s *Store, failing func(*work) (effects, error)) {
	hold, held := make(chan struct{}), make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() {
		_, err := s.Edit(ctx, Request{ProjectID: projectID}, func(tx *Tx) (string, error) { close(held); <-hold; return rename(roomID(0), "x")(tx) })
		assert.NoError(t, err)
	})
	<-held
	wg.Go(func() { assert.ErrorContains(t, s.submit(ctx, "failing", failing), "very end") })
	waitInLine(s, 1)
	close(hold)
	wg.Wait()
}

func TestABookEditReachesAllRooms(t *testing.T) {
	s := open(t, invented(30, 4))
	assert.Equal(t, 1, line(t, s, roomID(0)).Gateways)
	edit(t, s, ProjectSubject(projectID), func(tx *Tx) (string, error) {
		p, err := tx.Project()
		require.NoError(t, err)
		p.Book.Find("gw-room").Kind = "router"
		return "changed the book", tx.PutProject(p)
	})
	lines, total, err := s.RoomLines(ctx, projectID, Filter{})
	require.NoError(t, err)
	require.Equal(t, 30, total)
	for _, l := range lines {
		assert.Zero(t, l.Gateways, l.Number)
	}
}

func TestBulkEditIsOneStep(t *testing.T) {
	s := open(t, invented(700, 2)) // more than one query's worth
	before := bytesOf(t, s)
	out := edit(t, s, ProjectSubject(projectID), func(tx *Tx) (string, error) {
		rooms, err := tx.Rooms(Pick{Storey: "s2"})
		require.NoError(t, err)
		require.Len(t, rooms, 350)
		assert.Equal(t, "451", rooms[0].Number)
		for _, r := range rooms {
			r.Name = "Bulk"
			if err := tx.PutRoom(r); err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("renamed %d rooms", len(rooms)), nil
	})
	assert.Len(t, out.Revisions, 350)
	_, total, err := s.RoomLines(ctx, projectID, Filter{Text: "bulk", Limit: 10})
	require.NoError(t, err)
	assert.Equal(t, 350, total)

	undone, err := s.Undo(ctx, Request{Scope: ProjectSubject(projectID), Who: "Ben Example"})
	require.NoError(t, err)
	assert.Equal(t, "renamed 350 rooms", undone.Redo)
	assert.Equal(t, before, bytesOf(t, s))
}

func TestAnEditSeesItsOwnChanges(t *testing.T) {
	s := open(t, invented(3, 4))
	edit(t, s, "", func(tx *Tx) (string, error) {
		require.NoError(t, tx.AddTypical(&domain.Typical{ID: "t2", Seq: 2, Name: "OF-1", Design: design(3)}))
		require.NoError(t, tx.AddRoom(&domain.Room{ID: "new", Number: "7", StoreyID: "s1", TypicalID: "t2"}))
		r, err := tx.Room("new")
		require.NoError(t, err)
		assert.Len(t, r.Design.Devices, 3)
		r.Design.Devices[0].Place = "above the door"
		require.NoError(t, tx.PutRoom(r))
		followers, err := tx.Rooms(Pick{Typical: "t2"})
		require.NoError(t, err)
		require.Len(t, followers, 1)
		assert.Equal(t, "above the door", followers[0].Design.Devices[0].Place)
		typicals, err := tx.Typicals()
		require.NoError(t, err)
		assert.Len(t, typicals, 2)
		require.NoError(t, tx.RemoveRoom(roomID(0)))
		_, err = tx.Room(roomID(0))
		assert.ErrorIs(t, err, ErrNotFound)
		return "did much", nil
	})
	got := room(t, s, "new")
	assert.Equal(t, "above the door", got.Resolved.Design.Devices[0].Place)
	assert.Equal(t, 1, line(t, s, "new").Exceptions)
	_, err := s.Room(ctx, roomID(0))
	assert.ErrorIs(t, err, ErrNotFound)
}

func TestEventsComeAfterTheCommit(t *testing.T) {
	s := open(t, invented(3, 4))
	events, cancel := s.Subscribe()
	defer cancel()
	for i := range 3 * heldEvents { // nobody reads: the writer must not wait
		edit(t, s, "", rename(roomID(0), fmt.Sprint("n", i)))
	}
	var last Event
	for n := len(events); n > 0; n-- {
		last = <-events
	}
	assert.Equal(t, map[string]int64{RoomSubject(roomID(0)): room(t, s, roomID(0)).Revision}, last.Subjects, "the newest is kept")
	assert.Equal(t, "Ada Example", last.Who)
	cancel()
	_, open := <-events
	assert.False(t, open)
	edit(t, s, "", rename(roomID(0), "after"))
}
