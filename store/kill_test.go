package store

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The test binary runs itself again as the program that is killed.
func TestMain(m *testing.M) {
	if path := os.Getenv("SCOPEWRIGHT_KILLED_CHILD"); path != "" {
		child(path)
		return
	}
	os.Exit(m.Run())
}

const childRooms = 4

// child edits rooms from several goroutines, without end, and says each edit on
// standard output once it was acknowledged.
func child(path string) {
	s, err := Open(ctx, Options{Path: path})
	if err != nil {
		fmt.Println("error", err)
		os.Exit(1)
	}
	if _, _, err := s.Project(ctx, projectID); err != nil {
		if err := s.ImportScope(ctx, "", invented(childRooms, 5), false, nil); err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
	}
	fmt.Println("ready")
	var out sync.Mutex
	var wg sync.WaitGroup
	for i := range childRooms {
		wg.Go(func() {
			for n := room1(s, i) + 1; ; n++ {
				_, err := s.Edit(ctx, Request{ProjectID: projectID, Scope: RoomSubject(roomID(i))}, func(tx *Tx) (string, error) {
					r, err := tx.Room(roomID(i))
					if err != nil {
						return "", err
					}
					r.Seats = n
					return "seats", tx.PutRoom(r)
				})
				out.Lock()
				if err != nil {
					fmt.Println("error", err)
					os.Exit(1)
				}
				fmt.Printf("ack %d %d\n", i, n)
				out.Unlock()
			}
		})
	}
	wg.Wait()
}

func room1(s *Store, i int) int {
	state, err := s.Room(ctx, roomID(i))
	if err != nil {
		return 0
	}
	return state.Resolved.Seats
}

// A process killed at any moment loses no edit that it had acknowledged, and
// the file opens again. SCOPEWRIGHT_KILLS sets how often it is killed.
func TestNothingAcknowledgedIsLostWhenKilled(t *testing.T) {
	kills := 10
	if n, err := strconv.Atoi(os.Getenv("SCOPEWRIGHT_KILLS")); err == nil {
		kills = n
	}
	path := filepath.Join(t.TempDir(), "killed.db")
	acknowledged := [childRooms]int{}
	total := 0
	for range kills {
		total += killOnce(t, path, &acknowledged)
		s := reopen(t, path)
		if _, _, err := s.Project(ctx, projectID); err != nil {
			require.ErrorIs(t, err, ErrNotFound)
			require.Equal(t, [childRooms]int{}, acknowledged)
			require.NoError(t, s.Close())
			continue
		}
		for i, n := range acknowledged {
			state := room(t, s, roomID(i))
			require.GreaterOrEqual(t, state.Resolved.Seats, n, "an acknowledged edit of room %d is lost", i)
			require.LessOrEqual(t, state.Resolved.Seats, n+1, "at most the one edit under way came through unacknowledged")
			history, err := s.History(ctx, projectID, HistoryFilter{Subject: RoomSubject(roomID(i))})
			require.NoError(t, err)
			if n > 0 {
				require.Contains(t, string(history[0].Changes[0].After), strconv.Itoa(state.Resolved.Seats), "journal and room go together")
			}
			acknowledged[i] = state.Resolved.Seats
		}
		require.NoError(t, s.Close())
	}
	t.Logf("%d kills, %d acknowledgements, none lost", kills, total)
	assert.Positive(t, total)
}

// killOnce runs the child for a while and notes what it acknowledged.
func killOnce(t *testing.T, path string, acknowledged *[childRooms]int) int {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "SCOPEWRIGHT_KILLED_CHILD="+path)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	go func() {
		time.Sleep(time.Duration(20+rand.IntN(180)) * time.Millisecond)
		_ = cmd.Process.Kill()
	}()
	n := 0
	for lines := bufio.NewScanner(out); lines.Scan(); {
		words := strings.Fields(lines.Text())
		if len(words) == 3 && words[0] == "ack" {
			i, _ := strconv.Atoi(words[1])
			v, err := strconv.Atoi(words[2])
			require.NoError(t, err)
			acknowledged[i] = v
			n++
			continue
		}
		require.Equal(t, "ready", strings.Join(words, " "))
	}
	_ = cmd.Wait() // it was killed
	return n
}
