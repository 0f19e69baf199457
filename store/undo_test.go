package store

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/delta"
	"scopewright/domain/units"
)

func TestUndoRedoAcrossRestart(t *testing.T) {
	s := open(t, invented(3, 4))
	subject := RoomSubject(roomID(0))
	before := bytesOf(t, s)
	edit(t, s, subject, rename(roomID(0), "One"))
	edit(t, s, subject, rename(roomID(0), "Two"))
	after := bytesOf(t, s)
	path := s.Path()
	require.NoError(t, s.Close())

	s = reopen(t, path)
	undo, redo, err := s.UndoState(ctx, subject)
	require.NoError(t, err)
	assert.Equal(t, "renamed room 101 to Two", undo)
	assert.Empty(t, redo)
	out, err := s.Undo(ctx, Request{Scope: subject, Who: "Ben Example"})
	require.NoError(t, err)
	assert.Equal(t, "renamed room 101 to Two", out.Said)
	assert.Equal(t, "renamed room 101 to One", out.Undo)
	assert.Equal(t, "renamed room 101 to Two", out.Redo)
	assert.Equal(t, "One", out.Room.Resolved.Name)
	require.NoError(t, s.Close())

	s = reopen(t, path)
	_, err = s.Undo(ctx, Request{Scope: subject})
	require.NoError(t, err)
	assert.Equal(t, before, bytesOf(t, s))
	_, err = s.Undo(ctx, Request{Scope: subject})
	assert.ErrorIs(t, err, ErrNothingToUndo)
	require.NoError(t, s.Close())

	s = reopen(t, path)
	for range 2 {
		_, err = s.Redo(ctx, Request{Scope: subject})
		require.NoError(t, err)
	}
	assert.Equal(t, after, bytesOf(t, s))
	_, err = s.Redo(ctx, Request{Scope: subject})
	assert.ErrorIs(t, err, ErrNothingToRedo)

	entries, err := s.History(ctx, projectID, HistoryFilter{Subject: subject})
	require.NoError(t, err)
	require.Len(t, entries, 2)
	assert.Equal(t, Done, entries[0].State)
	assert.Equal(t, "Ada Example", entries[0].Who)
	assert.Equal(t, "rooms/r00000/name", entries[0].Changes[0].Path)
	older, err := s.History(ctx, projectID, HistoryFilter{Subject: subject, Before: entries[0].ID, Limit: 1})
	require.NoError(t, err)
	require.Len(t, older, 1)
	assert.Equal(t, entries[1].ID, older[0].ID)
}

func TestANewEditDropsWhatCouldBeRedoneOnlyWhereItTouches(t *testing.T) {
	s := open(t, invented(3, 4))
	one, two := RoomSubject(roomID(0)), RoomSubject(roomID(1))
	edit(t, s, one, rename(roomID(0), "A"))
	edit(t, s, two, rename(roomID(1), "B"))
	for _, subject := range []string{one, two} {
		_, err := s.Undo(ctx, Request{Scope: subject})
		require.NoError(t, err)
	}
	edit(t, s, one, rename(roomID(0), "C"))
	_, err := s.Redo(ctx, Request{Scope: one})
	assert.ErrorIs(t, err, ErrNothingToRedo)
	_, err = s.Redo(ctx, Request{Scope: two})
	assert.NoError(t, err)
	assert.Equal(t, "B", room(t, s, roomID(1)).Resolved.Name)
}

func TestUndoRefusesWhatMeanwhileChanged(t *testing.T) {
	s := open(t, invented(3, 4))
	project := ProjectSubject(projectID)
	edit(t, s, project, func(tx *Tx) (string, error) {
		if _, err := rename(roomID(0), "Bulk")(tx); err != nil {
			return "", err
		}
		_, err := rename(roomID(1), "Bulk")(tx)
		return "renamed 2 rooms", err
	})
	edit(t, s, RoomSubject(roomID(1)), rename(roomID(1), "Mine"))
	before := bytesOf(t, s)
	_, err := s.Undo(ctx, Request{Scope: project})
	var conflict *ConflictError
	require.ErrorAs(t, err, &conflict)
	assert.Equal(t, "rooms/r00001/name", conflict.Path)
	assert.Equal(t, `cannot undo "renamed 2 rooms": room 102 has changed since (name). The newest edit there is "renamed room 102 to Mine" by Ada Example: undo that first, or change it by hand.`, err.Error())
	assert.Equal(t, before, bytesOf(t, s), "nothing was written")

	_, err = s.Undo(ctx, Request{Scope: RoomSubject(roomID(1))})
	require.NoError(t, err)
	_, err = s.Undo(ctx, Request{Scope: project})
	require.NoError(t, err)

	// What an edit changed may be gone altogether.
	edit(t, s, project, func(tx *Tx) (string, error) { return rename(roomID(0), "Again")(tx) })
	edit(t, s, "", func(tx *Tx) (string, error) { return "removed it", tx.RemoveRoom(roomID(0)) })
	_, err = s.Undo(ctx, Request{Scope: project})
	require.ErrorAs(t, err, &conflict)
	assert.Contains(t, err.Error(), "removed since")
}

