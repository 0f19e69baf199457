package paperwork

import (
	"fmt"
	"strings"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// TagTwice keeps the tags of a room apart.
var TagTwice = rule.Rule{
	ID: "paperwork-tag-twice", Title: "Two things with one tag", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "The installer who reads ST-1 on the sheet finds two of them and wires the wrong one.",
	Source:  commonPractice,
	Example: "PS-1 and PS-2 pass; two of PS-1 do not, nor do PS-1 and ps-1.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		var given []string
		var room [96]uint32 // for most rooms; a larger one asks for more
		sums := tagSums(f, room[:0])
		for i := range sums {
			if !anyLike(sums, i) {
				continue
			}
			tag := rawTag(f, i)
			if strings.TrimSpace(tag) == "" || !firstOf(f, i) {
				continue
			}
			var twins []tagged
			for j := i + 1; j < countTags(f); j++ {
				if alike(rawTag(f, j), tag) {
					twins = append(twins, tagAt(f, j))
				}
			}
			if len(twins) == 0 {
				continue
			}
			found := rule.AtMost(float64(len(twins)+1), 1, "things")
			found.Key, found.Subjects = strings.ToLower(strings.TrimSpace(tag)), []rule.Subject{tagAt(f, i).Subject}
			var pairs, fresh []string
			for _, t := range twins {
				found.Subjects = append(found.Subjects, t.Subject)
				own := freeTag(f, t.prefix, given)
				given, fresh = append(given, own), append(fresh, own)
				pairs = append(pairs, t.Part+"/"+string(t.ID)+"/tag", own)
			}
			found.Message = fmt.Sprintf("%d things have the tag %s, limit 1: give each a tag of its own.", len(twins)+1, tag)
			found.Fix = rule.SetFields("Keep the first "+tag+", call the rest "+domain.JoinWords(fresh), pairs...)
			out = append(out, found)
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("devices/gw/tag", "st-1") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("devices/gw/tag", "ST-2") },
}

// tagSums gives a number for each tag, equal for tags that are alike; 0 is
// alike to any. It spares most comparisons.
func tagSums(f *rule.Facts, sums []uint32) []uint32 {
	for i := range countTags(f) {
		sums = append(sums, tagSum(rawTag(f, i)))
	}
	return sums
}

func tagSum(tag string) uint32 {
	sum := uint32(1)
	for i := range len(tag) {
		c := tag[i]
		switch {
		case c >= 0x80: // letters beyond ASCII may fold to others
			return 0
		case c <= ' ':
			continue
		case c >= 'A' && c <= 'Z':
			c += 'a' - 'A'
		}
		sum = sum*31 + uint32(c)
	}
	return max(sum, 1)
}

func anyLike(sums []uint32, at int) bool {
	for i, s := range sums {
		if i != at && (s == sums[at] || s == 0 || sums[at] == 0) {
			return true
		}
	}
	return false
}

func firstOf(f *rule.Facts, at int) bool {
	for i := range at {
		if alike(rawTag(f, i), rawTag(f, at)) {
			return false
		}
	}
	return true
}
