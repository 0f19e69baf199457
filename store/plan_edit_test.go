package store

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"scopewright/domain"
	"scopewright/domain/geom"
)

func drawWall(storey, id domain.ID) func(*Tx) (string, error) {
	return func(tx *Tx) (string, error) {
		p, err := tx.Plan(storey)
		if err != nil {
			return "", err
		}
		p.Walls = append(p.Walls, domain.Wall{ID: id, Seq: len(p.Walls) + 1, B: geom.Pt(4, 0), Kind: domain.FullWall, Openings: []domain.Opening{{ID: "o1", Kind: domain.Door, At: 1, Width: 0.9}}})
		return "drew a wall", tx.PutPlan(p)
	}
}

func clearPlan(storey domain.ID) func(*Tx) (string, error) {
	return func(tx *Tx) (string, error) {
		return "cleared the plan", tx.PutPlan(&domain.Plan{ID: storey})
	}
}

func planOn(t require.TestingT, s *Store, storey domain.ID) *domain.Plan {
	p, _, err := s.Plan(ctx, projectID, storey)
	require.NoError(t, err)
	return p
}

func TestAPlanIsEditedUndoneAndRedone(t *testing.T) {
	s := open(t, invented(4, 3))
	events, stop := s.Subscribe()
	defer stop()
	subject := PlanSubject("s1")
	out := edit(t, s, subject, drawWall("s1", "w1"))
	assert.Equal(t, map[string]int64{subject: 1}, out.Revisions)
	require.Len(t, out.Changes, 1)
	assert.Equal(t, "plans/s1", out.Changes[0].Path)
	assert.Equal(t, Event{ProjectID: projectID, Subjects: out.Revisions, Who: "Ada Example"}, <-events)
	out = edit(t, s, subject, drawWall("s1", "w2"))
	require.Len(t, out.Changes, 1)
	assert.Equal(t, "plans/s1/walls/w2", out.Changes[0].Path)
	first := planOn(t, s, "s1")
	edit(t, s, subject, func(tx *Tx) (string, error) {
		p, err := tx.Plan("s1")
		require.NoError(t, err)
		p.Walls[0].Openings[0].Width, p.Walls[0].B = 1.2, geom.Pt(5, 0)
		return "moved", tx.PutPlan(p)
	})
	assert.EqualValues(t, 0.9, first.Walls[0].Openings[0].Width, "what was published never changes")
	whole := bytesOf(t, s)
	assert.Contains(t, whole, `"plans":[{"id":"s1","walls":[{"id":"w1","seq":1,"a":[0,0],"b":[5,0],`)

	for range 3 {
		_, err := s.Undo(ctx, Request{ProjectID: projectID, Scope: subject})
		require.NoError(t, err)
	}
	p, revision, err := s.Plan(ctx, projectID, "s1")
	require.NoError(t, err)
	assert.True(t, p.Empty())
	assert.Zero(t, revision)
	for range 3 {
		_, err := s.Redo(ctx, Request{ProjectID: projectID, Scope: subject})
		require.NoError(t, err)
	}
	assert.Equal(t, whole, bytesOf(t, s))
	assert.Equal(t, planOn(t, s, "s1"), planOn(t, reopen(t, s.Path()), "s1"))
	_, revision, err = s.Plan(ctx, projectID, "s1")
	require.NoError(t, err)
	assert.EqualValues(t, 8, revision, "no revision stands for two contents")
}

func TestAStalePlanIsRefused(t *testing.T) {
	s := open(t, invented(2, 2))
	subject := PlanSubject("s1")
	base := func(revision int64) Request {
		return Request{ProjectID: projectID, Base: map[string]int64{subject: revision}}
	}
	_, err := s.Edit(ctx, base(0), drawWall("s1", "w1"))
	require.NoError(t, err)
	_, err = s.Edit(ctx, base(0), drawWall("s1", "w2"))
	var stale *StaleError
	require.ErrorAs(t, err, &stale)
	assert.Equal(t, StaleError{Subject: subject, Now: 1}, *stale)
	_, err = s.Edit(ctx, base(1), drawWall("s1", "w2"))
	require.NoError(t, err)
}

func TestUndoOfAPlanThatWasChangedSinceIsAConflict(t *testing.T) {
	s := open(t, invented(2, 2))
	edit(t, s, RoomSubject(roomID(0)), drawWall("s1", "w1"))
	edit(t, s, PlanSubject("s1"), func(tx *Tx) (string, error) {
		p, err := tx.Plan("s1")
		require.NoError(t, err)
		p.Walls[0].Kind = domain.Partition
		return "made it a partition", tx.PutPlan(p)
	})
	_, err := s.Undo(ctx, Request{ProjectID: projectID, Scope: RoomSubject(roomID(0))})
	var conflict *ConflictError
	require.ErrorAs(t, err, &conflict)
	assert.Contains(t, conflict.Sentence, "the plan of Level 1")
	assert.Contains(t, conflict.Sentence, "made it a partition")
}