func TestUndoRefusesToTakeATypicalFromItsFollowers(t *testing.T) {
	s := open(t, invented(3, 4))
	project := ProjectSubject(projectID)
	edit(t, s, project, func(tx *Tx) (string, error) {
		return "added a typical", tx.AddTypical(&domain.Typical{ID: "t2", Seq: 2, Name: "OF-1", Design: design(3)})
	})
	edit(t, s, RoomSubject(roomID(0)), func(tx *Tx) (string, error) {
		r, err := tx.Room(roomID(0))
		require.NoError(t, err)
		r.Room.TypicalID, r.Room.Design = "t2", domain.Design{}
		return "follows OF-1", tx.PutBareRoom(r.Room)
	})
	_, err := s.Undo(ctx, Request{Scope: project})
	assert.ErrorContains(t, err, "1 room follows it (101)")
}

func TestARoomComesBackWithItsReviewAndANewRevision(t *testing.T) {
	s := open(t, invented(3, 4), func(o *Options) { o.Hash = testHash })
	subject := RoomSubject(roomID(0))
	edit(t, s, subject, rename(roomID(0), "Kept"))
	_, err := s.AddReview(ctx, projectID, domain.Review{RoomID: roomID(0), ItemID: "i1", Name: "Cy Example", Verdict: domain.Object})
	require.NoError(t, err)
	state := room(t, s, roomID(0))
	_, err = s.SignOff(ctx, projectID, domain.SignOff{RoomID: roomID(0), Name: "Cy Example", Hash: testHash(state.Project, state.Resolved)})
	require.NoError(t, err)
	before := line(t, s, roomID(0))
	bytes := bytesOf(t, s)

	edit(t, s, ProjectSubject(projectID), func(tx *Tx) (string, error) { return "removed it", tx.RemoveRoom(roomID(0)) })
	scope, err := s.Load(ctx, projectID)
	require.NoError(t, err)
	assert.Empty(t, scope.Reviews, "a removed room's review is not part of the project")
	_, err = s.Undo(ctx, Request{Scope: ProjectSubject(projectID)})
	require.NoError(t, err)
	after := line(t, s, roomID(0))
	assert.Greater(t, after.Revision, before.Revision, "no revision stands for two contents")
	after.Revision = before.Revision
	assert.Equal(t, before, after)
	assert.Equal(t, bytes, bytesOf(t, s))
}

func testHash(_ *domain.Project, r *domain.Resolved) string {
	b, _ := json.Marshal(r.Room)
	d, _ := json.Marshal(r.Design)
	return hashOf(append(b, d...))
}

// randomEdit draws an edit of any sort: of facts, designs, exceptions,
// typicals, the project; adding and removing all of them; one or several at
// once.
func randomEdit(t *rapid.T) func(*Tx) (string, error) {
	kind := rapid.SampledFrom([]string{"fact", "device", "remove device", "add device", "typical", "exception", "project", "add room", "remove room", "assign", "bulk", "add typical", "storey"}).Draw(t, "edit")
	which := rapid.IntRange(0, 8).Draw(t, "room")
	n := rapid.IntRange(1, 5).Draw(t, "number")
	return func(tx *Tx) (string, error) { return kind, carryOut(tx, kind, roomID(which), n) }
}

