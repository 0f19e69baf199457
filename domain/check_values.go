package domain

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"scopewright/domain/delta"
	"scopewright/domain/equipment"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// span is what a number may be; outside of it is a slip of the pen.
type span struct{ least, most float64 }

// spans by quantity: those of the fields in which people type them.
var spans = map[reflect.Type]span{
	reflect.TypeFor[units.Level]():        {0, 100},
	reflect.TypeFor[units.Seconds]():      {0, 86400},
	reflect.TypeFor[units.Metres]():       {0, float64(maxCeiling)},
	reflect.TypeFor[units.SquareMetres](): {0, float64(maxArea)},
	reflect.TypeFor[units.Watts]():        {0, 1e6},
	reflect.TypeFor[units.Volts]():        {0, 1000},
	reflect.TypeFor[units.Amps]():         {0, 10000},
	reflect.TypeFor[units.Milliamps]():    {0, 10000},
	reflect.TypeFor[units.Lux]():          {0, 20000},
}

// namedSpans are those of plain numbers, by JSON name.
var namedSpans = map[string]span{
	"seq": {0, 1e9}, "seats": {0, 100000}, "receptacles": {0, 10000}, "count": {0, 10000}, "drivers": {0, 100}, "output": {0, 64}, "scene": {0, 999},
	"number": {1, 999}, "button": {0, 64}, "outputs": {0, 64}, "inputs": {0, 64}, "buttons": {0, 24}, "scenes": {0, 1000}, "children": {0, 1000},
	"turn_deg": {-360, 360}, "latitude": {-90, 90}, "longitude": {-180, 180}, "rate_pct_s": {0, 1000}, "north_deg": {-360, 360}, "opacity": {0, 1},
	"power_factor": {0, 1}, "inrush_us": {0, 100000}, "life_years": {0, 100}, "value": {-200, 1e6}, "margin": {-1e9, 1e9},
	"tx_dbm": {-200, 100}, "gain_dbi": {-200, 100}, "sensitivity_dbm": {-200, 100}, "angle_deg": {0, 360}, "glass": {0, 1}, "blocked_deg": {0, 90},
	"day_h": {0, HoursPerYear}, "night_h": {0, HoursPerYear}, "absence": {0, 1},
}

// heldSpans are those of things that measure more than usual: a plan's things may
// be as large as it, a scenario may last a week; by the type that holds them and
// JSON name.
var heldSpans = map[reflect.Type]map[string]span{
	reflect.TypeFor[ScenarioStep](): {"at_s": {0, 7 * 86400}, "lx": {0, 200000}},
	reflect.TypeFor[Opening]():      {"at_m": {0, maxExtent}, "width_m": {0, maxExtent}},
	reflect.TypeFor[Rooflight]():    {"width_m": {0, maxExtent}, "length_m": {0, maxExtent}},
	reflect.TypeFor[Load]():         {"pair_m": {0, float64(maxPair)}},
	reflect.TypeFor[CodeChange]():   {"value": {0, 1e7}, "reduction_pct": {0, 100}},
	reflect.TypeFor[Rate]():         {"value": {0, 1e9}},
	reflect.TypeFor[Underlay]():     {"width_m": {0, maxExtent}, "height_m": {0, maxExtent}},
}

