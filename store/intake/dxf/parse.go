package dxf

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"scopewright/domain/geom"
	"scopewright/store/intake/building"
)

// maxRecord bounds the groups kept of one entity: an outline of
// MaxOutlinePoints with widths and bulges. Longer ones are counted only.
const maxRecord = 8 * MaxOutlinePoints

// parser walks the groups of a file and fills a drawing.
type parser struct {
	ctx      context.Context
	src      pairs
	progress building.Progress
	total    int64
	seen     int
	section  string
	last     int // place of the last group
	ahead    *pair
	rec      record
	d        *drawing
	into     *content
	poly     *path // POLYLINE whose vertices follow; discard drops it at its end
	discard  bool
	stamp    *placing // INSERT whose attributes follow
	whole    bool     // the ENTITIES section was read to its end
}

func parse(ctx context.Context, data []byte, progress building.Progress) (*drawing, error) {
	if err := recognize(data); err != nil {
		return nil, err
	}
	d := &drawing{byName: map[string]int{}, blocks: map[string]*block{}}
	d.problems.PerKind = maxListed
	d.header.insUnits = -1
	p := &parser{ctx: ctx, progress: progress, total: int64(len(data)), d: d}
	if len(data) >= len(binaryMark) && string(data[:len(binaryMark)]) == string(binaryMark) {
		d.binary = true
		p.src = newBinaryPairs(data)
	} else {
		p.src = newTextPairs(data)
	}
	d.decoder = newDecoder("", "", nil)
	d.layerOf("0")
	if err := p.sections(data); err != nil {
		return nil, err
	}
	if progress != nil {
		progress(p.total, p.total)
	}
	return d, ctx.Err()
}

var errEnds = errors.New("ends")

// next gives the next group; errEnds at the end of the bytes.
func (p *parser) next() (pair, error) {
	if p.ahead != nil {
		q := *p.ahead
		p.ahead = nil
		return q, nil
	}
	if p.seen++; p.seen%4096 == 0 {
		if err := p.ctx.Err(); err != nil {
			return pair{}, err
		}
		if p.progress != nil {
			p.progress(p.src.offset(), p.total)
		}
	}
	q, ok, err := p.src.next()
	if err != nil {
		return pair{}, err
	}
	if !ok {
		return pair{}, errEnds
	}
	p.last = q.line
	return q, nil
}

// sections reads the file from the first section to 0 EOF.
func (p *parser) sections(data []byte) error {
	for {
		q, err := p.next()
		if errors.Is(err, errEnds) {
			return p.ended()
		}
		if err != nil {
			return err
		}
		if q.is(0, "EOF") {
			return p.complete()
		}
		if !q.is(0, "SECTION") {
			continue
		}
		name, err := p.next()
		if err == nil && name.code == 2 {
			p.section = strings.ToUpper(strings.TrimSpace(string(name.text)))
			err = p.one(data)
		}
		if errors.Is(err, errEnds) {
			return p.ended()
		}
		if err != nil {
			return err
		}
		p.section = ""
	}
}

// ended judges a file whose bytes stop before 0 EOF.
func (p *parser) ended() error {
	where := p.src.place(p.last)
	switch {
	case p.section != "":
		return fmt.Errorf("the file ends inside the section %s (%s): it is incomplete; export or copy it again", cut(p.section, 20), where)
	case p.whole:
		p.d.problems.Add("missing end marks", where, "The file has no end mark. Its section of entities is complete and was read.")
		return p.complete()
	}
	return fmt.Errorf("the file ends (%s) before any section of entities: it is incomplete, or no DXF drawing", where)
}

func (p *parser) complete() error {
	if !p.whole {
		return errors.New("the file holds no section of entities: it is no DXF drawing, or an empty one")
	}
	return nil
}

func (p *parser) one(data []byte) error {
	switch p.section {
	case "HEADER":
		err := p.header()
		p.d.decoder = newDecoder(p.d.header.version, p.d.header.codePage, data)
		return err
	case "TABLES":
		return p.records(p.table)
	case "BLOCKS":
		return p.records(p.block)
	case "ENTITIES":
		p.into = &p.d.space
		if err := p.records(p.entity); err != nil {
			return err
		}
		p.endPolyline()
		p.whole = true
		return nil
	}
	return p.records(func(*record) error { return nil })
}

// header reads 9 $VARIABLE and the groups behind it.
func (p *parser) header() error {
	variable := ""
	for {
		q, err := p.next()
		if err != nil {
			return err
		}
		switch q.code {
		case 0:
			if q.is(0, "ENDSEC") {
				return nil
			}
			variable = ""
		case 9:
			variable = strings.ToUpper(strings.TrimSpace(string(q.text)))
		default:
			p.d.header.take(variable, q)
		}
	}
}

// records gives take each entity or table entry: a 0 group and what follows it.
func (p *parser) records(take func(*record) error) error {
	for {
		head, err := p.next()
		if err != nil {
			return err
		}
		if head.code != 0 {
			continue
		}
		r := &p.rec
		r.start(strings.ToUpper(strings.TrimSpace(string(head.text))), head.line)
		if r.name == "ENDSEC" {
			return nil
		}
		if r.name == "EOF" || r.name == "SECTION" {
			return fmt.Errorf("the section %s is not closed before %s: the file is damaged", cut(p.section, 20), p.src.place(head.line))
		}
		for {
			q, err := p.next()
			if err != nil {
				return err
			}
			if q.code == 0 {
				p.ahead = &q
				break
			}
			r.add(q)
		}
		if err := take(r); err != nil {
			return err
		}
	}
}

// table reads entries of the LAYER table; others do not matter here.
func (p *parser) table(r *record) error {
	name, ok := r.raw(2)
	if r.name != "LAYER" || !ok {
		return nil
	}
	l := p.d.layers[p.d.layerOf(p.d.decoder.text(name))]
	l.off = r.num(62, 7) < 0
	l.frozen = r.flags(70)&1 != 0
	return nil
}

// block reads the BLOCKS section: BLOCK, entities, ENDBLK.
func (p *parser) block(r *record) error {
	switch r.name {
	case "BLOCK":
		name, _ := r.raw(2)
		b := &block{name: p.d.decoder.text(name), base: r.point(10), xref: r.flags(70)&4 != 0}
		if key := strings.ToUpper(b.name); p.d.blocks[key] == nil {
			p.d.blocks[key] = b
		} else {
			p.d.problems.Add("blocks left out", p.src.place(r.line), "Two blocks are named '%s': the first is used.", cut(b.name, 60))
		}
		p.into = &b.holds
		return nil
	case "ENDBLK":
		p.endPolyline()
		p.stamp, p.into = nil, nil
		return nil
	}
	if p.into == nil {
		return nil
	}
	return p.entity(r)
}

// count keeps the drawing within its bound of points.
func (p *parser) count(n int) error {
	if p.d.points += n; p.d.points > MaxPoints {
		return fmt.Errorf("the file has more than %s points (stopped at %s): export one storey at a time", building.Count(MaxPoints), p.src.place(p.last))
	}
	return nil
}

// points turns plain points into vertices without bulge.
func straight(points []geom.Point) []vertex {
	out := make([]vertex, len(points))
	for i, q := range points {
		out[i].Point = q
	}
	return out
}
