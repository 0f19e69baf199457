package scenes

import (
	"fmt"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// NumberTwice keeps scene numbers apart. There is no fix: which of the two a
// button means only the designer knows.
var NumberTwice = rule.Rule{
	ID: "scenes-number-twice", Title: "Two scenes with one number", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "Buttons and commands call scenes by number; with two of one number the last one stored wins.",
	Source:  commonPractice,
	Example: "Scenes 1 and 2 pass; two scenes of number 1 do not. It can happen when a typical gains a scene that one of its rooms had added.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Design.Scenes {
			a := &f.Design.Scenes[i]
			if n, first := numbered(f, a.Number); n < 2 || first != i {
				continue
			}
			var twins []rule.Subject
			for j := i; j < len(f.Design.Scenes); j++ {
				if b := &f.Design.Scenes[j]; b.Number == a.Number {
					twins = append(twins, rule.SceneSubject(b))
				}
			}
			found := rule.AtMost(float64(len(twins)), 1, "scenes")
			found.Key, found.Subjects = strconv.Itoa(a.Number), twins
			found.Message = fmt.Sprintf("%d scenes have number %d (%s), limit 1: renumber one and see that its buttons call the new number.", len(twins), a.Number, rule.Tags(twins))
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Spoil(func(d *domain.Design) {
			twin := d.Scenes[0]
			twin.ID, twin.Seq, twin.Name = "s3", 3, "Teach again"
			d.Scenes = append(d.Scenes, twin)
		})
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

// numbered tells how many scenes have a number, and which is the first of them.
func numbered(f *rule.Facts, number int) (n, first int) {
	for i := range f.Design.Scenes {
		if f.Design.Scenes[i].Number != number {
			continue
		}
		if n == 0 {
			first = i
		}
		n++
	}
	return n, first
}
