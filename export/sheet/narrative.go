package sheet

import (
	"cmp"
	"slices"
	"strings"

	"scopewright/domain"
)

// ControlNarrative tells the owner in plain prose how each kind of room behaves: what was
// asked for, who may change what, and a paragraph for rooms that behave alike. Each
// sentence can be agreed to or not; the numbers stand in the sequence of operations.
func ControlNarrative(c *Content) []Sheet {
	s := Sheet{ID: "narrative", Number: numberNarrative, Title: "Control intent narrative", Head: c.head()}
	told, bare := c.alikeInWords()
	goals := or(c.project.Brief, "The owner's wishes have not been written down yet: ask before anything is agreed.")
	s.Blocks = withoutNil([]Block{c.partialNote(), Paragraph{Text: "For the owner and those who use the building. It says what people will notice, without levels and delays; the sequence of operations says the same with every number. Please answer each sentence with yes or no."},
		Heading{1, "What was asked for"}, Paragraph{Text: goals}})
	last := domain.Use("\x00")
	for _, t := range told {
		if t.use != last {
			s.Blocks = append(s.Blocks, Heading{1, or(t.use.Name(), "Rooms without a stated use")})
			last = t.use
		}
		s.Blocks = append(s.Blocks, Heading{2, roomsWord(t.rooms)}, Paragraph{Text: strings.Join(t.says, " ")})
	}
	if len(told) == 0 {
		s.Blocks = append(s.Blocks, Paragraph{Text: "No room has been designed yet.", Strong: true})
	}
	s.Blocks = append(s.Blocks, Heading{1, "Who may change what"}, c.whoChanges())
	s.Blocks = append(s.Blocks, Heading{1, "Not part of this"}, exclusions(bare))
	s.Blocks = append(s.Blocks, Heading{1, "Agreed"}, Signatures{Items: []Signature{{Role: "Owner"}, {Role: "Designer"}}})
	return []Sheet{s}
}

// alikeRooms are rooms of one use that the same sentences hold for.
type alikeRooms struct {
	use   domain.Use
	rooms []*room
	says  []string
}

// alikeInWords sorts the rooms by use and by what is told of them; bare lists the rooms of
// which nothing is.
func (c *Content) alikeInWords() (out []alikeRooms, bare []*room) {
	at := map[string]int{}
	for _, r := range c.rooms() {
		says := r.narrative()
		if len(says) == 0 {
			bare = append(bare, r)
			continue
		}
		key := string(r.Use) + "\x00" + strings.Join(says, "\x00")
		i, known := at[key]
		if !known {
			i = len(out)
			at[key] = i
			out = append(out, alikeRooms{use: r.Use, says: says})
		}
		out[i].rooms = append(out[i].rooms, r)
	}
	slices.SortStableFunc(out, func(a, b alikeRooms) int { return cmp.Compare(a.use.Name(), b.use.Name()) })
	return out, bare
}

// narrative tells each intent of the room once, in the order of the sequence.
func (r *room) narrative() []string {
	var out []string
	for _, s := range r.sequence() {
		if in := r.Design.Intent(s.intent); s.intent != "" && in != nil {
			out = append(out, in.Narrative(r.env()))
		}
	}
	return out
}

func roomsWord(rooms []*room) string {
	if len(rooms) == 1 {
		return "Room " + rooms[0].Label()
	}
	return count(len(rooms), "room", "rooms") + ": " + roomNumbers(rooms)
}

// whoChanges says who may change what, as far as the picked rooms hold it.
func (c *Content) whoChanges() Block {
	has := map[domain.IntentKind]bool{}
	need := needs{}
	for _, r := range c.rooms() {
		need.add(&r.Design)
		for i := range r.Design.Intents {
			has[r.Design.Intents[i].Kind] = true
		}
	}
	var out Statements
	say := func(when bool, text string) {
		if when {
			out.Items = append(out.Items, Statement{Text: text})
		}
	}
	say(has[domain.ByHand], "People in the room choose their light, within what the room offers.")
	say(need.clock || need.modes, "The owner decides hours, holidays and what happens after hours, and names a person who may change them: "+or(c.project.Hours, "the hours are still to be stated")+".")
	say(has[domain.ByAV], "The presentation system asks for light; what it asks for is agreed with those who set it up.")
	say(has[domain.OnDemandResponse], "The owner decides whether the building saves power when the supplier asks, and by how much.")
	say(true, "Delays and levels are set at start-up as the sequence of operations states them; a change is written down there.")
	say(has[domain.OnEmergency] || c.anyEgress(), "Nobody changes what lights the way out without those who are licensed for it.")
	return out
}

func (c *Content) anyEgress() bool {
	return slices.ContainsFunc(c.rooms(), (*room).hasEgress)
}

func exclusions(bare []*room) Block {
	out := Statements{Items: []Statement{
		{Text: "Mains wiring, and the design and test of emergency and egress lighting: people licensed for them do these, to the local code."},
		{Text: "Systems of others, such as presentation, shades, heating and building automation: this says only what passes between them and the lights."},
	}}
	if len(bare) > 0 {
		out.Items = append(out.Items, Statement{Text: "Rooms of which nothing is designed yet: " + roomNumbers(bare) + "."})
	}
	return out
}
