// Package sheettest builds sheets for the tests of the renderers, as domaintest does
// for rooms. Everything in it is invented.
package sheettest

import (
	"fmt"
	"strings"

	"scopewright/export/sheet"
)

const caution = "Advice for design only. Mains wiring, emergency and egress lighting follow the local code and are the work of licensed people."

// Head is the title block of the invented building.
func Head(room string) sheet.TitleBlock {
	return sheet.TitleBlock{
		Project: "Lindgrove Learning House", ProjectNumber: "INV-0042", Client: "Lindgrove School Board (invented)",
		Address: "1 Example Way, Sampleton", Building: "Main house", Storey: "Level 2", Room: room,
		Revision: "B", Date: "2026-03-01", Purpose: "for construction", Designer: "D. Sample", Checker: "C. Sample",
		Reviewer: "R. Sample", Units: "US customary", Hash: "3f9a 1c07", Invented: true, Caution: caution,
	}
}

// AllBlocks is a document of two sheets, a cover and a room, that holds each kind of block.
func AllBlocks() sheet.Document {
	cover := sheet.Sheet{ID: "cover", Number: "C-000", Title: "Controls scope: cover", Head: Head("")}
	cover.Blocks = []sheet.Block{
		sheet.Heading{Level: 1, Text: "Lighting controls scope"},
		sheet.Paragraph{Text: "One sheet a room: what is installed, what controls what, and what happens when. Façade, Größe, Ελληνικά and Кириллица print as they are."},
		sheet.Index{Items: []sheet.IndexLine{
			{Number: "C-000", Title: "Controls scope: cover", Page: "1"},
			{Number: "C-214", Title: "Room 214: classroom", Page: "2"},
		}},
		sheet.Legend{Items: []sheet.LegendItem{
			{Symbol: "●", Meaning: "input acts on the load"},
			{Symbol: "→", Meaning: "leads to"},
			{Symbol: "≤ 80 %", Meaning: "share of the rating that is used"},
		}},
		sheet.Drawing{Caption: "Plan of room 214", View: plan(), Height: 110, Note: "1 device has no place on the plan yet."},
	}
	return sheet.Document{Title: "Lindgrove Learning House, controls scope", Sheets: []sheet.Sheet{cover, roomSheet()}}
}

func roomSheet() sheet.Sheet {
	s := sheet.Sheet{ID: "room-214", Number: "C-214", Title: "Room 214: classroom", Head: Head("214 Classroom")}
	s.Blocks = []sheet.Block{
		sheet.Heading{Level: 1, Text: "Room"},
		sheet.Facts{Columns: 3, Items: []sheet.Fact{
			{Name: "Area", Value: "807 ft²"}, {Name: "Ceiling", Value: "9 ft 6 in"}, {Name: "Use", Value: "classroom"},
			{Name: "Follows", Value: "typical classroom, two exceptions"}, {Name: "Windows", Value: "yes"}, {Name: "Seats", Value: "32"},
		}},
		sheet.Heading{Level: 1, Text: "Devices and loads"},
		devices(5),
		loads(),
		sheet.Heading{Level: 1, Text: "Who controls what"},
		Matrix(5, 4),
		sheet.Heading{Level: 2, Text: "Scenes"},
		scenes(4),
		sheet.Heading{Level: 1, Text: "Sequence of operations"},
		statements(5),
		sheet.Heading{Level: 1, Text: "Findings"},
		sheet.Findings{Items: []sheet.FindingLine{
			{Severity: sheet.SeverityError, Rule: "power-output-rating", Text: "Output 1 of C1 carries 14.2 A; 80 % of its 16 A is 12.8 A."},
			{Severity: sheet.SeverityWarning, Rule: "presence-area", Text: "One sensor for 807 ft², 500 ft² is common.", Waiver: "Two seats stay dark by wish of the owner (R. Sample, 2026-02-20)"},
			{Severity: sheet.SeverityInfo, Rule: "capacity-battery", Text: "Replace the cell of S2 by 2031-03."},
		}},
		sheet.Checklist{Items: []sheet.CheckLine{
			{Number: "17", Subject: "Sight", Text: "Every seat is seen by a sensor, partitions considered", Verdict: "agree", Comment: "walked on the plan"},
			{Number: "31", Subject: "Control", Text: "Each load has a way on and a way off", Verdict: "object", Comment: "board light has no way off", Answer: "button 4 added"},
			{Number: "44", Subject: "Power", Text: "Circuits loaded to at most 80 %"},
		}},
		sheet.Signatures{Items: []sheet.Signature{
			{Role: "Designer", Name: "D. Sample", Date: "2026-03-01", State: "valid"},
			{Role: "Reviewer", Name: "R. Sample", Date: "2026-02-12", State: "stale: the room changed since"},
			{Role: "Owner"},
		}},
		sheet.Caution{Title: "Egress lighting", Text: "Load L4 is part of the egress path. Nothing on this sheet may switch it off; the local code decides."},
		sheet.PageBreak{},
		sheet.BigText{Text: "Press button 1 when you come in. Lights go off by themselves 15 minutes after the last person left."},
		sheet.Buttons{Station: "S1 four-button station", Where: "by the corridor door, 48 in above the floor", Items: []sheet.ButtonLine{
			{Number: 1, Label: "Teach", Action: "all rows 80 %, board 100 %"},
			{Number: 2, Label: "Screen", Action: "front row off, rear rows 40 %"},
			{Number: 3, Label: "Raise", Action: "one step brighter"},
			{Number: 4, Label: "Off", Action: "everything off but egress"},
		}},
		sheet.Paragraph{Text: "Without server or network the buttons and sensors of the room go on working.", Strong: true},
		sheet.Table{Caption: "Receptacle loads", Columns: []sheet.Column{{Title: "Tag"}, {Title: "Where"}}, Empty: "This room has no receptacle loads."},
	}
	return s
}

