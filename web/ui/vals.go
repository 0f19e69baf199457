package ui

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Vals gives the pairs as the JSON object of an hx-vals attribute.
func Vals(pairs ...string) string {
	values := map[string]string{}
	for i := 0; i+1 < len(pairs); i += 2 {
		values[pairs[i]] = pairs[i+1]
	}
	b, _ := json.Marshal(values) // strings always marshal
	return string(b)
}

// HeaderJSON encodes v so that it can stand in a header: letters beyond ASCII
// become JSON's \u escapes.
func HeaderJSON(v any) string {
	raw, err := json.Marshal(v)
	if err != nil {
		return "{}"
	}
	var out strings.Builder
	for _, r := range string(raw) {
		switch {
		case r < utf8.RuneSelf:
			out.WriteRune(r)
		case r > 0xFFFF:
			a, b := utf16.EncodeRune(r)
			fmt.Fprintf(&out, `\u%04x\u%04x`, a, b)
		default:
			fmt.Fprintf(&out, `\u%04x`, r)
		}
	}
	return out.String()
}
