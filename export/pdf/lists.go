package pdf

import "scopewright/export/sheet"

func (s setter) facts(f sheet.Facts) grid {
	n := min(max(f.Columns, 1), 4)
	g := grid{whole: true, style: s.ordinary()}
	for range n {
		g.columns = append(g.columns, column{weight: 1}, column{weight: 2})
	}
	for i := 0; i < len(f.Items); i += n {
		var r row
		for k := range n {
			if i+k >= len(f.Items) {
				r.cells = append(r.cells, plain(""), plain(""))
				continue
			}
			r.cells = append(r.cells, faint(f.Items[i+k].Name), plain(f.Items[i+k].Value))
		}
		g.rows = append(g.rows, r)
	}
	return g
}

func (s setter) statements(b sheet.Statements) []*piece {
	if len(b.Items) == 0 {
		return s.lines(sheet.NoStatements, regular, bodySize*s.scale, gray, 0)
	}
	g := grid{whole: true, style: s.ordinary(), columns: []column{{weight: 1}, {weight: 13}}}
	sources := false
	for _, i := range b.Items {
		sources = sources || i.Source != ""
	}
	if sources {
		g.columns = append(g.columns, column{weight: 3})
	}
	for i, item := range b.Items {
		r := row{cells: []cell{strong(b.StatementID(i)), plain(item.Text)}}
		if sources {
			r.cells = append(r.cells, faint(item.Source))
		}
		g.rows = append(g.rows, r)
	}
	return s.grid(g)
}

func (s setter) findings(b sheet.Findings) []*piece {
	if len(b.Items) == 0 {
		return s.lines(sheet.NoFindings, regular, bodySize*s.scale, gray, 0)
	}
	g := grid{whole: true, style: s.ordinary(), headed: true, columns: titled(sheet.FindingColumns, 2, 4, 12)}
	for _, i := range b.Items {
		severity := strong(i.Severity.Word())
		severity.mark = i.Severity.Sign()
		severity.markColor = map[sheet.Severity]color{sheet.SeverityError: red, sheet.SeverityWarning: amber, sheet.SeverityInfo: accent}[i.Severity]
		text := plain(i.Text)
		if i.Waiver != "" {
			text.spans = append(text.spans, span{text: sheet.WaiverPrefix + " " + clean(i.Waiver), color: accent, face: bold, scale: 0.92})
		}
		g.rows = append(g.rows, row{cells: []cell{severity, faint(i.Rule), text}})
	}
	return s.grid(g)
}

func (s setter) checklist(b sheet.Checklist) []*piece {
	if len(b.Items) == 0 {
		return s.lines(sheet.NoChecks, regular, bodySize*s.scale, gray, 0)
	}
	g := grid{whole: true, style: s.ordinary(), headed: true, columns: titled(sheet.ChecklistColumns, 1, 2.2, 6, 2, 4, 4)}
	for _, i := range b.Items {
		verdict := strong(i.PrintedVerdict())
		if i.Verdict == "" {
			verdict = faint(i.PrintedVerdict())
			verdict.mark = "□"
		}
		g.rows = append(g.rows, row{cells: []cell{faint(i.Number), plain(i.Subject), plain(i.Text), verdict, plain(i.Comment), plain(i.Answer)}})
	}
	return s.grid(g)
}

func titled(titles []string, weights ...float64) []column {
	out := make([]column, len(titles))
	for i, t := range titles {
		out[i] = column{title: t, weight: weights[i]}
	}
	return out
}

func (s setter) legend(b sheet.Legend) grid {
	g := grid{whole: true, style: s.ordinary(), columns: []column{{weight: 1}, {weight: 9}}}
	for _, i := range b.Items {
		g.rows = append(g.rows, row{cells: []cell{strong(i.Symbol), plain(i.Meaning)}})
	}
	return g
}

func (s setter) index(b sheet.Index) grid {
	g := grid{whole: true, style: s.ordinary(), headed: true, columns: titled(sheet.IndexColumns, 2, 10, 1)}
	g.columns[2].align = sheet.Right
	for _, i := range b.Items {
		number := plain(i.Page)
		number.pageOf = i.Number
		g.rows = append(g.rows, row{cells: []cell{strong(i.Number), plain(i.Title), number}})
	}
	return g
}
