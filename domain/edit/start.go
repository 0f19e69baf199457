package edit

import (
	"fmt"
	"slices"

	"scopewright/domain"
)

// StartIntents adds intents that were proposed for the room, as one step.
type StartIntents struct{ Intents []domain.Intent }

// Apply adds the intents behind the others.
func (e StartIntents) Apply(s *Subject) (string, error) {
	if len(e.Intents) == 0 {
		return "", fmt.Errorf("tick at least one intent to add")
	}
	var kinds []string
	for _, in := range e.Intents {
		if !in.Kind.Known() {
			return "", fmt.Errorf("there is no intent of kind %q", in.Kind)
		}
		for _, id := range in.Loads {
			if s.Design.Load(id) == nil {
				return "", gone("a load of the intent " + in.Kind.Title())
			}
		}
		if in.Device != "" && s.Design.Device(in.Device) == nil {
			return "", gone("the input of the intent " + in.Kind.Title())
		}
		in.Loads, in.Modes = slices.Clone(in.Loads), slices.Clone(in.Modes)
		in.Seq = nextSeq(s.Design.Intents, func(i domain.Intent) int { return i.Seq })
		s.Design.Intents = append(s.Design.Intents, in)
		if title := in.Kind.Title(); !slices.Contains(kinds, title) {
			kinds = append(kinds, title)
		}
	}
	return "added intents to start from: " + domain.JoinWords(kinds), nil
}
