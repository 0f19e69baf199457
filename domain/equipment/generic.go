package equipment

import (
	_ "embed"
	"encoding/json"
	"fmt"
)

//go:embed generic.json
var genericJSON []byte

// Generic gives a fresh copy of the built-in book: invented, unbranded types
// with ratings of common practice, as a start for a project's own book.
func Generic() Book {
	var b Book
	if err := json.Unmarshal(genericJSON, &b); err != nil {
		panic(fmt.Sprintf("equipment: built-in book: %v", err)) // a test reads it: cannot happen in a build that passed
	}
	for i := range b {
		b[i].Seq = i + 1
		if b[i].Source == "" {
			b[i].Source = "generic, common practice, no published source"
		}
	}
	return b
}
