package pdf

import "scopewright/export/sheet"

// signatures sets boxes to sign in, as many side by side as stay wide enough to write in.
func (s setter) signatures(b sheet.Signatures) []*piece {
	const least, space = 55.0, 3.0
	across := max(1, min(len(b.Items), int((s.width+space)/(least+space))))
	width := (s.width - space*float64(across-1)) / float64(across)
	var pieces []*piece
	for i := 0; i < len(b.Items); i += across {
		pieces = append(pieces, s.signatureRow(b.Items[i:min(i+across, len(b.Items))], width, space))
	}
	for _, p := range pieces {
		p.before = space
	}
	return pieces
}

// signatureBox is one box with its lines broken.
type signatureBox struct{ role, name, date, state []string }

func (s setter) signatureRow(items []sheet.Signature, width, space float64) *piece {
	const pad = 2.0
	inner := width - 2*pad
	name, small := 9*s.scale, 6.5*s.scale
	boxes, lines := make([]signatureBox, len(items)), signatureBox{}
	tallest := func(a, b []string) []string {
		if len(b) > len(a) {
			return b
		}
		return a
	}
	for i, it := range items {
		boxes[i] = signatureBox{
			role: s.few(it.Role, bold, bodySize*s.scale, inner), name: s.few(it.Name, regular, name, inner-11),
			date: s.few(it.Date, regular, name, inner-11), state: s.few(it.State, bold, 7*s.scale, inner),
		}
		lines.role, lines.name = tallest(lines.role, boxes[i].role), tallest(lines.name, boxes[i].name)
		lines.date, lines.state = tallest(lines.date, boxes[i].date), tallest(lines.state, boxes[i].state)
	}
	step := name * mmPerPoint * 1.35
	nameTop := pad + float64(max(1, len(lines.role)))*step + 3
	dateTop := nameTop + float64(max(1, len(lines.name)))*step + 3
	stateTop := dateTop + float64(max(1, len(lines.date)))*step + 1.5
	height := stateTop + float64(max(1, len(lines.state)))*step + 0.5
	return &piece{height: height, draw: func(p *page, x, y float64) {
		for i, box := range boxes {
			left := x + float64(i)*(width+space)
			p.rect(left, y, width, height, 0.2, ink)
			draw := func(lines []string, dx, top float64, f face, size float64, c color) {
				for k, l := range lines {
					p.text(left+pad+dx, y+top+float64(k)*step+size*mmPerPoint, l, f, size, c)
				}
			}
			draw(box.role, 0, pad-0.5, bold, bodySize*s.scale, ink)
			draw([]string{sheet.SignatureLines[0]}, 0, nameTop+0.8, regular, small, gray)
			draw(box.name, 11, nameTop, regular, name, ink)
			draw([]string{sheet.SignatureLines[1]}, 0, dateTop+0.8, regular, small, gray)
			draw(box.date, 11, dateTop, regular, name, ink)
			draw(box.state, 0, stateTop, bold, 7*s.scale, accent)
			for _, foot := range []float64{dateTop - 2.4, stateTop - 0.9} {
				p.line(left+pad+11, y+foot, left+width-pad, y+foot, 0.15, gray)
			}
		}
	}}
}

// few breaks a text into at most eight lines; a box to sign in is no place for more.
func (s setter) few(text string, f face, size, width float64) []string {
	if text == "" {
		return nil
	}
	const most = 8
	lines := s.t.wrap(clean(text), f, size, width)
	if len(lines) > most {
		lines = lines[:most]
		lines[most-1] = s.t.shorten(lines[most-1]+"…", f, size, width)
	}
	return lines
}
