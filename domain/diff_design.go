package domain

import (
	"encoding/json"
	"strings"

	"scopewright/domain/delta"
)

// designLines says how a design changed, and which of its parts did.
func designLines(oldProject, newProject *Project, a, b *Design) (lines, parts []string, err error) {
	changes, err := delta.Diff(a, b)
	if err != nil {
		return nil, nil, err
	}
	lines, parts = tellChanges(Env{Project: oldProject, Design: a}, Env{Project: newProject, Design: b}, changes)
	return lines, parts, nil
}

// DescribeExceptions says how a room differs from its typical, a line each.
func (r *Resolved) DescribeExceptions(p *Project) []string {
	changes := r.RealExceptions()
	if len(changes) == 0 || r.Typical == nil {
		return nil
	}
	lines, _ := tellChanges(Env{Project: p, Design: &r.Typical.Design}, Env{Project: p, Design: &r.Design}, changes)
	return lines
}

// tellChanges puts changes into words. What was taken away is looked up in the older
// design; links and scene levels that came or went with a device or a load are counted
// there and not told one by one.
func tellChanges(was, is Env, changes delta.Changes) (lines, parts []string) {
	whole := wholeParts(changes)
	folded, seen := map[string]int{}, map[string]bool{}
	for _, c := range changes {
		if part := c.Part(2); !seen[part] {
			seen[part] = true
			parts = append(parts, part)
		}
		if owner := comesWith(c, whole); owner != "" {
			folded[owner]++
			continue
		}
		e := is
		if c.Removed() {
			e = was
		}
		if _, known := whole[c.Path]; known {
			whole[c.Path] = len(lines)
		}
		lines = append(lines, DescribeDesign(e, c))
	}
	for path, n := range folded {
		one, many := "link", "links"
		if strings.HasPrefix(path, "loads/") {
			one, many = "link or scene level", "links and scene levels"
		}
		lines[whole[path]] += " with its " + Count(n, one, many)
	}
	return lines, parts
}

// wholeParts lists the devices, loads and so on that came or went whole; each will know
// the line that tells of it.
func wholeParts(changes delta.Changes) map[string]int {
	out := map[string]int{}
	for _, c := range changes {
		if strings.Count(c.Path, "/") == 1 && (c.Added() || c.Removed()) && !strings.HasPrefix(c.Path, "links/") {
			out[c.Path] = -1
		}
	}
	return out
}

// comesWith gives the device or load with which a link or a scene level came
// or went, "" where it changed by itself.
func comesWith(c delta.Change, whole map[string]int) string {
	if !c.Added() && !c.Removed() {
		return ""
	}
	raw := c.Before
	if raw == nil {
		raw = c.After
	}
	steps := strings.Split(c.Path, "/")
	var owners []string
	switch {
	case len(steps) == 2 && steps[0] == "links":
		var l Link
		if json.Unmarshal(raw, &l) == nil {
			owners = []string{"devices/" + string(l.Device), "loads/" + string(l.Load)}
		}
	case len(steps) == 4 && steps[0] == "scenes" && steps[2] == "levels":
		owners = []string{"loads/" + steps[3]}
	}
	for _, o := range owners {
		if _, known := whole[o]; known {
			return o
		}
	}
	return ""
}
