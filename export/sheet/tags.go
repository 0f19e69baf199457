package sheet

import (
	"strconv"
	"strings"
)

// shortTags lists tags; three or more in a row become "PS-1 to PS-8".
func shortTags(tags []string, last string) string {
	var parts []string
	for i := 0; i < len(tags); {
		j := i
		for j+1 < len(tags) && follows(tags[j], tags[j+1]) {
			j++
		}
		if j-i >= 2 {
			parts = append(parts, tags[i]+" to "+tags[j])
		} else {
			parts = append(parts, tags[i:j+1]...)
		}
		i = j + 1
	}
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:len(parts)-1], ", ") + last + parts[len(parts)-1]
}

// follows tells that b is the next tag after a: "ST-4" after "ST-3".
func follows(a, b string) bool {
	head := strings.TrimRight(a, "0123456789")
	n, err := strconv.Atoi(a[len(head):])
	return err == nil && b == head+strconv.Itoa(n+1)
}