func devices(n int) sheet.Table {
	t := sheet.Table{Caption: "Devices", Columns: []sheet.Column{
		{Title: "Tag", Width: 1}, {Title: "Type", Width: 4}, {Title: "Mounting", Width: 3}, {Title: "Height", Unit: "in", Kind: sheet.Number, Width: 1.2},
		{Title: "Supply", Width: 1.5}, {Title: "Parent", Width: 1.2}, {Title: "Settings", Width: 4},
	}, Note: "Heights above finished floor."}
	types := []string{"two-output controller", "ceiling presence sensor, infrared", "four-button station", "daylight sensor"}
	for i := range n {
		height := sheet.NumberCell(float64(48+7*(i%9)), 0)
		row := sheet.Row{Cells: []sheet.Cell{
			sheet.TextCell(fmt.Sprintf("D%d", i+1)), sheet.TextCell(types[i%len(types)]), sheet.TextCell("ceiling, grid tile"), height,
			sheet.TextCell([]string{"mains", "battery"}[i%2]), sheet.TextCell("D1"), sheet.TextCell("delay 15 min, sensitivity medium"),
		}}
		switch i {
		case 1:
			row.Cells[6] = row.Cells[6].Marked(sheet.Exception)
			row.Changed = 2
		case 2:
			row.Cells[3] = row.Cells[3].Marked(sheet.Changed)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func loads() sheet.Table {
	t := sheet.Table{Caption: "Loads", Columns: []sheet.Column{
		{Title: "Tag"}, {Title: "Luminaires"}, {Title: "Count", Kind: sheet.Number}, {Title: "Power", Unit: "W", Kind: sheet.Number},
		{Title: "Current", Unit: "A", Kind: sheet.Number}, {Title: "Circuit"}, {Title: "Output"}, {Title: "Dimming"}, {Title: "Egress", Align: sheet.Center},
	}}
	t.Rows = append(t.Rows, sheet.Row{Group: true, Cells: []sheet.Cell{sheet.TextCell("Panel LP-2A")}})
	total := 0.0
	for i := range 6 {
		power := 38.4 * float64(4+i)
		total += power
		current := sheet.NumberCell(power/277, 2)
		if i == 3 {
			current = current.Marked(sheet.Error)
		}
		t.Rows = append(t.Rows, sheet.Row{Cells: []sheet.Cell{
			sheet.TextCell(fmt.Sprintf("L%d", i+1)), sheet.TextCell("linear pendant, type A"), sheet.NumberCell(float64(4+i), 0),
			sheet.NumberCell(power, 1), current, sheet.TextCell(fmt.Sprintf("%d", 11+2*i)),
			sheet.TextCell(fmt.Sprintf("C1.%d", i+1)), sheet.TextCell("0-10 V").Marked([]sheet.Mark{sheet.Plain, sheet.Warning}[i/5]), sheet.TextCell([]string{"–", "yes"}[i/4%2]),
		}})
	}
	t.Rows = append(t.Rows, sheet.Row{Total: true, Cells: []sheet.Cell{
		sheet.TextCell("Total"), {}, sheet.NumberCell(39, 0), sheet.NumberCell(total, 1), sheet.NumberCell(total/277, 2), {}, {}, {}, {},
	}})
	return t
}

// Matrix is who-controls-what with as many inputs and loads as asked for.
func Matrix(inputs, loads int) sheet.Table {
	t := sheet.Table{Caption: "Control matrix", Columns: []sheet.Column{{Title: "Input"}}, Note: "● acts on the load, – does not."}
	for i := range loads {
		t.Columns = append(t.Columns, sheet.Column{Title: fmt.Sprintf("L%d %s", i+1, []string{"window row", "middle row", "board", "corridor side"}[i%4]), Align: sheet.Center})
	}
	for r := range inputs {
		row := sheet.Row{Cells: []sheet.Cell{sheet.TextCell(fmt.Sprintf("S%d button %d", 1+r/4, 1+r%4))}}
		for c := range loads {
			row.Cells = append(row.Cells, sheet.TextCell([]string{"●", "–", "80 %"}[(r+c)%3]))
		}
		if r == 2 {
			row.Cells[1] = row.Cells[1].Marked(sheet.Waived)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func scenes(n int) sheet.Table {
	t := sheet.Table{Caption: "Scene levels", Columns: []sheet.Column{{Title: "Scene"}, {Title: "Fade", Unit: "s", Kind: sheet.Number}}}
	for i := range 6 {
		t.Columns = append(t.Columns, sheet.Column{Title: fmt.Sprintf("L%d", i+1), Unit: "%", Kind: sheet.Number})
	}
	for r := range n {
		row := sheet.Row{Cells: []sheet.Cell{sheet.TextCell([]string{"Teach", "Screen", "Group work", "Clean"}[r%4]), sheet.NumberCell(2.5, 1)}}
		for c := range 6 {
			row.Cells = append(row.Cells, sheet.NumberCell(float64((r*20+c*15)%101), 0))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func statements(n int) sheet.Statements {
	var s sheet.Statements
	for i := range n {
		s.Items = append(s.Items, sheet.Statement{
			ID:     fmt.Sprintf("P-%d", i+1),
			Text:   "When no presence is seen for 15 minutes, loads L1 to L3 fade to off within 5 seconds; the egress load L4 stays as it is.",
			Source: "intent presence",
		})
	}
	return s
}

// Set is an issue set of as many room sheets as asked for, each with 20 devices, 6 loads,
// a matrix, scenes and 12 statements, behind a cover with an index.
func Set(rooms int) sheet.Document {
	index := sheet.Index{}
	doc := sheet.Document{Title: "Invented issue set", Sheets: []sheet.Sheet{{}}}
	for i := range rooms {
		number, title := fmt.Sprintf("C-%03d", 101+i), fmt.Sprintf("Room %d: classroom", 101+i)
		index.Items = append(index.Items, sheet.IndexLine{Number: number, Title: title})
		doc.Sheets = append(doc.Sheets, sheet.Sheet{
			ID: fmt.Sprintf("room-%d", 101+i), Number: number, Title: title, Head: Head(fmt.Sprintf("%d Classroom", 101+i)),
			Blocks: []sheet.Block{
				sheet.Facts{Columns: 3, Items: []sheet.Fact{{Name: "Area", Value: "807 ft²"}, {Name: "Ceiling", Value: "9 ft 6 in"}, {Name: "Use", Value: "classroom"}}},
				sheet.Heading{Level: 1, Text: "Devices"}, devices(20),
				sheet.Heading{Level: 1, Text: "Loads"}, loads(),
				sheet.Heading{Level: 1, Text: "Who controls what"}, Matrix(10, 6), scenes(6),
				sheet.Heading{Level: 1, Text: "Sequence of operations"}, statements(12),
			},
		})
	}
	doc.Sheets[0] = sheet.Sheet{ID: "cover", Number: "C-000", Title: "Cover", Head: Head(""), Blocks: []sheet.Block{index}}
	return doc
}

// Hostile is a sheet that tries to print outside the paper: a matrix of 40 inputs by 30
// loads, words of 300 characters without a gap, a row taller than a page.
func Hostile() sheet.Document {
	long := strings.Repeat("Übergröße", 34)[:300]
	long = strings.ToValidUTF8(long, "")
	head := Head(long)
	head.Project, head.Client, head.Caution = long, long, long+" "+caution
	tall := sheet.Table{Caption: long, Columns: []sheet.Column{{Title: long, Unit: long}, {Title: "Note", Width: 1}, {Title: "Number", Kind: sheet.Number}}, Note: long}
	tall.Rows = []sheet.Row{
		{Cells: []sheet.Cell{sheet.TextCell(long), sheet.TextCell(strings.Repeat("a line that goes on and on, ", 600) + "to its end"), sheet.NumberCell(123456789.123456789, 9)}, Changed: 12},
		{Group: true, Cells: []sheet.Cell{sheet.TextCell(long)}},
	}
	return sheet.Document{Title: long, Sheets: []sheet.Sheet{{
		ID: "hostile", Number: "C-" + long[:40], Title: long, Head: head,
		Blocks: []sheet.Block{
			sheet.Heading{Level: 1, Text: long}, sheet.Paragraph{Text: long}, Matrix(40, 30), tall,
			sheet.Facts{Columns: 4, Items: []sheet.Fact{{Name: long, Value: long}, {Name: "b", Value: long}}},
			sheet.Statements{Items: []sheet.Statement{{ID: long[:60], Text: long, Source: long}}},
			sheet.Findings{Items: []sheet.FindingLine{{Severity: sheet.SeverityError, Rule: long, Text: long, Waiver: long}}},
			sheet.Buttons{Station: long, Where: long, Items: []sheet.ButtonLine{{Number: 12, Label: long, Action: long}}},
			sheet.Checklist{Items: []sheet.CheckLine{{Number: "1", Subject: long, Text: long, Verdict: long, Comment: long, Answer: long}}},
			sheet.Signatures{Items: []sheet.Signature{{Role: long, Name: long, Date: long, State: long}}},
			sheet.Caution{Title: long, Text: long}, sheet.Legend{Items: []sheet.LegendItem{{Symbol: long, Meaning: long}}},
			sheet.Index{Items: []sheet.IndexLine{{Number: long, Title: long, Page: long}}}, sheet.BigText{Text: long},
		},
	}}}
}