func TestAPlanGoesAndComesBackWithItsStorey(t *testing.T) {
	s := open(t, invented(1, 2)) // on the second storey
	subject := ProjectSubject(projectID)
	edit(t, s, PlanSubject("s1"), drawWall("s1", "w1"))
	before := bytesOf(t, s)
	out := edit(t, s, subject, withoutFirstStorey)
	assert.Zero(t, out.Revisions[PlanSubject("s1")])
	_, _, err := s.Plan(ctx, projectID, "s1")
	require.ErrorIs(t, err, ErrNotFound)
	_, err = s.Undo(ctx, Request{ProjectID: projectID, Scope: subject})
	require.NoError(t, err)
	assert.Equal(t, before, bytesOf(t, s))
	_, err = s.Redo(ctx, Request{ProjectID: projectID, Scope: subject})
	require.NoError(t, err)
	assert.NotContains(t, bytesOf(t, s), `"plans"`)
}

func TestUndoDoesNotTakeAStoreyFromUnderItsPlan(t *testing.T) {
	s := open(t, invented(1, 2))
	subject := ProjectSubject(projectID)
	edit(t, s, subject, func(tx *Tx) (string, error) {
		p, err := tx.Project()
		require.NoError(t, err)
		p.Buildings[0].Storeys = append(p.Buildings[0].Storeys, domain.Storey{ID: "s3", Seq: 3, Name: "Level 3"})
		return "added a storey", tx.PutProject(p)
	})
	edit(t, s, PlanSubject("s3"), drawWall("s3", "w1"))
	_, err := s.Undo(ctx, Request{ProjectID: projectID, Scope: subject})
	var conflict *ConflictError
	require.ErrorAs(t, err, &conflict)
	assert.Contains(t, conflict.Sentence, "drawn on its plan")
	edit(t, s, PlanSubject("s3"), clearPlan("s3"))
	_, err = s.Undo(ctx, Request{ProjectID: projectID, Scope: subject})
	require.NoError(t, err)
}

func withoutFirstStorey(tx *Tx) (string, error) {
	p, err := tx.Project()
	if err != nil {
		return "", err
	}
	p.Buildings[0].Storeys = p.Buildings[0].Storeys[1:]
	return "removed a storey", tx.PutProject(p)
}

func TestAPlanOfNoStoreyIsRefused(t *testing.T) {
	s := open(t, invented(2, 2))
	_, err := s.Edit(ctx, Request{ProjectID: projectID}, clearPlan("s9"))
	require.ErrorIs(t, err, ErrNotFound)
	_, _, err = s.Plan(ctx, projectID, "s9")
	require.ErrorIs(t, err, ErrNotFound)
	_, err = s.StoreyRooms(ctx, projectID, "s9")
	require.ErrorIs(t, err, ErrNotFound)
	out := edit(t, s, "", clearPlan("s1"))
	assert.False(t, out.Changed, "nothing was drawn before")

	other := invented(0, 0)
	other.Project.ID, other.Project.Name, other.Typicals = "p2", "Other", nil
	require.NoError(t, s.ImportScope(ctx, "", other, false, nil))
	edit(t, s, "", drawWall("s1", "w1"))
	_, err = s.Edit(ctx, Request{ProjectID: "p2"}, drawWall("s1", "w1"))
	assert.ErrorContains(t, err, "Invented annex has drawn already")
	other.Plans = []domain.Plan{{ID: "s1", North: 10}}
	assert.ErrorContains(t, s.ImportScope(ctx, "", other, true, nil), "Invented annex uses already")
}

func TestImportBringsAndReplacesPlans(t *testing.T) {
	scope := invented(2, 2)
	scope.Plans = []domain.Plan{{ID: "s2", North: 12.5}, {ID: "s1", Walls: []domain.Wall{{ID: "w1", Kind: domain.FullWall, B: geom.Pt(1, 1)}}}}
	s := open(t, scope)
	loaded, err := s.Load(ctx, projectID)
	require.NoError(t, err)
	require.Len(t, loaded.Plans, 2)
	assert.Equal(t, domain.ID("s1"), loaded.Plans[0].ID, "in the order of the building")
	assert.EqualValues(t, 12.5, loaded.Plans[1].North)
	_, err = s.Issue(ctx, projectID, IssueInput{Author: "Ada Example"})
	require.NoError(t, err)

	scope.Plans = scope.Plans[:1]
	require.NoError(t, s.ImportScope(ctx, "", scope, true, nil))
	assert.True(t, planOn(t, s, "s1").Empty())
	_, revision, err := s.Plan(ctx, projectID, "s2")
	require.NoError(t, err)
	assert.EqualValues(t, 2, revision)
	issued, _, err := s.Revision(ctx, projectID, 1)
	require.NoError(t, err)
	assert.Len(t, issued.Plans, 2)

	scope.Plans = append(scope.Plans, domain.Plan{ID: "s2"})
	assert.ErrorContains(t, s.ImportScope(ctx, "", scope, true, nil), `plan of storey "s2"`)
	require.NoError(t, s.RemoveProject(ctx, "", projectID))
}

