package building

import (
	"context"
	"fmt"
	"math/big"
	"strings"

	"scopewright/domain"
	"scopewright/store"
)

// countUp gives the room number that comes n after one: "101" and "102",
// "B-009" and "B-010", "101A" and "102A". Leading zeros stay.
func countUp(number string, n int) string {
	end := strings.LastIndexFunc(number, isDigit) + 1
	start := strings.LastIndexFunc(number[:end], func(r rune) bool { return !isDigit(r) }) + 1
	if end == 0 {
		return fmt.Sprintf("%s%d", number, n+1)
	}
	value, ok := new(big.Int).SetString(number[start:end], 10)
	if !ok {
		return fmt.Sprintf("%s%d", number, n)
	}
	digits := value.Add(value, big.NewInt(int64(n))).String()
	if pad := end - start - len(digits); pad > 0 {
		digits = strings.Repeat("0", pad) + digits
	}
	return number[:start] + digits + number[end:]
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// taken are the room numbers of each building, in small letters.
type taken map[domain.ID]map[string]bool

// readTaken reads all room numbers of a project.
func (s Screen) readTaken(ctx context.Context, p *domain.Project) (taken, []store.RoomLine, error) {
	lines, _, err := s.Store.RoomLines(ctx, p.ID, store.Filter{})
	if err != nil {
		return nil, nil, err
	}
	out := taken{}
	for i := range lines {
		out.add(p, lines[i].StoreyID, lines[i].Number)
	}
	return out, lines, nil
}

func (t taken) add(p *domain.Project, storey domain.ID, number string) {
	b, _ := p.FindStorey(storey)
	if b == nil {
		return
	}
	if t[b.ID] == nil {
		t[b.ID] = map[string]bool{}
	}
	t[b.ID][strings.ToLower(number)] = true
}

func (t taken) has(p *domain.Project, storey domain.ID, number string) bool {
	b, _ := p.FindStorey(storey)
	return b != nil && t[b.ID][strings.ToLower(number)]
}

// next gives the next free number after one, and takes it.
func (t taken) next(p *domain.Project, storey domain.ID, after string) string {
	for n := 1; ; n++ {
		if number := countUp(after, n); !t.has(p, storey, number) {
			t.add(p, storey, number)
			return number
		}
	}
}
