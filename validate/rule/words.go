package rule

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Many gives "1 device", "3 devices".
func Many(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	if stem, y := strings.CutSuffix(one, "y"); y && stem != "" && !strings.ContainsAny(stem[len(stem)-1:], "aeou") {
		return fmt.Sprintf("%d %sies", n, stem)
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// Number prints a measured number or a limit with its usual precision.
func Number(v float64) string { return units.Trim(v, 2) }

// Tags joins the tags of subjects: "L1, L2 and L3".
func Tags(subjects []Subject) string {
	tags := make([]string, len(subjects))
	for i, s := range subjects {
		tags[i] = Named(s.Tag)
	}
	return domain.JoinWords(tags)
}

// Named gives a tag, or words for a thing that has none.
func Named(tag string) string {
	if strings.TrimSpace(tag) == "" {
		return "(no tag)"
	}
	return tag
}