func carryOut(tx *Tx, kind string, id domain.ID, n int) error {
	switch kind {
	case "project":
		p, err := tx.Project()
		if err == nil {
			p.Client, p.Limits[n].Value = fmt.Sprint("Client <", n, "> & sons"), float64(n)
			p.Book = append(p.Book[:n], p.Book[n+1:]...)
			err = tx.PutProject(p)
		}
		return err
	case "storey":
		p, err := tx.Project()
		if err == nil {
			p.Buildings[0].Storeys = append(p.Buildings[0].Storeys, domain.Storey{ID: domain.ID(fmt.Sprint("x", n)), Seq: 10 - n, Name: "Mezzanine"})
			err = tx.PutProject(p)
		}
		return err
	case "typical":
		typical, err := tx.Typical(typicalID)
		if err == nil {
			typical.Design.Devices[n].Delay = units.Seconds(n)
			typical.Design.Devices = typical.Design.Devices[:max(6, len(typical.Design.Devices)-1)]
			err = tx.PutTypical(typical)
		}
		return err
	case "add typical":
		return tx.AddTypical(&domain.Typical{ID: domain.ID(fmt.Sprint("t-", n)), Seq: n, Name: fmt.Sprint("T", n), Design: design(n)})
	case "add room":
		return tx.AddRoom(&domain.Room{ID: domain.ID(fmt.Sprint("new", n)), StoreyID: "s2", Number: fmt.Sprint(n), Design: design(n)})
	case "remove room":
		return tx.RemoveRoom(id)
	case "bulk":
		rooms, err := tx.Rooms(Pick{Storey: "s1"})
		for _, r := range rooms {
			if r.Seats = n; err == nil {
				err = tx.PutRoom(r)
			}
		}
		return err
	}
	r, err := tx.Room(id)
	if err != nil {
		return err
	}
	switch kind {
	case "fact":
		r.Name, r.Number, r.Seats = fmt.Sprint("Room \u00e9\u2603", n), fmt.Sprint(100+n), n
	case "device", "exception":
		if len(r.Design.Devices) > 1 {
			r.Design.Devices[1].Height = units.Metres(n)
		}
		r.Design.Loads[0].Circuit = fmt.Sprint("LP-", n)
	case "remove device":
		r.Design.Devices = r.Design.Devices[:max(0, len(r.Design.Devices)-n)]
	case "add device":
		r.Design.Devices = append(r.Design.Devices, domain.Device{ID: domain.NewID(), Seq: n, Tag: "PS-9", Type: "ps-ceiling"})
	case "assign":
		r.Room.TypicalID, r.Room.Design, r.Room.Exceptions = typicalID, domain.Design{}, nil
		return tx.PutBareRoom(r.Room)
	}
	return tx.PutRoom(r)
}

// All of a random sequence of edits undone gives the bytes from before it, and
// all redone gives those from after it; the sums of the lists follow.
func TestUndoAllAndRedoAllGiveTheSameBytes(t *testing.T) {
	dir := t.TempDir()
	runs := 0
	rapid.Check(t, func(rt *rapid.T) {
		runs++
		s, err := Open(ctx, Options{Path: filepath.Join(dir, fmt.Sprint(runs, ".db"))})
		require.NoError(rt, err)
		defer s.Close()
		scope := invented(9, 6)
		require.NoError(rt, s.ImportScope(ctx, "", scope, false, nil))
		subject := ProjectSubject(projectID)
		before, sums := bytesOf(rt, s), sumsOf(rt, s)
		changed := 0
		for range rapid.IntRange(1, 12).Draw(rt, "edits") {
			out, err := s.Edit(ctx, Request{ProjectID: projectID, Scope: subject}, randomEdit(rt))
			if err == nil && out.Changed {
				changed++
			}
		}
		after, sumsAfter := bytesOf(rt, s), sumsOf(rt, s)
		for range changed {
			_, err := s.Undo(ctx, Request{Scope: subject})
			require.NoError(rt, err)
		}
		_, err = s.Undo(ctx, Request{Scope: subject})
		require.ErrorIs(rt, err, ErrNothingToUndo)
		require.Equal(rt, before, bytesOf(rt, s))
		require.Equal(rt, sums, sumsOf(rt, s))
		for range changed {
			_, err := s.Redo(ctx, Request{Scope: subject})
			require.NoError(rt, err)
		}
		require.Equal(rt, after, bytesOf(rt, s))
		require.Equal(rt, sumsAfter, sumsOf(rt, s))
		// Nothing of it hangs on what was held in memory.
		s.cache = newCache(1)
		require.Equal(rt, after, bytesOf(rt, s))
	})
}

func sumsOf(t require.TestingT, s *Store) []RoomLine {
	lines, _, err := s.RoomLines(ctx, projectID, Filter{})
	require.NoError(t, err)
	for i := range lines {
		lines[i].Revision = 0
	}
	return lines
}

// The journal's changes are written as those of a whole scope, so that one
// reader of changes serves journal, revisions and exchange.
func TestJournalPathsAreThoseOfTheScope(t *testing.T) {
	s := open(t, invented(3, 4))
	before, err := s.Load(ctx, projectID)
	require.NoError(t, err)
	from, err := before.Copy()
	require.NoError(t, err)
	out := edit(t, s, "", func(tx *Tx) (string, error) {
		for _, kind := range []string{"fact", "typical", "project", "add room", "add typical"} {
			if err := carryOut(tx, kind, roomID(1), 2); err != nil {
				return "", err
			}
		}
		return "all at once", nil
	})
	after, err := s.Load(ctx, projectID)
	require.NoError(t, err)
	require.NoError(t, delta.Apply(from, out.Changes))
	delta.Sort(from)
	to, err := after.Copy()
	require.NoError(t, err)
	delta.Sort(to)
	assert.Equal(t, to, from)
}