func TestStoreyRooms(t *testing.T) {
	s := open(t, invented(9, 3))
	rooms, err := s.StoreyRooms(ctx, projectID, "s2")
	require.NoError(t, err)
	require.Len(t, rooms, 5)
	for i, r := range rooms {
		alone := room(t, s, roomID(4+i))
		assert.Same(t, alone.Resolved, r.Resolved)
		assert.Equal(t, alone, r)
	}
}

func TestPictures(t *testing.T) {
	s := open(t, invented(1, 1))
	sha, err := s.PutPicture(ctx, projectID, "image/png", 2, 1, []byte("abc"))
	require.NoError(t, err)
	// FIPS 180-2, appendix B.1 (from memory)
	assert.Equal(t, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", sha)
	again, err := s.PutPicture(ctx, projectID, "image/png", 2, 1, []byte("abc"))
	require.NoError(t, err)
	assert.Equal(t, sha, again)
	media, data, err := reopen(t, s.Path()).Picture(ctx, projectID, sha)
	require.NoError(t, err)
	assert.Equal(t, "image/png", media)
	assert.Equal(t, "abc", string(data))
	_, _, err = s.Picture(ctx, "p2", sha)
	assert.ErrorIs(t, err, ErrNotFound)
	_, err = s.PutPicture(ctx, "p2", "image/png", 2, 1, []byte("abc"))
	assert.ErrorIs(t, err, ErrNotFound)
	_, err = s.PutPicture(ctx, projectID, "image/png", 0, 1, []byte("abc"))
	assert.ErrorIs(t, err, ErrRefused)
	_, err = s.PutPicture(ctx, projectID, "image/png", 1, 1, make([]byte, mostPicture+1))
	assert.ErrorContains(t, err, "at most 64 MiB")
	require.NoError(t, s.RemoveProject(ctx, "", projectID))
	_, _, err = s.Picture(ctx, projectID, sha)
	assert.ErrorIs(t, err, ErrNotFound)
}

// A room's copy shares no point with what was published.
func TestEditingAnOutlineInPlaceLeavesThePublishedOneAlone(t *testing.T) {
	scope := invented(1, 2)
	scope.Rooms[0].Outline = geom.Rectangle(0, 0, 4, 3)
	at := geom.Pt(1, 1)
	scope.Rooms[0].Design.Devices[0].At = &at
	s := open(t, scope)
	before := room(t, s, roomID(0)).Resolved
	edit(t, s, "", func(tx *Tx) (string, error) {
		r, err := tx.Room(roomID(0))
		require.NoError(t, err)
		r.Outline.Outer[0] = geom.Pt(-1, -1)
		*r.Design.Devices[0].At = geom.Pt(2, 2)
		return "moved", tx.PutRoom(r)
	})
	assert.Equal(t, geom.Pt(0, 0), before.Outline.Outer[0])
	assert.Equal(t, geom.Pt(1, 1), *before.Design.Devices[0].At)
	after := room(t, s, roomID(0)).Resolved
	assert.Equal(t, geom.Pt(-1, -1), after.Outline.Outer[0])
	assert.Equal(t, geom.Pt(2, 2), *after.Design.Devices[0].At)
}

// Any row of edits of a plan, all undone, leaves what was there, and redone
// gives the same bytes again.
func TestPlanEditsUndoToTheSameBytes(t *testing.T) {
	s := open(t, invented(1, 1))
	subject := PlanSubject("s2")
	rapid.Check(t, func(t *rapid.T) {
		_, err := s.Edit(ctx, Request{ProjectID: projectID}, clearPlan("s2")) // elsewhere: not to be undone here
		require.NoError(t, err)
		before := bytesOf(t, s)
		steps := 0
		for range rapid.IntRange(1, 4).Draw(t, "edits") {
			out, err := s.Edit(ctx, Request{ProjectID: projectID, Scope: subject}, func(tx *Tx) (string, error) {
				p, err := tx.Plan("s2")
				require.NoError(t, err)
				p.North = rapid.Float64Range(0, 359).Draw(t, "north")
				p.Walls = nil
				for i := range rapid.IntRange(0, 4).Draw(t, "walls") {
					id := domain.ID(fmt.Sprint("w", rapid.IntRange(0, 5).Draw(t, "id")))
					if p.Wall(id) == nil {
						p.Walls = append(p.Walls, domain.Wall{ID: id, Seq: i, Kind: domain.FullWall, B: geom.Pt(rapid.Float64Range(-9, 9).Draw(t, "x"), 1)})
					}
				}
				return "drew", tx.PutPlan(p)
			})
			require.NoError(t, err)
			if out.Changed {
				steps++
			}
		}
		after := bytesOf(t, s)
		for range steps {
			_, err := s.Undo(ctx, Request{ProjectID: projectID, Scope: subject})
			require.NoError(t, err)
		}
		require.Equal(t, before, bytesOf(t, s))
		for range steps {
			_, err := s.Redo(ctx, Request{ProjectID: projectID, Scope: subject})
			require.NoError(t, err)
		}
		require.Equal(t, after, bytesOf(t, s))
		require.True(t, json.Valid([]byte(after)))
	})
}
