package domain

import (
	"regexp"
	"strings"
)

// Phrase is an intent as a sentence with its fields in it, for editing: what
// the kind says, what it may say besides, and the condition under which it
// counts. Every field of the kind stands in it once.
type Phrase struct {
	Says      []Clause
	More      []Clause
	Condition []Clause
}

// Clause is a stretch of a phrase that stands or falls as one: When says for
// which intents it has a meaning, nil for all.
type Clause struct {
	Pieces []Piece
	When   func(*Intent) bool
}

// Piece is words, or the slot of a field among them.
type Piece struct {
	Words   string
	Field   string
	Blank   string // how the slot reads while it is empty
	Yes, No string // how a yes-or-no field reads; empty for others
}

// slotMark is a slot in the text of a clause: "{delay_s}", "{loads|all lighting
// loads}" with what it reads while empty, "{may_off?and go off|but stay on}".
var slotMark = regexp.MustCompile(`\{(\w+)(?:\?([^|}]*)\|([^}]*)|\|([^}]*))?\}`)

// say reads a clause that always stands.
func say(text string) Clause { return sayWhen(nil, text) }

// sayWhen reads a clause that stands for some intents.
func sayWhen(when func(*Intent) bool, text string) Clause {
	c := Clause{When: when}
	words := func(s string) {
		if s = strings.TrimSpace(s); s != "" {
			c.Pieces = append(c.Pieces, Piece{Words: s})
		}
	}
	at := 0
	for _, m := range slotMark.FindAllStringSubmatchIndex(text, -1) {
		words(text[at:m[0]])
		part := func(n int) string {
			if m[2*n] < 0 {
				return ""
			}
			return text[m[2*n]:m[2*n+1]]
		}
		c.Pieces = append(c.Pieces, Piece{Field: part(1), Yes: part(2), No: part(3), Blank: part(4)})
		at = m[1]
	}
	words(text[at:])
	return c
}

// PhraseOf gives the phrase of a kind of intent. It is shared: do not change it.
func PhraseOf(kind IntentKind) Phrase { return phrases[kind] }

// Holds tells that the clause means something for an intent.
func (c Clause) Holds(in *Intent) bool { return c.When == nil || c.When(in) }

