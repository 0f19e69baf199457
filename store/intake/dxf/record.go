package dxf

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"scopewright/domain/geom"
)

// record is one entity or table entry: its name and the groups behind it. The
// first number that cannot be read is kept in bad.
type record struct {
	name    string
	line    int
	pairs   []pair
	tens    int // groups with code 10: points, in most entities
	tooLong bool
	bad     error
	badLine int
}

func (r *record) start(name string, line int) {
	*r = record{name: name, line: line, pairs: r.pairs[:0]}
}

func (r *record) add(q pair) {
	if q.code == 10 {
		r.tens++
	}
	if len(r.pairs) >= maxRecord {
		r.tooLong = true
		return
	}
	r.pairs = append(r.pairs, q)
}

// raw gives the first text with a code.
func (r *record) raw(code int) ([]byte, bool) {
	for i := range r.pairs {
		if r.pairs[i].code == code {
			return r.pairs[i].text, true
		}
	}
	return nil, false
}

// value reads a group's number and remembers the first that is none.
func (r *record) value(q pair) float64 {
	v, err := q.number()
	if err == nil && math.Abs(v) > maxCoordinate {
		err = fmt.Errorf("'%g' is out of reach", v)
	}
	if err != nil {
		if r.bad == nil {
			r.bad, r.badLine = err, q.line
		}
		return 0
	}
	return v
}

// num gives the first number with a code, or what it is when left out.
func (r *record) num(code int, absent float64) float64 {
	for i := range r.pairs {
		if r.pairs[i].code == code {
			return r.value(r.pairs[i])
		}
	}
	return absent
}

func (r *record) has(code int) bool {
	for i := range r.pairs {
		if r.pairs[i].code == code {
			return true
		}
	}
	return false
}

func (r *record) flags(code int) int {
	for i := range r.pairs {
		if r.pairs[i].code == code {
			return r.pairs[i].whole()
		}
	}
	return 0
}

// point gives the plan's part of the point whose x has the code; its y has the
// code ten above.
func (r *record) point(code int) geom.Point {
	return geom.Point{X: r.num(code, 0), Y: r.num(code+10, 0)}
}

// plane gives the map out of the entity's own plane (210, 220, 230), nil where
// it is the plan itself.
func (r *record) plane() *affine {
	if !r.has(230) && !r.has(210) {
		return nil
	}
	nx, ny, nz := r.num(210, 0), r.num(220, 0), r.num(230, 1)
	if nx == 0 && ny == 0 && nz > 0 {
		return nil
	}
	m := extruded(nx, ny, nz)
	return &m
}

// handle gives the entity's name in the file, group 5 in hexadecimal digits; 0
// for none.
func (r *record) handle() uint64 {
	raw, _ := r.raw(5)
	v, err := strconv.ParseUint(strings.TrimSpace(string(raw)), 16, 64)
	if err != nil {
		return 0
	}
	return v
}
