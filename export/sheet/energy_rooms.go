package sheet

import (
	"fmt"
	"strings"

	"scopewright/domain/energy"
	"scopewright/domain/units"
)

func (e *yearOf) rooms() Block {
	t := Table{Caption: "Rooms", Empty: "No rooms.", Columns: e.columns("Room")}
	for _, s := range e.c.storeys {
		for i, y := range e.reckoned(s) {
			if i == 0 {
				t.Rows = append(t.Rows, groupRow(s.name(e.c)))
			}
			var one energy.Sum
			one.Add(&y.Year, energy.Habit{})
			t.Rows = append(t.Rows, Row{Cells: e.cells(y.Label(), one)})
		}
	}
	return t
}

// causes are the columns of the table of differences.
var causes = []struct {
	cause energy.Cause
	title string
}{{energy.CausePeople, "People"}, {energy.CauseAway, "Short absences"}, {energy.CauseAfter, "After hours"}, {energy.CauseLevel, "Levels"}, {energy.CauseDaylight, "Daylight"}, {energy.CauseHeld, "Constant illuminance"}, {energy.CauseStandby, "Standby"}}

// whys tells cause by cause why the weeks that were played and LENI differ; causes
// that bring nothing anywhere have no column.
func (e *yearOf) whys() Block {
	used := map[energy.Cause]bool{}
	for i := range e.years {
		for _, w := range e.years[i].Whys() {
			used[w.Cause] = used[w.Cause] || differing(w.KWh).Text != none
		}
	}
	t := Table{Caption: "Why the weeks use more or less than LENI, kWh a year", Columns: []Column{{Title: "Room", Width: 2.4}, {Title: "LENI", Kind: Number, Width: 1}, {Title: "Weeks", Kind: Number, Width: 1}, {Title: "Difference", Kind: Number, Width: 1}},
		Note: "The causes add up to the difference, but for rounding. People: hours with people against those that F_O counts. Short absences and after hours: lamps that burn with nobody in. Levels: below full, or dark, with people in. Daylight: what the weeks save by it against what F_D counts."}
	var shown []energy.Cause
	for _, c := range causes {
		if used[c.cause] {
			t.Columns, shown = append(t.Columns, Column{Title: c.title, Kind: Number, Width: 1}), append(shown, c.cause)
		}
	}
	for _, s := range e.c.storeys {
		headed := false
		for _, y := range e.reckoned(s) {
			if y.Played == nil {
				continue
			}
			if !headed {
				t.Rows, headed = append(t.Rows, groupRow(s.name(e.c))), true
			}
			t.Rows = append(t.Rows, Row{Cells: whyCells(y, shown)})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func whyCells(y *roomYear, shown []energy.Cause) []Cell {
	cells := []Cell{TextCell(y.Label()), three(y.LENI.Use.Total()), three(y.Played.Total()), differing(y.Played.Total() - y.LENI.Use.Total())}
	whys := y.Whys()
	for _, c := range shown {
		kWh := 0.0
		for _, w := range whys {
			if w.Cause == c {
				kWh = w.KWh
			}
		}
		cells = append(cells, differing(kWh))
	}
	return cells
}

// differing prints a difference; one that rounds to nothing is none.
func differing(v float64) Cell {
	if v > -0.05 && v < 0.05 {
		return TextCell(none)
	}
	return three(v)
}

// controls shows how each load's factors come about, alike loads of a room and alike
// rooms of a storey together.
func (e *yearOf) controls() Block {
	t := Table{Caption: "Factors, by room and control", Empty: "No loads.", Columns: []Column{{Title: "Rooms", Width: 2}, {Title: "Loads", Width: 2}, {Title: "Control, from the intents", Width: 2.8}, {Title: "F_O", Kind: Number, Width: 0.7}, {Title: "Daylight", Width: 1}, {Title: "told by the", Width: 2.6}, {Title: "of", Width: 0.8}, {Title: "Dims by it", Width: 0.9}, {Title: "F_D", Kind: Number, Width: 0.7}},
		Note: "Of: the daylight factor by which the class was told, mean under the luminaires behind the glass, or rough, of the bare opening. The two have limits of their own (3, 2 and 1 %; 6, 4 and 2 %) and can disagree."}
	for _, s := range e.c.storeys {
		var alike roomsByFactors
		for _, y := range e.reckoned(s) {
			alike.add(y.Number, factorRows(y))
		}
		t.Rows = append(t.Rows, alike.rows()...)
	}
	return t
}

// roomsByFactors gathers rooms whose rows read alike.
type roomsByFactors struct {
	order []string
	parts map[string][][]Cell
	rooms map[string][]string
}

func (a *roomsByFactors) add(number string, rows [][]Cell) {
	if a.parts == nil {
		a.parts, a.rooms = map[string][][]Cell{}, map[string][]string{}
	}
	var key strings.Builder
	for _, row := range rows {
		for _, c := range row {
			key.WriteString(c.String() + "\x1f")
		}
	}
	k := key.String()
	if a.parts[k] == nil {
		a.order, a.parts[k] = append(a.order, k), rows
	}
	a.rooms[k] = append(a.rooms[k], number)
}

func (a *roomsByFactors) rows() (out []Row) {
	for _, k := range a.order {
		for _, row := range a.parts[k] {
			out = append(out, Row{Cells: append([]Cell{TextCell(joined(a.rooms[k]))}, row...)})
		}
	}
	return out
}

// factorRows gives the factors of a room's loads, alike ones in one row.
func factorRows(y *roomYear) (out [][]Cell) {
	for j := 0; j < len(y.LENI.Lines); {
		first, tags := y.LENI.Lines[j], []string(nil)
		for j < len(y.LENI.Lines) && alikeLines(first, y.LENI.Lines[j]) {
			tags = append(tags, y.LENI.Lines[j].Load.Tag)
			j++
		}
		dims := "no"
		if first.Dims {
			dims = "yes"
		}
		out = append(out, []Cell{TextCell(joined(tags)), TextCell(string(first.Control)), NumberCell(roundTo(first.People, 2), 2), TextCell(string(first.Class)), TextCell(string(first.Rule)), TextCell(factorText(first.Percent)), TextCell(dims), NumberCell(roundTo(first.Sky, 2), 2)})
	}
	return out
}

// factorText prints a daylight factor as roughly as it is known.
func factorText(percent float64) string {
	if percent <= 0 {
		return none
	}
	return units.Trim(percent, 1) + " %"
}

func alikeLines(a, b energy.Line) bool {
	return a.Control == b.Control && a.People == b.People && a.Class == b.Class && a.Rule == b.Rule && factorText(a.Percent) == factorText(b.Percent) && a.Dims == b.Dims && a.Sky == b.Sky
}

// money says what the saving is worth, where the project states rates.
func (e *yearOf) money() Block {
	m := energy.MoneyOf(e.c.project)
	saved := e.all.SavedKWh()
	if e.all.Rooms == 0 {
		return nil
	}
	cost, priced := m.Cost(saved)
	kg, emits := m.Emitted(saved)
	if !priced && !emits {
		return Paragraph{Text: "No money and no carbon dioxide is printed: the project states no price of energy and no factor. Enter them on the energy screen, with their date and origin."}
	}
	t := Table{Caption: "What the saving is worth", Columns: []Column{{Title: "Figure", Width: 3}, {Title: "A year", Kind: Text, Align: Right, Width: 1.4}, {Title: "By", Width: 1.6}, {Title: "Of", Width: 1}, {Title: "Where it comes from", Width: 4}}}
	t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell("Saved against switching by hand"), TextCell(energy.Text(saved) + " kWh"), TextCell("LENI"), TextCell(none), TextCell(energy.Edition)}})
	word := m.Currency
	if priced {
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell("Money"), TextCell(withWord(energy.Text(cost), word)), TextCell(withWord(units.Trim(m.Tariff.Value, 5), word) + " per kWh"), TextCell(orNone(m.Tariff.Date)), TextCell(orNone(m.Tariff.Origin))}})
	}
	if emits {
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell("Carbon dioxide"), TextCell(energy.Text(kg) + " kg"), TextCell(units.Trim(m.Carbon.Value, 5) + " kg/kWh"), TextCell(orNone(m.Carbon.Date)), TextCell(orNone(m.Carbon.Origin))}})
	}
	if years, pays := m.Payback(saved); pays {
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell("Controls pay for themselves in, without interest"), TextCell(energy.Text(years) + " years"), TextCell(withWord(units.Trim(m.Controls.Value, 2), word)), TextCell(orNone(m.Controls.Date)), TextCell(orNone(m.Controls.Origin))}})
	}
	if e.all.AllPlayed() {
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell("For comparison: saved in the weeks played"), TextCell(energy.Text(e.all.PlayedSavedKWh()) + " kWh"), TextCell("weeks by hand"), TextCell(none), TextCell("the same weeks and people; the lines above go by LENI")}})
	}
	if saved <= 0 {
		t.Note = "The standby of the controls is more than they save here."
	}
	if e.all.LeftOn > 0 {
		t.Note += fmt.Sprintf(" Light that people leave on would add %s kWh to LENI by hand; it is not in the saving, and the weeks by hand play it.", energy.Text(e.all.LeftOn))
	}
	return t
}

func withWord(number, word string) string {
	if word == "" {
		return number
	}
	return number + " " + word
}
