package sheet

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain/energycode"
)

// checkColumns are the columns of tables of checks.
func checkColumns() []Column {
	return []Column{{Title: "Check", Width: 1.7}, {Title: "Required", Width: 3}, {Title: "Provided", Width: 3}, {Title: "Answer", Width: 1.3}, {Title: "What is short, or has to be known first", Width: 3.4}, {Title: "Clause", Width: 1.3}, {Title: "How sure", Width: 1.3}}
}

// checkRow prints one check. What is not met and what cannot be told carry a sign.
func (k *codeCheck) checkRow(r *energycode.Row) Row {
	why := strings.TrimSpace(r.Why + " " + r.Exception)
	return Row{Cells: []Cell{TextCell(r.Requirement), TextCell(orWords(r.Required)), TextCell(orWords(r.Provided)), answerCell(r), TextCell(orDash(why)), TextCell(orDash(r.Clause)), TextCell(k.marks.short(r.Mark))}}
}

// orWords sets the parts of a group, of which one is enough, apart by a word.
func orWords(text string) string { return orDash(strings.ReplaceAll(text, " | ", "; or ")) }

// answerCell prints a row's answer; what the figures leave open is no question to the room.
func answerCell(r *energycode.Row) Cell {
	if r.Open && r.Verdict == energycode.CannotTell {
		return TextCell(r.Answer())
	}
	return verdictCell(r.Verdict)
}

func verdictCell(v energycode.Verdict) Cell {
	cell := TextCell(string(v))
	switch v {
	case energycode.DoesNotMeet:
		return cell.Marked(Unmet)
	case energycode.CannotTell:
		return cell.Marked(Untold)
	}
	return cell
}

func (k *codeCheck) building() Block {
	t := Table{Caption: "Building", Columns: checkColumns()}
	for i := range k.d.Building {
		t.Rows = append(t.Rows, k.checkRow(&k.d.Building[i]))
	}
	return t
}

func (k *codeCheck) summary() Block {
	t := Table{Caption: "Answers by room", Columns: []Column{{Title: "Room", Width: 2}, {Title: "Kind of space", Width: 2.4}, {Title: "Kind of space from", Width: 4}, {Title: "Meets", Kind: Number, Width: 0.8}, {Title: "Does not meet", Kind: Number, Width: 0.9}, {Title: "Of these, exception claimed", Kind: Number, Width: 1},
		{Title: "Cannot tell", Kind: Number, Width: 0.8}, {Title: "Left open by the figures", Kind: Number, Width: 1}, {Title: "Not asked", Kind: Number, Width: 0.8}},
		Note: "Cannot tell: something of the room has to be known first. Of these, exception claimed: a person claims that an exception of the code holds, which changes no answer. Left open by the figures: the data that was seen is blank or says nothing, which is no exemption. Not asked: the check does not apply here."}
	for i := range k.rooms {
		r := &k.rooms[i]
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{TextCell(r.Label()), TextCell(r.kind), TextCell(r.why)}, countCells(&r.sum)...)})
	}
	if len(t.Rows) > 1 || k.c.partial {
		t.Rows = append(t.Rows, Row{Total: true, Cells: append([]Cell{TextCell(k.allRooms()), TextCell(""), TextCell("")}, countCells(&k.d.Total)...)})
	}
	return t
}

// allRooms names the sums, which are of the whole building however few rooms are printed.
func (k *codeCheck) allRooms() string {
	if k.c.partial {
		return "All " + count(len(k.d.Rooms), "room", "rooms") + " of the project"
	}
	return "All rooms"
}

func countCells(s *energycode.SummaryRow) []Cell {
	short, unknown := NumberCell(float64(s.DoesNotMeet), 0), NumberCell(float64(s.CannotTell), 0)
	if s.DoesNotMeet > 0 {
		short = short.Marked(Unmet)
	}
	if s.CannotTell > 0 {
		unknown = unknown.Marked(Untold)
	}
	return []Cell{NumberCell(float64(s.Meets), 0), short, NumberCell(float64(s.Claimed), 0), unknown, NumberCell(float64(s.Open), 0), NumberCell(float64(s.NotAsked), 0)}
}

// claims lists the exceptions that people claim, in the order of the rooms.
func (k *codeCheck) claims() Block {
	t := Table{Caption: "Exceptions claimed", Columns: []Column{{Title: "Room", Width: 2}, {Title: "Check", Width: 2}, {Title: "Answer without it", Width: 1.5}, {Title: "Reason", Width: 4.5}, {Title: "Claimed by", Width: 1.5}, {Title: "Date", Width: 1}},
		Empty: "No exception is claimed.", Note: "An exception changes no answer. Whether it holds the adopted text and the authority having jurisdiction say."}
	for i := range k.d.Claims {
		c := &k.d.Claims[i]
		if !slices.ContainsFunc(k.rooms, func(r codeRoom) bool { return r.ID == c.ID }) {
			continue
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{TextCell(c.Room), TextCell(c.Check), verdictCell(c.Verdict), TextCell(orDash(c.Exception)), TextCell(orDash(c.Name)), TextCell(orDash(c.Date))}})
	}
	return t
}