// closedSets lists what a value of a closed set may be; empty is "not stated".
var closedSets = map[reflect.Type][]string{
	reflect.TypeFor[units.System]():      {string(units.US), string(units.SI)},
	reflect.TypeFor[DriverKind]():        texts(DriverKinds()),
	reflect.TypeFor[equipment.Kind]():    texts(equipment.Kinds()),
	reflect.TypeFor[equipment.Supply]():  texts([]equipment.Supply{equipment.Mains, equipment.Battery, equipment.Wired}),
	reflect.TypeFor[equipment.Dimming](): texts(equipment.Dimmings()),
	reflect.TypeFor[equipment.Sensing](): texts(equipment.Sensings()),
	reflect.TypeFor[equipment.Plane]():   texts(equipment.Planes()),
	reflect.TypeFor[equipment.Wire]():    texts(equipment.Wires()),
	reflect.TypeFor[Trip]():              texts(Trips()),
	reflect.TypeFor[Use]():               useNames(),
	reflect.TypeFor[SpaceType]():         spaceNames(),
	reflect.TypeFor[CodeRow]():           texts(CodeRows()),
	reflect.TypeFor[CodeControl]():       texts(CodeControls()),
	reflect.TypeFor[CodeSign]():          texts(CodeSigns()),
	reflect.TypeFor[CodeDuty]():          texts(CodeDuties()),
	reflect.TypeFor[CodeMark]():          texts(CodeMarks()),
	reflect.TypeFor[ZoneCode]():          texts(ZoneCodes()),
	reflect.TypeFor[LoadKind]():          texts([]LoadKind{Lighting, Receptacle}),
	reflect.TypeFor[WindowZone]():        texts([]WindowZone{ZoneNone, ZoneWindow, ZoneSecondary, ZoneRoof}),
	reflect.TypeFor[Layer]():             texts([]Layer{General, Board, Display, Task}),
	reflect.TypeFor[PresenceKind]():      texts([]PresenceKind{Occupancy, Vacancy}),
	reflect.TypeFor[LoopKind]():          texts([]LoopKind{OpenLoop, ClosedLoop}),
	reflect.TypeFor[Sending]():           texts([]Sending{ToRoom, ToGroup, ToLoads}),
	reflect.TypeFor[Gesture]():           texts([]Gesture{Press, Hold}),
	reflect.TypeFor[Verb]():              texts([]Verb{ToLevel, ToScene, Toggle, Raise, Lower, LastLevel, Acts, Nothing}),
	reflect.TypeFor[IntentKind]():        texts(IntentKinds()),
	reflect.TypeFor[Response]():          texts(Responses()),
	reflect.TypeFor[Mode]():              texts(Modes()),
	reflect.TypeFor[People]():            texts([]People{PeopleIn, PeopleGone}),
	reflect.TypeFor[PartitionState]():    texts([]PartitionState{PartitionOpen, PartitionClosed}),
	reflect.TypeFor[Class]():             texts(DefaultPriority()),
	reflect.TypeFor[Happening]():         texts(Happenings()),
	reflect.TypeFor[Restore]():           texts([]Restore{RestoreLast, RestoreSet, RestoreOff, RestoreFull}),
	reflect.TypeFor[Asked]():             texts([]Asked{AskRoom, AskProject}),
	reflect.TypeFor[WallKind]():          texts([]WallKind{FullWall, Partition, Boundary}),
	reflect.TypeFor[OpeningKind]():       texts([]OpeningKind{Window, Door, Gap}),
	reflect.TypeFor[Verdict]():           texts([]Verdict{Agree, Object, NotApplicable}),
}

func texts[T ~string](values []T) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = string(v)
	}
	return out
}

func useNames() []string {
	var out []string
	for _, u := range Uses() {
		out = append(out, string(u.Use))
	}
	return out
}

// lines are the texts that may hold line breaks, by JSON name.
var lines = map[string]bool{"brief": true, "notes": true, "comment": true, "answer": true, "reason": true}

// checker walks a scope by its types and gathers problems.
type checker struct {
	problems []Problem
	at       []step
	holder   reflect.Type // of the value that is looked at
	plans    map[reflect.Type][]leaf
}

// step is one step of the pointer to where the walk is: a name or an index.
type step struct {
	name  string
	index int
}

type leaf struct {
	name  string
	index int
}

var (
	idType      = reflect.TypeFor[ID]()
	changesType = reflect.TypeFor[delta.Changes]()
	pointType   = reflect.TypeFor[geom.Point]()
	polygonType = reflect.TypeFor[geom.Polygon]()
)

func newChecker() *checker { return &checker{plans: map[reflect.Type][]leaf{}} }

func (c *checker) full() bool { return len(c.problems) >= MostProblems }

func (c *checker) add(path, format string, args ...any) {
	if !c.full() {
		c.problems = append(c.problems, Problem{path, fmt.Sprintf(format, args...)})
	}
}

// here is add at the place where the walk is.
func (c *checker) here(format string, args ...any) {
	if c.full() {
		return
	}
	var b strings.Builder
	for _, s := range c.at {
		b.WriteByte('/')
		if s.name == "" {
			b.WriteString(strconv.Itoa(s.index))
		} else {
			b.WriteString(s.name)
		}
	}
	c.add(b.String(), format, args...)
}