// phrases are the kinds in words, beside the sentence that they print
// (sentence.go): the same order, so that one reads as the other.
var phrases = complete(map[IntentKind]Phrase{
	ByHand: {
		Says: []Clause{
			say("A person's press acts on {loads|all lighting loads} at once, in {fade_s|0 s}. After a manual off, people moving do not relight them for {hold_s|0 s}, or until the room was vacant and is entered anew."),
		},
		More: []Clause{
			say("While a raise or lower button is held, the level changes by {rate_pct_s|20 %/s}, not below {lowest} and not above {highest|100 %}."),
		},
	},
	ByPresence: {
		Says: []Clause{
			say("For {loads|all lighting loads}: when someone enters, they {enters?go to|stay dark until a person presses}"),
			sayWhen(func(in *Intent) bool { return in.Enters }, "{scene}"),
			sayWhen(func(in *Intent) bool { return in.Enters && in.Scene == 0 }, "{level}"),
			say(". When all sensors have reported vacant for {delay_s|0 s}, they dip to {warn_to} of their level for {warning_s|0 s} as a warning and then go to {off_level} in {fade_s|0 s}."),
		},
		More: []Clause{
			say("People moving within {relight_s|0 s} after that bring the last level back, once. A sensor that has been silent for {watchdog_s|ever} counts as occupied."),
		},
	},
	ByDaylight: {
		Says: []Clause{
			say("As daylight comes in, {loads|all lighting loads} dim over {fade_s|0 s} to hold {target_lx} together with it, not below {lowest}, {may_off?and go off where daylight is enough|and never go off}. A press {yields?suspends this until the room was vacant|leaves this as it is}."),
		},
	},
	BySchedule: {
		Says: []Clause{
			say("At {on_at|no time} on {days|every day}: {do}:"),
			sayWhen(setsMode, "{mode|normal}."),
			sayWhen(keepsMode, "{scene}"),
			sayWhen(func(in *Intent) bool { return in.Do != SetMode && in.Scene == 0 }, "{level}"),
			sayWhen(keepsMode, "for {loads|all lighting loads}, in {fade_s|0 s}. At {off_at|no time} they dip to {warn_to} of their level for {warning_s|0 s} as a warning and then go off, {spares_people?but wait while people are in the room|whether or not people are in the room}"),
			sayWhen(func(in *Intent) bool { return in.Do != SetMode && in.Spares }, "and ask again after {again_s|30 min}"),
			sayWhen(keepsMode, ". A press brings them back for {override_s|good}."),
		},
	},
	ForReceptacles: {
		Says: []Clause{say("When people enter, {loads|all controlled receptacles} go live; when the room has been vacant for {delay_s|0 s} they go dead. No wall station acts on them.")},
	},
	ByAV: {
		Says: append([]Clause{say("On the AV command {command} at {device|any AV interface}: {do}:")}, responseClauses()...),
	},
	ByContact: {
		Says: append([]Clause{say("When the contact at {device|an input not yet named} is {command}: {do}:")}, responseClauses()...),
	},
	OnMode: {
		Says: []Clause{
			say("When the mode becomes {mode|normal}: {do}:"),
			sayWhen(goesTo, "{scene}"),
			sayWhen(takesLevel, "{level}"),
			say("for {loads|all lighting loads}"),
			sayWhen(fades, "in {fade_s|0 s}"),
			say(". The mode ends by itself after {hold_s|never}."),
		},
	},
	OnDemandResponse: {
		Says: []Clause{say("During demand response, {loads|all lighting loads but egress lighting} are capped at {level} of the level they then have, reached in {fade_s|0 s}; a dark load stays dark. When it ends, they return.")},
	},
	OnEmergency: {
		Says: []Clause{say("While the emergency signal is on, {loads|all lighting loads} are locked at {level} and nothing else acts on them.")},
	},
	OnNetworkLoss: {
		Says: []Clause{say("When the building network is lost, {loads|all lighting loads} go to {level}; the room's own logic goes on.")},
	},
	OnPowerBack: {
		Says: []Clause{
			say("When power comes back, {loads|all lighting loads} go to {restore|not said}"),
			sayWhen(func(in *Intent) bool { return in.Restore == RestoreSet }, "{level}"),
			say("; delays start anew as if the room were occupied."),
		},
	},
})

// complete gives each kind what any intent has: who asked for it, and the
// condition.
func complete(of map[IntentKind]Phrase) map[IntentKind]Phrase {
	for kind, p := range of {
		p.More = append(p.More, say("Asked for by {source|nobody named}."))
		p.Condition = []Clause{say("This counts {unless?unless|only} in mode {modes|any}, from {from|midnight} until {until|midnight}, while daylight is below {darker_than_lx|any} and above {brighter_than_lx|any}, while the room is {people|occupied or vacant}, while the partition is {partition|open or closed}.")}
		of[kind] = p
	}
	return of
}

// responseClauses are what an AV command or a contact makes the loads or the
// room do, behind the choice of it.
func responseClauses() []Clause {
	return []Clause{
		sayWhen(setsMode, "{mode|normal}"),
		sayWhen(goesTo, "{scene}"),
		sayWhen(takesLevel, "{level}"),
		sayWhen(ofLoads, "for {loads|all lighting loads}"),
		sayWhen(fades, "in {fade_s|0 s}"),
		sayWhen(ends, "for at most {hold_s|ever}"),
	}
}

// What an intent does, as clauses ask.
func setsMode(in *Intent) bool   { return in.Do == SetMode }
func keepsMode(in *Intent) bool  { return in.Do != SetMode }
func goesTo(in *Intent) bool     { return in.Do == GoTo }
func takesLevel(in *Intent) bool { return in.Do == GoTo && in.Scene == 0 || in.Do == Lock }
func ends(in *Intent) bool       { return in.Do == SetMode || in.Do == HoldAutomatic }
func fades(in *Intent) bool {
	return in.Do == GoTo || in.Do == Lock || in.Do == ToggleLoads || in.Do == GoBack
}

// ofLoads tells that the response concerns loads and not the room as a whole.
func ofLoads(in *Intent) bool {
	return in.Do != SetMode && in.Do != PartitionJoins && in.Do != PartitionParts
}
