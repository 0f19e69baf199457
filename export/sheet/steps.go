package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// step is one numbered statement of a room's sequence: what a button does, or an intent.
type step struct {
	id     string // "Q3"
	text   string
	source string
	inputs []domain.Input // of a button's step: several where stations do the same
	intent domain.ID      // of an intent's step
}

// sequence states the room in order: its buttons first, then the intents by kind.
func (r *room) sequence() []step {
	if r.steps == nil {
		r.steps = append(r.buttonSteps(), r.intentSteps()...)
		for i := range r.steps {
			r.steps[i].id = fmt.Sprintf("Q%d", i+1)
		}
	}
	return r.steps
}

func (r *room) stepOfInput(in domain.Input) string {
	for _, s := range r.sequence() {
		if slices.Contains(s.inputs, in) {
			return s.id
		}
	}
	return none
}

func (r *room) stepOfIntent(id domain.ID) string {
	for _, s := range r.sequence() {
		if s.intent == id {
			return s.id
		}
	}
	return none
}

// buttonSteps states each button and gesture; stations that do the same share a statement.
func (r *room) buttonSteps() []step {
	var out []step
	var tags [][]string
	at := map[string]int{}
	for _, row := range domain.MatrixRows(r.c.project, &r.Design, false) {
		if row.Button == 0 || !row.Kind.Traits().Buttons {
			continue
		}
		d := r.Design.Device(row.Device)
		s := step{text: r.buttonSentence(d, row.Input), source: r.linkSource(row.Input)}
		i, known := at[s.text+"\x00"+s.source]
		if !known {
			i = len(out)
			at[s.text+"\x00"+s.source] = i
			out, tags = append(out, s), append(tags, nil)
		}
		out[i].inputs, tags[i] = append(out[i].inputs, row.Input), append(tags[i], d.Tag)
	}
	for i := range out {
		out[i].text = strings.Replace(out[i].text, tagsHere, shortTags(tags[i], " or "), 1)
	}
	return out
}

// tagsHere stands in a button's sentence where the tags of its stations go.
const tagsHere = "\x00"

// linkSource names the typical where the button acts otherwise here than there.
func (r *room) linkSource(in domain.Input) string {
	if len(r.departures()) == 0 {
		return ""
	}
	for i := range r.Design.Loads {
		id := domain.LinkID(in.Device, in.Button, in.On, r.Design.Loads[i].ID)
		if r.departures().touched("links", id) && !r.departures().added("devices", in.Device) {
			return r.exceptionSource()
		}
	}
	return ""
}

func (r *room) exceptionSource() string { return "exception to typical " + r.Typical.Name }

// buttonSentence says what a press or a hold does, load by load and no more words than
// that takes.
func (r *room) buttonSentence(d *domain.Device, in domain.Input) string {
	verb := "Pressing"
	if in.On == domain.Hold {
		verb = "Holding"
	}
	name := fmt.Sprintf("button %d", in.Button)
	if label := d.ButtonLabel(in.Button); label != "" {
		name += fmt.Sprintf(" %q", label)
	}
	head := fmt.Sprintf("%s %s of %s", verb, name, tagsHere)
	does, open := r.actions(d, in)
	text := head + " "
	switch {
	case len(does) > 0:
		text += joined(does) + "."
	case len(open) > 0:
		return text + "is undecided: ask the designer."
	default:
		return text + "does nothing, on purpose."
	}
	if len(open) > 0 {
		text += " Undecided for " + r.loadList(open) + ": ask the designer."
	}
	return text
}

// actions groups the loads of an input by what it does to them; open lists the loads for
// which nothing has been decided.
func (r *room) actions(d *domain.Device, in domain.Input) (does []string, open []domain.ID) {
	type group struct {
		do    domain.Action
		loads []domain.ID
	}
	var groups []group
	for i := range r.Design.Loads {
		l := &r.Design.Loads[i]
		do, decided := r.actionOn(d, in, l)
		if !decided {
			open = append(open, l.ID)
			continue
		}
		if do.Verb == domain.Nothing {
			continue
		}
		at := slices.IndexFunc(groups, func(g group) bool { return g.do == do })
		if at < 0 {
			groups, at = append(groups, group{do: do}), len(groups)
		}
		groups[at].loads = append(groups[at].loads, l.ID)
	}
	for _, g := range groups {
		does = append(does, r.actionPhrase(g.do, in.On, r.loadList(g.loads))+r.rampNumbers(g.do, g.loads)+whilePartition(g.do))
	}
	return does, open
}

// ownLoad is what the buttons of a wall-box controller do without any link.
const ownLoad domain.Verb = "own"