func (c *checker) walkScope(s *Scope) { c.walk(reflect.ValueOf(s).Elem()) }

// walkResolved walks a design that stands at a path only in part.
func (c *checker) walkResolved(path string, d *Design) {
	c.at = append(c.at[:0], step{name: strings.TrimPrefix(path, "/")})
	c.walk(reflect.ValueOf(d).Elem())
	c.at = c.at[:0]
}

func (c *checker) walk(v reflect.Value) {
	switch t := v.Type(); v.Kind() {
	case reflect.Struct:
		if t == pointType {
			c.point(v.Interface().(geom.Point))
			return
		}
		if t == polygonType {
			c.outline(v.Interface().(geom.Polygon))
			return
		}
		for _, f := range c.plan(t) {
			c.at, c.holder = append(c.at, step{name: f.name}), t
			c.walk(v.Field(f.index))
			c.at = c.at[:len(c.at)-1]
		}
	case reflect.Slice:
		if t == changesType {
			return // checked by what they lead to
		}
		c.unique(v)
		for i := range v.Len() {
			c.at = append(c.at, step{index: i})
			c.walk(v.Index(i))
			c.at = c.at[:len(c.at)-1]
		}
	case reflect.Pointer:
		if !v.IsNil() {
			c.walk(v.Elem())
		}
	case reflect.String:
		c.text(t, v.String())
	case reflect.Int:
		c.number(t, float64(v.Int()))
	case reflect.Float64:
		c.number(t, v.Float())
	}
}

func (c *checker) plan(t reflect.Type) []leaf {
	if known, ok := c.plans[t]; ok {
		return known
	}
	var out []leaf
	for i := range t.NumField() {
		if name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ","); name != "" && name != "-" {
			out = append(out, leaf{name, i})
		}
	}
	c.plans[t] = out
	return out
}

// unique refuses IDs that two elements of a list share.
func (c *checker) unique(list reflect.Value) {
	t := list.Type().Elem()
	if t.Kind() != reflect.Struct {
		return
	}
	for _, f := range c.plan(t) {
		if f.name != "id" {
			continue
		}
		seen := make(map[string]int, list.Len())
		for i := range list.Len() {
			id := list.Index(i).Field(f.index).String()
			if first, ok := seen[id]; ok {
				c.here("elements %d and %d both have the ID %q: give each its own", first, i, shortText(id))
				continue
			}
			seen[id] = i
			if !ID(id).Valid() {
				c.here("element %d: %q is no ID: use 1 to 120 small letters, digits, hyphens, dots or colons", i, shortText(id))
			}
		}
	}
}

func (c *checker) text(t reflect.Type, s string) {
	if s == "" {
		return
	}
	name := c.at[len(c.at)-1].name
	if set, closed := closedSets[t]; closed {
		for _, known := range set {
			if s == known {
				return
			}
		}
		c.here("%q is not known: use %s", shortText(s), JoinOr(set))
		return
	}
	if t == idType && name != "id" && !ID(s).Valid() {
		c.here("%q is no ID: use 1 to 120 small letters, digits, hyphens, dots or colons", shortText(s))
		return
	}
	if !utf8.ValidString(s) {
		c.here("the text is not valid UTF-8")
		return
	}
	if n := utf8.RuneCountInString(s); n > MaxText {
		c.here("the text has %d letters; at most %d fit", n, MaxText)
	}
	for _, r := range s {
		if unicode.IsControl(r) && !(lines[name] && (r == '\n' || r == '\t')) {
			c.here("the text holds a control character (U+%04X): take it out", r)
			return
		}
	}
}

func (c *checker) number(t reflect.Type, v float64) {
	if v == 0 {
		return
	}
	name := c.at[len(c.at)-1].name
	s, known := heldSpans[c.holder][name]
	if !known {
		s, known = spans[t]
	}
	if !known {
		if s, known = namedSpans[name]; !known {
			s = span{-1e9, 1e9}
		}
	}
	if math.IsNaN(v) || v < s.least || v > s.most {
		c.here("%s is out of range: use %s to %s", units.Trim(v, 6), units.Trim(s.least, 0), units.Trim(s.most, 0))
	}
}

// JoinOr gives "a", "a or b", "a, b or c".
func JoinOr(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}
