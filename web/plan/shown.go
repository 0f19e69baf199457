package plan

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/export/drawing"
	"scopewright/store"
	"scopewright/web/ui"
)

// shown is what an open page shows of a storey, in parts with keys. A later
// state shares with an earlier one what is the same, down to the room, so that a
// moved device costs its own room only. It is never changed.
type shown struct {
	name     string // by which a page says what it shows
	steady   *drawing.Steady
	rooms    map[*domain.Resolved]*roomShown
	order    []*domain.Resolved // the rooms as the storey lists them
	storey   storeyJudged
	walls    *wallsShown
	sections []section
	shell    string // all of the page beside the sections
}

// section is a list of the page: the things of a layer, the rooms that the
// script knows, the revisions that edits are based on.
type section struct {
	name   string // "svg:<layer>", "json:<list>", "html:<element>", "base"; others stand for one value
	groups []*group
}

// group holds what changes together, as a room's devices.
type group []entry

// entry is a part that is replaced as a whole.
type entry struct{ key, text string }

// roomShown is what a page shows of one room.
type roomShown struct {
	project *domain.Project
	piece   *drawing.Piece
	counts  store.Summary
	day     int

	marks                              []mark
	layers                             map[drawing.Layer]*group
	room, things, unplaced, told, list *group
	over                               overlays
}

// wallsShown is what a page shows of the walls.
type wallsShown struct {
	piece  *drawing.Piece
	layers map[drawing.Layer]*group
	list   *group
	lights *group // rooflights
}

// show makes the parts that a page shows, out of an earlier state's where they
// hold; before may be nil.
func (s Screen) show(ctx context.Context, st *state, before *shown) (*shown, error) {
	now := &shown{rooms: make(map[*domain.Resolved]*roomShown, len(st.Rooms)), order: st.resolved()}
	if before != nil && st.Revision == 0 && before.storey.plan.Empty() {
		st.Plan = before.storey.plan // nothing is stored of either
	}
	s.markStorey(st, before, now)
	day := s.Now().YearDay()
	for _, r := range st.Rooms {
		one := &roomShown{project: r.Project, counts: st.counts[r.Resolved.ID], day: day}
		if old := before.room(r.Resolved); old.judgedAlike(one) {
			one.marks = old.marks
		} else {
			one.marks = s.roomMarks(r, one.counts)
		}
		now.rooms[r.Resolved] = one
	}
	st.Marks = slices.Clone(now.storey.marks)
	for _, r := range st.Rooms {
		st.Marks = append(st.Marks, now.rooms[r.Resolved].marks...)
	}
	opt := drawing.Options{Scale: screenScale(st.Project.Units), Findings: st.findings()}
	now.steady = drawing.NewSteady(st.Project, st.Plan, st.resolved(), opt, before.drawn())
	for i, r := range st.Rooms {
		if err := st.showRoom(ctx, r.Resolved, now.steady.Rooms[i], before, now); err != nil {
			return nil, err
		}
	}
	if old := before.wallsOf(now.steady.Walls); old != nil {
		now.walls = old
	} else {
		now.walls = st.showWalls(now.steady.Walls)
	}
	now.sections = st.sections(now)
	return now, nil
}

func (old *roomShown) judgedAlike(now *roomShown) bool {
	return old != nil && old.project == now.project && old.day == now.day && old.counts.Errors == now.counts.Errors && old.counts.Warnings == now.counts.Warnings
}

func (s *shown) room(r *domain.Resolved) *roomShown {
	if s == nil {
		return nil
	}
	return s.rooms[r]
}

func (s *shown) drawn() *drawing.Steady {
	if s == nil {
		return nil
	}
	return s.steady
}

func (s *shown) wallsOf(piece *drawing.Piece) *wallsShown {
	if s == nil || s.walls.piece != piece {
		return nil
	}
	return s.walls
}

func (st *state) showRoom(ctx context.Context, r *domain.Resolved, piece *drawing.Piece, before, now *shown) error {
	one, old := now.rooms[r], before.room(r)
	one.piece = piece
	if old != nil && old.piece == piece && old.judgedAlike(one) {
		now.rooms[r] = old
		return nil
	}
	one.layers = layered(piece)
	room, things := st.modelRoom(r), st.modelThings(r)
	one.room, one.things = &group{{room.Key, jsonOf(room)}}, &group{}
	for i := range things {
		*one.things = append(*one.things, entry{things[i].Key, jsonOf(things[i])})
	}
	one.told, one.list = told(one.marks)
	one.unplaced = &group{}
	if list := st.unplacedOf(r); list != nil {
		text, err := rendered(ctx, unplacedList(*list))
		if err != nil {
			return err
		}
		*one.unplaced = group{{"unplaced-" + list.ID, text}}
	}
	return nil
}

func (st *state) showWalls(piece *drawing.Piece) *wallsShown {
	out := &wallsShown{piece: piece, layers: layered(piece), list: &group{}, lights: &group{}}
	for i := range st.Plan.Walls {
		for _, w := range st.modelWalls(&st.Plan.Walls[i]) {
			*out.list = append(*out.list, entry{w.Key, jsonOf(w)})
		}
	}
	for i := range st.Plan.Rooflights {
		l := st.modelRooflight(i)
		*out.lights = append(*out.lights, entry{l.Key, jsonOf(l)})
	}
	return out
}

