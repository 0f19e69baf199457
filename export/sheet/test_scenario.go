package sheet

import (
	"fmt"
	"strings"
	"time"

	"scopewright/domain"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// scenarioBlocks print one scenario as numbered steps to carry out.
func (r *room) scenarioBlocks(place int, sc *domain.Scenario, exercises []string) []Block {
	mode := "as the calendar says"
	if sc.Mode != "" {
		mode = string(sc.Mode)
	}
	return []Block{Heading{1, fmt.Sprintf("T%d %s", place, sc.Name)},
		Facts{Columns: 4, Items: []Fact{{"Day", or(sc.Day, "Mon")}, {"Clock at the start", startOf(sc)}, {"Mode", mode}, {"Exercises", or(strings.Join(exercises, ", "), "no statement")}}},
		r.scenarioTable(sc)}
}

// startOf is the clock at a scenario's start; 09:00 where none is stated.
func startOf(sc *domain.Scenario) string { return or(sc.Start, "09:00") }

func (r *room) scenarioTable(sc *domain.Scenario) Table {
	t := Table{Empty: "This scenario has no steps yet.", Columns: append([]Column{{Title: "Step", Align: Center, Width: 0.6}, {Title: "Clock", Align: Center, Width: 1.3}, {Title: "After the start", Align: Center, Width: 1.3},
		{Title: "Do", Width: 4}, {Title: "Expect", Width: 3}}, fillIn()...)}
	for i, st := range sequence.Order(sc) {
		do, expect := sentence(st.Sentence(r.env())), none
		if st.Happen == domain.Expect {
			do, expect = none, r.expected(st)
		}
		cells := []Cell{TextCell(fmt.Sprint(i + 1)), TextCell(clockAfter(startOf(sc), st.At)), TextCell(offset(st.At)), TextCell(do), TextCell(expect)}
		t.Rows = append(t.Rows, Row{Cells: append(cells, blanks(st.Happen == domain.Expect)...)})
	}
	return t
}

// expected states a level with how near it must come. Dark and full leave no room.
func (r *room) expected(st *domain.ScenarioStep) string {
	text := sentence(st.Sentence(r.env()))
	if st.Level <= 0 {
		return text + " (dark)"
	}
	low, high := max(0, float64(st.Level)-levelWithin), min(100, float64(st.Level)+levelWithin)
	if l := r.Design.Load(st.Load); l != nil && l.Kind == domain.Receptacle {
		return l.Tag + " live"
	}
	return fmt.Sprintf("%s (%s to %s)", text, units.Percent(units.Level(low)), units.Percent(units.Level(high)))
}

func offset(at units.Seconds) string {
	if at == 0 {
		return "start"
	}
	if hours := int(at) / 3600; hours > 0 && at >= 2*3600 && units.Seconds(3600*hours) != at {
		return fmt.Sprintf("+%d h %s", hours, units.Duration(at-units.Seconds(3600*hours)))
	}
	return "+" + units.Duration(at)
}

// clockAfter adds a time to a clock; a day later says so. Hours that summer time adds or
// takes do not come in: a test does not wait for them.
func clockAfter(start string, at units.Seconds) string {
	from, err := time.Parse("15:04", start)
	if err != nil {
		return undecided
	}
	then := from.Add(time.Duration(float64(at) * float64(time.Second)))
	text := then.Format("15:04:05")
	if days := then.YearDay() - from.YearDay(); days > 0 {
		text += fmt.Sprintf(" +%d d", days)
	}
	return text
}
