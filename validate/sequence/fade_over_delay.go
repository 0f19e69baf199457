package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/units"
	"scopewright/validate/rule"
)

// FadeOverDelay compares the fade of a presence intent with its delay.
var FadeOverDelay = rule.Rule{
	ID: "sequence-fade-over-delay", Title: "Fade longer than the delay", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The room is declared empty before it has come up to its level: a fade that long was meant to be something else, mostly minutes for seconds.",
	Source:  commonPractice,
	Example: "A fade of 60 s passes with a delay of 1 min; 61 s do not.",
	Check: func(f *rule.Facts) []rule.Finding {
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			delay := shortestDelay(f, in)
			if in.Kind != domain.ByPresence || delay == 0 || units.AtMost(float64(in.Fade), float64(delay)) {
				return rule.Finding{}, false
			}
			out := rule.AtMost(float64(in.Fade), float64(delay), "s")
			out.Key, out.Subjects = string(in.ID), []rule.Subject{rule.IntentSubject(in)}
			out.Message = fmt.Sprintf("The fade of %s is longer than the delay of %s after which the room counts as vacant: shorten the fade to a few seconds.", units.Duration(in.Fade), units.Duration(delay))
			out.Fix = rule.SetFields("Set the fade to 2 s", path(in, "fade_s"), "2 s")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Set("intents/i2/delay_s", "60 s", "intents/i2/fade_s", "61 s")
	},
	Quiet: func() *domaintest.Builder {
		return domaintest.Classroom().Set("intents/i2/delay_s", "60 s", "intents/i2/fade_s", "60 s")
	},
}

// shortestDelay gives the shortest delay after which a load of the intent may
// count as vacant: a sensor's own where it states one, else the intent's; 0
// where none is stated.
func shortestDelay(f *rule.Facts, in *domain.Intent) units.Seconds {
	shortest := units.Seconds(0)
	for i := range f.Loads {
		if l := &f.Loads[i]; in.ActsOn(l.Load) {
			if d := delayOf(f, in, l); d > 0 && (shortest == 0 || d < shortest) {
				shortest = d
			}
		}
	}
	return shortest
}

// delayOf gives the delay of one load: the longest of its sensors.
func delayOf(f *rule.Facts, in *domain.Intent, l *rule.Load) units.Seconds {
	longest := units.Seconds(0)
	for i := range f.Links {
		k := &f.Links[i]
		if k.To != l || !k.Senses() {
			continue
		}
		if k.From.Delay > 0 {
			longest = max(longest, k.From.Delay)
		} else {
			longest = max(longest, in.Delay)
		}
	}
	return longest
}
