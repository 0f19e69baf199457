package room

import (
	"encoding/json"
	"fmt"

	"scopewright/validate"
	"scopewright/validate/rule"
)

// excepts gives the exceptions that energy codes name from the check of a finding's
// rule, as the dialog reads them: words to begin a waiver's reason with.
func excepts(f *rule.Finding) string {
	words := []string{}
	if r := validate.ByID(f.Rule); r != nil && r.Excepts != nil {
		words = r.Excepts
	}
	text, err := json.Marshal(words)
	if err != nil {
		panic(fmt.Sprintf("room: strings cannot be written as JSON: %v", err))
	}
	return string(text)
}
