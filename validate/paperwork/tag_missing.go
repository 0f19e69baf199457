package paperwork

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// TagMissing asks for a tag on every load and device.
var TagMissing = rule.Rule{
	ID: "paperwork-tag-missing", Title: "Load or device without a tag", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "What has no tag cannot be found on the drawing, in the matrix or on site.",
	Source:  commonPractice,
	Example: "A load called L4 passes; one with an empty tag, or with spaces alone, does not.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		var given []string
		for i := range countTags(f) {
			if tag := rawTag(f, i); tag != "" && tag[0] > ' ' || strings.TrimSpace(tag) != "" {
				continue
			}
			t := tagAt(f, i)
			tag := freeTag(f, t.prefix, given)
			given = append(given, tag)
			what := strings.TrimSuffix(t.Part, "s")
			out = append(out, rule.Finding{Key: t.Part + "/" + string(t.ID), Subjects: []rule.Subject{t.Subject},
				Message: fmt.Sprintf("A %s has no tag: %s is free.", what, tag),
				Fix:     rule.SetFields("Call it "+tag, t.Part+"/"+string(t.ID)+"/tag", tag)})
		}
		return out
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Spoil(func(d *domain.Design) { d.Loads[3].Tag = " " })
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}
