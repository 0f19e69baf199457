package sheettest

import (
	"scopewright/export/drawing"
	"scopewright/export/sheet"
)

// Charts has a chart of bars with a long name, and one of a day.
func Charts() sheet.Document {
	series := []drawing.Series{{Name: "lamps", Pattern: drawing.Filled}, {Name: "standby", Pattern: drawing.Hatched}, {Name: "saved", Pattern: drawing.Hollow}}
	bars := &drawing.Bars{Title: "Energy by storey", Unit: "kWh/yr", Series: series, Rows: []drawing.Bar{
		{Name: "Main house, Level 1", Values: []float64{900, 120, 300}, Text: "1020 kWh"}, {Name: "Level 2", Values: []float64{400, 20, 0}, Text: "420 kWh"}}}
	day := &drawing.Day{Title: "An average day", Unit: "kW", Series: series[:2], ShareName: "people in"}
	for h := range day.Columns {
		day.Columns[h], day.Share[h] = []float64{float64(h) / 40, 0.1}, float64(h)/24
	}
	return sheet.Document{Title: "Charts", Sheets: []sheet.Sheet{{ID: "charts", Number: "EL-617", Title: "Charts", Head: Head(""), Blocks: []sheet.Block{
		sheet.Chart{Caption: "Energy of a year", Chart: bars, Note: "The numbers stand in the table."}, sheet.Chart{Chart: day}, sheet.Paragraph{Text: "After the charts."}}}}}
}