func layered(p *drawing.Piece) map[drawing.Layer]*group {
	out := map[drawing.Layer]*group{}
	for _, e := range p.Elements {
		if out[e.Layer] == nil {
			out[e.Layer] = &group{}
		}
		*out[e.Layer] = append(*out[e.Layer], entry{e.ID, e.Markup})
	}
	return out
}

// told gives marks for the page's script and as lines of the list of findings.
func told(marks []mark) (known, lines *group) {
	known, lines = &group{}, &group{}
	for i := range marks {
		m := &marks[i]
		*known = append(*known, entry{m.ID, jsonOf(modelFinding{m.ID, m.Thing, string(m.Severity), m.Text, m.At})})
		*lines = append(*lines, entry{"found-" + m.ID, asMarkup(foundLine(m))})
	}
	return known, lines
}

// asMarkup prints a component that cannot fail.
func asMarkup(c templ.Component) string {
	text, err := rendered(context.Background(), c)
	if err != nil {
		return ""
	}
	return text
}

// lookAt writes a place for the page's script.
func lookAt(p geom.Point) string { return fmt.Sprintf("%.3f %.3f", p.X, p.Y) }

func (st *state) sections(now *shown) []section {
	layers := map[drawing.Layer][]*group{}
	take := func(from map[drawing.Layer]*group) {
		for l, g := range from {
			layers[l] = append(layers[l], g)
		}
	}
	var rooms, things, unplaced, known, lines []*group
	storeyKnown, storeyLines := told(now.storey.marks)
	known, lines = append(known, storeyKnown), append(lines, storeyLines)
	take(now.walls.layers)
	base := &group{{store.PlanSubject(st.Storey.ID), fmt.Sprint(st.Revision)}}
	for _, r := range st.Rooms {
		one := now.rooms[r.Resolved]
		take(one.layers)
		rooms, things, unplaced = append(rooms, one.room), append(things, one.things), append(unplaced, one.unplaced)
		known, lines = append(known, one.told), append(lines, one.list)
		*base = append(*base, entry{store.RoomSubject(r.Resolved.ID), fmt.Sprint(r.Revision)})
	}
	take(layered(now.steady.Findings))
	address := func(sha string) string { return ui.Picture(st.Project.ID, sha) }
	out := []section{
		one("frame", jsonOf(st.frame(now.steady))), one("underlay", now.steady.Underlay(address)),
		{"json:rooms", rooms}, {"json:things", things}, {"json:walls", []*group{now.walls.list}}, {"json:rooflights", []*group{now.walls.lights}}, {"json:findings", known},
		{"html:unplaced-list", unplaced}, {"html:found-list", lines}, one("html:plan-sums", asMarkup(sums(st.sums()))), {"base", []*group{base}},
	}
	for _, l := range drawing.Layers() {
		if l != drawing.LayerUnderlay {
			out = append(out, section{"svg:" + string(l), layers[l]})
		}
	}
	return out
}

// one is a section of a single part.
func one(name, text string) section { return section{name, []*group{{{"", text}}}} }

func (s *section) joined() string {
	var b strings.Builder
	for _, g := range s.groups {
		for _, e := range *g {
			b.WriteString(e.text)
		}
	}
	return b.String()
}

// array gives a section of JSON values as one.
func (s *section) array() string {
	var b strings.Builder
	b.WriteByte('[')
	for _, g := range s.groups {
		for _, e := range *g {
			if b.Len() > 1 {
				b.WriteByte(',')
			}
			b.WriteString(e.text)
		}
	}
	b.WriteByte(']')
	return b.String()
}

func (s *shown) section(name string) *section {
	at := slices.IndexFunc(s.sections, func(one section) bool { return one.name == name })
	return &s.sections[at]
}

// model is what the page's script knows at first, as JSON.
func (s *shown) model() string {
	var b bytes.Buffer
	frame := s.section("frame").joined()
	b.WriteString(strings.TrimSuffix(frame, "}"))
	for _, name := range []string{"rooms", "things", "walls", "rooflights", "findings"} {
		fmt.Fprintf(&b, ",%q:%s", name, s.section("json:"+name).array())
	}
	b.WriteString("}")
	return b.String()
}

// html gives a list of the page as markup.
func (s *shown) html(name string) templ.Component {
	return templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		_, err := io.WriteString(w, s.section("html:"+name).joined())
		return err
	})
}

func jsonOf(v any) string {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // whoever prints it escapes it
	if err := e.Encode(v); err != nil {
		return "null" // a coordinate that is no number: the store refuses those
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func rendered(ctx context.Context, c templ.Component) (string, error) {
	var b strings.Builder
	err := c.Render(ctx, &b)
	return b.String(), err
}

// counted gives the numbers of each room's findings.
func (s Screen) counted(ctx context.Context, st *state) (map[domain.ID]store.Summary, error) {
	lines, _, err := s.Store.RoomLines(ctx, st.Project.ID, store.Filter{Storey: st.Storey.ID})
	if err != nil {
		return nil, err
	}
	return maps.Collect(func(yield func(domain.ID, store.Summary) bool) {
		for i := range lines {
			if !yield(lines[i].ID, lines[i].Summary) {
				return
			}
		}
	}), nil
}
