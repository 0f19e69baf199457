package building

import "fmt"

// Refusal says, in whole sentences for the designer, why nothing of a file can
// be used and what to do. Other errors of a reader are faults of the machine.
type Refusal struct {
	Message string
	Cause   error // of reading or stopping, nil where the file is at fault
}

// Refuse makes a refusal.
func Refuse(format string, args ...any) error {
	return &Refusal{Message: fmt.Sprintf(format, args...)}
}

func (r *Refusal) Error() string { return r.Message }

// Unwrap lets errors.Is find context.Canceled and the like.
func (r *Refusal) Unwrap() error { return r.Cause }
