package sheet

import (
	"strings"

	"scopewright/domain"
)

// departures says where a room differs from its typical, by the paths of its exceptions
// and of all parts above them, so that tables can mark the cells.
type departures map[string]domain.ID

// differs is the value of a path that is an exception itself or holds one below it.
const differs = domain.ID("x")

func (r *room) departures() departures {
	if r.departs != nil {
		return r.departs
	}
	r.departs = departures{}
	if r.Typical == nil {
		return r.departs
	}
	for _, c := range r.RealExceptions() {
		path := c.Path
		r.departs[path] = differs
		for at := strings.LastIndexByte(path, '/'); at > 0; at = strings.LastIndexByte(path, '/') {
			path = path[:at]
			if _, known := r.departs[path]; !known {
				r.departs[path] = ""
			}
		}
	}
	return r.departs
}

// added tells that a whole part is the room's own.
func (d departures) added(part string, id domain.ID) bool {
	return d[part+"/"+string(id)] == differs
}

// touched tells that a part or anything in it differs.
func (d departures) touched(part string, id domain.ID) bool {
	_, known := d[part+"/"+string(id)]
	return known
}

// field tells that one of the fields of a part differs.
func (d departures) field(part string, id domain.ID, fields ...string) bool {
	if len(d) == 0 {
		return false
	}
	for _, f := range fields {
		if _, known := d[part+"/"+string(id)+"/"+f]; known {
			return true
		}
	}
	return false
}

// markIf marks a cell as an exception to the typical.
func markIf(c Cell, exception bool) Cell {
	if exception {
		return c.Marked(Exception)
	}
	return c
}

// changedIn gives the revision number to print beside a row whose part changed since the
// last issue, 0 for none.
func (r *room) changedIn(part string, id domain.ID) int {
	if r.change == nil || r.c.revision == 0 {
		return 0
	}
	path := part + "/" + string(id)
	for _, p := range r.change.Parts {
		if p == path {
			return r.c.revision
		}
	}
	return 0
}