// actionOn gives what an input does to a load, and whether that has been decided. A
// wall-box controller acts on the load that it carries and on no other.
func (r *room) actionOn(d *domain.Device, in domain.Input, l *domain.Load) (domain.Action, bool) {
	if k := r.link(in, l.ID); k != nil {
		return k.Do, k.Do.Verb != ""
	}
	if t := r.c.project.Book.Find(d.Type); t != nil && t.Kind.Traits().OwnOnly {
		if l.Controller == d.ID {
			return domain.Action{Verb: ownLoad}, true
		}
		return domain.Action{Verb: domain.Nothing}, true
	}
	return domain.Action{}, false
}

func (r *room) actionPhrase(a domain.Action, on domain.Gesture, loads string) string {
	held := ""
	if on == domain.Hold {
		held = " while it is held"
	}
	switch a.Verb {
	case domain.ToLevel:
		if a.Level == 0 {
			return "turns off " + loads
		}
		return "sets " + loads + " to " + units.Percent(a.Level)
	case domain.ToScene:
		return "recalls " + r.sceneName(a.Scene) + " on " + loads
	case domain.Toggle:
		return "toggles " + loads
	case domain.Raise:
		return "raises " + loads + held
	case domain.Lower:
		return "lowers " + loads + held
	case domain.LastLevel:
		return "brings " + loads + " back to the last level"
	case domain.Acts:
		return "acts on " + loads + " as the intents say"
	case ownLoad:
		return "switches or dims " + loads + ", the load wired to it"
	}
	return string(a.Verb) + " " + loads
}

// rampNumbers says how far a raise or lower button goes, where no intent does.
func (r *room) rampNumbers(a domain.Action, loads []domain.ID) string {
	if a.Verb != domain.Raise && a.Verb != domain.Lower {
		return ""
	}
	for _, id := range loads {
		if l := r.Design.Load(id); l != nil && r.sensed(l, domain.ByHand) == nil {
			return fmt.Sprintf(" (by %s %% of full output at a press, %s %% a second while held)", number(domain.RampStep), number(domain.DefaultRate))
		}
	}
	return ""
}

// whilePartition says in which state of the partition a button's cell counts.
func whilePartition(a domain.Action) string {
	if a.If == "" {
		return ""
	}
	return " while the partition is " + string(a.If)
}

func (r *room) sceneName(number int) string {
	if s := r.Design.SceneNumbered(number); s != nil {
		return fmt.Sprintf("scene %d %q", number, s.Name)
	}
	return fmt.Sprintf("scene %d (not defined)", number)
}

// loadList names loads by their tags, or all of a kind in two words where that is what
// they are.
func (r *room) loadList(ids []domain.ID) string {
	if len(ids) > 3 && len(ids) == r.countLoads(domain.Lighting) && r.allAre(ids, domain.Lighting) {
		return "all lighting loads"
	}
	tags := make([]string, 0, len(ids))
	for _, id := range ids {
		if l := r.Design.Load(id); l != nil {
			tags = append(tags, l.Tag)
		}
	}
	return joined(tags)
}

func (r *room) countLoads(kind domain.LoadKind) int {
	n := 0
	for i := range r.Design.Loads {
		if r.Design.Loads[i].Kind == kind {
			n++
		}
	}
	return n
}

func (r *room) allAre(ids []domain.ID, kind domain.LoadKind) bool {
	return !slices.ContainsFunc(ids, func(id domain.ID) bool {
		l := r.Design.Load(id)
		return l == nil || l.Kind != kind
	})
}

// intentSteps states every intent once, in the order of kinds.
func (r *room) intentSteps() []step {
	intents := make([]*domain.Intent, len(r.Design.Intents))
	for i := range intents {
		intents[i] = &r.Design.Intents[i]
	}
	rank := map[domain.IntentKind]int{}
	for i, k := range domain.IntentKinds() {
		rank[k] = i
	}
	slices.SortStableFunc(intents, func(a, b *domain.Intent) int {
		return cmp.Or(cmp.Compare(rank[a.Kind], rank[b.Kind]), cmp.Compare(a.Seq, b.Seq))
	})
	out := make([]step, 0, len(intents))
	for _, in := range intents {
		out = append(out, step{intent: in.ID, text: r.intentText(in), source: r.intentSource(in)})
	}
	return out
}

// intentText states an intent with what it is worth against others.
func (r *room) intentText(in *domain.Intent) string {
	return fmt.Sprintf("%s: %s Class %s, counts %s.", in.Kind.Title(), in.Sentence(r.env()), in.Class(), in.Lasts(r.env()))
}

func (r *room) intentSource(in *domain.Intent) string {
	parts := []string{}
	if in.Source != "" {
		parts = append(parts, in.Source)
	}
	if r.departures().touched("intents", in.ID) {
		parts = append(parts, r.exceptionSource())
	}
	return strings.Join(parts, "; ")
}

// statements prints the sequence.
func (r *room) statements() Statements {
	var out Statements
	for _, s := range r.sequence() {
		out.Items = append(out.Items, Statement{ID: s.id, Text: s.text, Source: s.source})
	}
	return out
}