func (k *codeCheck) densities() Block {
	t := Table{Caption: "Lighting power, space method", Columns: []Column{{Title: "Room", Width: 2}, {Title: "Kind of space", Width: 2.2}, {Title: "Area", Align: Right, Width: 1.3}, {Title: "Allowed density", Align: Right, Width: 1.5}, {Title: "Allowance", Align: Right, Width: 1.2}, {Title: "Installed", Align: Right, Width: 1},
		{Title: "Density", Align: Right, Width: 1.5}, {Title: "Answer", Width: 1.3}, {Title: "What is short, or has to be known first", Width: 2.6}, {Title: "Clause", Width: 1.1}, {Title: "How sure", Width: 1.3}},
		Note: "A room may use more than its own allowance where the sum of all rooms leaves it."}
	for i := range k.rooms {
		r := &k.rooms[i]
		t.Rows = append(t.Rows, k.densityRow(&r.density, r.Label(), r.kind))
	}
	if len(t.Rows) > 1 || k.c.partial {
		total := k.densityRow(&k.d.Density, k.allRooms(), "")
		total.Total = true
		t.Rows = append(t.Rows, total)
	}
	return t
}

func (k *codeCheck) densityRow(r *energycode.DensityRow, name, kind string) Row {
	return Row{Cells: []Cell{TextCell(name), TextCell(orDash(kind)), TextCell(or(r.Area, notStated)), TextCell(orDash(r.Allowed)), TextCell(orDash(r.Allowance)), TextCell(or(r.Installed, notStated)),
		TextCell(orDash(r.Density)), verdictCell(r.Verdict), TextCell(orDash(r.Why)), TextCell(orDash(r.Clause)), TextCell(k.marks.short(r.Mark))}}
}

// checks is the table of all checks, room by room. Rooms of which everything printed is
// the same stand together; lighting power is left to its own table, since it differs with
// every area.
func (k *codeCheck) checks() Block {
	t := Table{Caption: "Checks by room", Columns: checkColumns(), Note: "The lighting power density of each room, which counts among its answers, stands in the table of lighting power."}
	for _, alike := range k.together(func(r *codeRoom) string { return fmt.Sprintf("%q", []any{r.kind, r.doubt, r.checks}) }) {
		r := alike[0]
		t.Rows = append(t.Rows, groupRow(labelsOf(alike)+": "+r.kind))
		if r.doubt != "" {
			t.Rows = append(t.Rows, groupRow("Daylight areas could not be drawn on the plan, so the window zones that the loads state were taken: "+r.doubt+"."))
		}
		t.Rows = append(t.Rows, k.roomRows(r)...)
	}
	return t
}

// together sorts rooms by what is printed of them, in the order in which the first of
// each kind comes.
func (k *codeCheck) together(printed func(*codeRoom) string) [][]*codeRoom {
	var out [][]*codeRoom
	at := map[string]int{}
	for i := range k.rooms {
		text := printed(&k.rooms[i])
		place, known := at[text]
		if !known {
			place, at[text] = len(out), len(out)
			out = append(out, nil)
		}
		out[place] = append(out[place], &k.rooms[i])
	}
	return out
}

// labelsOf names rooms: the one with its name, several by their numbers.
func labelsOf(rooms []*codeRoom) string {
	if len(rooms) == 1 {
		return rooms[0].Label()
	}
	var numbers []string
	for _, r := range rooms {
		numbers = append(numbers, r.Number)
	}
	return joined(numbers)
}

// roomRows are a room's checks; those that its kind of space is not asked at all share
// the last row.
func (k *codeCheck) roomRows(r *codeRoom) []Row {
	var out []Row
	free := energycode.Row{Requirement: "Not asked in this kind of space", Verdict: energycode.NotAsked}
	var titles, clauses, marks []string
	for i := range r.checks {
		row := &r.checks[i]
		if row.Duty != energycode.NotListed.Words() {
			out = append(out, k.checkRow(row))
			continue
		}
		titles = append(titles, row.Requirement)
		for c := range strings.SplitSeq(row.Clause, "; ") {
			clauses = appendNew(clauses, c)
		}
		marks = appendNew(marks, k.marks.short(row.Mark))
	}
	if titles == nil {
		return out
	}
	free.Required, free.Clause = strings.Join(titles, "; "), strings.Join(clauses, "; ")
	last := k.checkRow(&free)
	last.Cells[len(last.Cells)-1] = TextCell(strings.Join(marks, "; "))
	return append(out, last)
}

func appendNew(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}
