package room

import (
	"encoding/json"
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/validate"
	"scopewright/validate/rule"
)

// excepts gives the exceptions that the project's energy code names from the check of a
// finding's rule, as the dialog reads them: words to begin a waiver's reason with.
func excepts(p *domain.Project, f *rule.Finding) string {
	words := []string{}
	if r := validate.ByID(f.Rule); r != nil {
		for _, e := range r.Excepts {
			if ofCode(p, e) {
				words = append(words, e)
			}
		}
	}
	text, err := json.Marshal(words)
	if err != nil {
		panic(fmt.Sprintf("room: strings cannot be written as JSON: %v", err))
	}
	return string(text)
}

// ofCode tells that an exception is of the code by which the project is checked, of
// whatever edition: what another code excepts is no exception here. The first word of a
// code's name tells it apart; a code that is the designer's own may have any.
func ofCode(p *domain.Project, exception string) bool {
	pack := energycode.PackOf(p)
	if pack == nil {
		return false
	}
	family, _, _ := strings.Cut(pack.Code, " ")
	if family == "" || !builtIn(family) {
		return true
	}
	return strings.Contains(exception[strings.LastIndex(exception, " (")+1:], family+" ")
}

func builtIn(family string) bool {
	for _, p := range append(energycode.Packs(), energycode.Extracts()...) {
		if first, _, _ := strings.Cut(p.Code, " "); first == family {
			return true
		}
	}
	return false
}
