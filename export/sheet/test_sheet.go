package sheet

import (
	"scopewright/domain"
	"scopewright/domain/units"
)

// FunctionalTests builds the functional test sheet of each room: the room's scenarios as
// steps with the levels to expect, then a line for each statement that no scenario
// exercises, with room to fill in what was seen.
func FunctionalTests(c *Content) []Sheet {
	var out []Sheet
	for _, r := range c.rooms() {
		out = append(out, r.testSheet())
	}
	return out
}

// How near a reading must come (common practice, no published source).
const (
	levelWithin = 5  // points of full output
	timeWithin  = 10 // % of the time
	timeAtLeast = 2  // seconds
)

// Lines to write on by hand.
const (
	blankShort = "______"
	blankLong  = "____________________"
)

func (r *room) testSheet() Sheet {
	s := Sheet{ID: "test-" + r.slug, Number: r.testNumber(), Title: "Functional test of room " + r.Label(), Head: r.head(), Landscape: true}
	if len(r.Design.Loads) == 0 {
		s.Blocks = []Block{Paragraph{Text: "Nothing to test: no loads have been designed for this room.", Strong: true}}
		return s
	}
	s.Blocks = []Block{r.testHead(), Paragraph{Text: testRules()}}
	if r.hasEgress() {
		s.Blocks = append(s.Blocks, toCaution(domain.CautionEgress))
	}
	s.Blocks = append(s.Blocks, toCaution(domain.CautionMains))
	exercised := map[string]bool{}
	for i := range r.Design.Scenarios {
		sc := &r.Design.Scenarios[i]
		ids := r.exercises(sc)
		for _, id := range ids {
			exercised[id] = true
		}
		s.Blocks = append(s.Blocks, r.scenarioBlocks(i+1, sc, ids)...)
	}
	if t := r.statementTests(exercised); len(t.Rows) > 0 {
		title := "Test lines of the statements"
		if len(r.Design.Scenarios) > 0 {
			title = "Statements that no scenario exercises"
		}
		s.Blocks = append(s.Blocks, Heading{1, title}, t)
	}
	s.Blocks = append(s.Blocks, Heading{1, "After the test"}, afterTest(), testLegend(), Signatures{Items: []Signature{{Role: "Tested by"}, {Role: "Witnessed by"}}})
	return s
}

// testHead is what the tester writes down before the first step.
func (r *room) testHead() Block {
	return Facts{Columns: 3, Items: []Fact{
		{"Follows", r.follows()}, {"Statements", count(len(r.sequence()), "statement", "statements") + " of sheet " + r.scopeNumber()}, {"Scenarios", count(len(r.Design.Scenarios), "scenario", "scenarios")},
		{"Tested by", blankLong}, {"Witnessed by", blankLong}, {"Date and clock", blankLong},
		{"Sky", tick + " clear  " + tick + " partly cloudy  " + tick + " overcast  " + tick + " dark"}, {"Blinds", tick + " open  " + tick + " half  " + tick + " shut  " + tick + " none"}, {"Furniture in", tick + " yes  " + tick + " no"},
		{"Instrument", blankLong}, {"Calibrated on", blankLong}, {"Clock of the room right", tick + " yes  " + tick + " no"},
	}}
}

// testRules says how to read a line.
func testRules() string {
	return "Levels are percentages of full light output; 0 % is dark. A level passes within " + number(levelWithin) + " points, a time within " + number(timeWithin) + " % but at least " + units.Duration(timeAtLeast) +
		" (common practice, no published source). Start each scenario dark, empty and at its day and clock; where that cannot be had, wait or shorten a delay, and set it back afterward. The adopted code says which rooms are tested."
}

func testLegend() Block {
	return Legend{Items: []LegendItem{{tick, "tick when done, or when as expected"}, {none, "nothing to write here"}, {"T1", "scenario of that place in the room's list"}, {"Q1", "statement of the sequence of operations"}}}
}

func afterTest() Block {
	return Statements{Items: []Statement{
		{ID: tick, Text: "Settings are as the sequence of operations states them: delays that were shortened for the test are set back and read again."},
		{ID: tick, Text: "What failed stands in the list of issues, with the number given here; retested on " + blankLong + "."},
		{ID: tick, Text: "Joining is closed, and the back-up of the settings is made."},
	}}
}

// fillIn are the columns that the tester fills in.
func fillIn() []Column {
	return []Column{{Title: "Observed", Align: Center, Width: 1.3}, {Title: "Pass", Align: Center, Width: 0.7}, {Title: "Initials", Align: Center, Width: 1}, {Title: "Date", Align: Center, Width: 1.1}, {Title: "Issue no.", Align: Center, Width: 1}}
}

// blanks are their empty places; nothing is observed where something is only done.
func blanks(observed bool) []Cell {
	if !observed {
		return []Cell{TextCell(none), TextCell(tick), TextCell(none), TextCell(none), TextCell(none)}
	}
	return []Cell{TextCell(blankShort), TextCell(tick), TextCell(blankShort), TextCell(blankShort), TextCell(blankShort)}
}
