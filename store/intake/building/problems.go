package building

import (
	"fmt"
	"strings"
)

// ProblemList gathers problems and bounds them: a file can be wrong in a
// million places, and a person reads some.
type ProblemList struct {
	PerKind  int // problems kept of one kind
	problems []Problem
	kinds    []string
	counts   map[string]int
}

// Add keeps a problem of a kind, or counts it where enough of that kind were
// kept. The kind completes "and 12 more ...".
func (l *ProblemList) Add(kind, where, format string, args ...any) {
	if l.counts == nil {
		l.counts = map[string]int{}
	}
	if l.counts[kind] == 0 {
		l.kinds = append(l.kinds, kind)
	}
	l.counts[kind]++
	if l.counts[kind] <= l.PerKind {
		l.problems = append(l.problems, Problem{Where: where, Message: fmt.Sprintf(format, args...)})
	}
}

// All gives the problems kept and one line for each kind that had more.
func (l *ProblemList) All() []Problem {
	out := l.problems
	for _, kind := range l.kinds {
		if more := l.counts[kind] - l.PerKind; more > 0 {
			out = append(out, Problem{Message: fmt.Sprintf("And %s more: %s.", Count(more), kind)})
		}
	}
	return out
}

// Count prints a whole number with a comma between thousands: 812,345.
func Count[N int | int64](n N) string {
	digits := fmt.Sprint(n)
	sign := ""
	if strings.HasPrefix(digits, "-") {
		sign, digits = "-", digits[1:]
	}
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return sign + digits
}

// SquareMeters prints an area for a sentence: "1,042.7 m2".
func SquareMeters(area float64) string {
	text := fmt.Sprintf("%.1f", area)
	if area < 10 {
		text = fmt.Sprintf("%.2f", area)
	}
	whole, fraction, _ := strings.Cut(text, ".")
	var n int64
	if _, err := fmt.Sscan(whole, &n); err != nil {
		return text + " m2"
	}
	return Count(n) + "." + fraction + " m2"
}
