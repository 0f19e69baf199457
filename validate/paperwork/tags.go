// Package paperwork judges what a scope sheet must have to be read: tags,
// numbers, labels, types and dates. It is one of the families of rules under
// validate.
package paperwork

import (
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// tagged is a load or a device with its tag.
type tagged struct {
	rule.Subject
	prefix string // that a new tag of its kind begins with
}

// tagAt gives the nth of the room's loads and devices, loads first.
func tagAt(f *rule.Facts, n int) tagged {
	if n < len(f.Loads) {
		l := &f.Loads[n]
		if l.Kind == domain.Receptacle {
			return tagged{l.Subject(), "R"}
		}
		return tagged{l.Subject(), "L"}
	}
	d := &f.Devices[n-len(f.Loads)]
	prefix := d.Traits.Prefix
	if prefix == "" {
		prefix = "D"
	}
	return tagged{d.Subject(), prefix + "-"}
}

// rawTag gives the tag alone, without building anything.
func rawTag(f *rule.Facts, n int) string {
	if n < len(f.Loads) {
		return f.Loads[n].Tag
	}
	return f.Devices[n-len(f.Loads)].Tag
}

func countTags(f *rule.Facts) int { return len(f.Loads) + len(f.Devices) }

func alike(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) }

// freeTag gives the next tag of a prefix that nothing has.
func freeTag(f *rule.Facts, prefix string, given []string) string {
next:
	for n := 1; ; n++ {
		tag := prefix + strconv.Itoa(n)
		for i := range countTags(f) {
			if alike(rawTag(f, i), tag) {
				continue next
			}
		}
		for _, g := range given {
			if alike(g, tag) {
				continue next
			}
		}
		return tag
	}
}
