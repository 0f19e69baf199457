package drawing

// Mark is a place with a number or letter, for a table that tells of it.
type Mark struct {
	At   Point // meters
	Text string
}

// Size of marks on paper, in millimeters: seats of one row stay apart at 1:200.
const (
	markRadius = 1.6
	markText   = 1.8
)

// marks come before devices, whose symbols stand aside of them where they spread.
func (b *board) marks() {
	for i := range b.v.opt.Marks {
		m := &b.v.opt.Marks[i]
		if !m.At.Finite() || !b.window.Contains(m.At) {
			continue
		}
		at := b.paper(m.At)
		box := boxAround(at, Point{X: 2 * markRadius, Y: 2 * markRadius})
		b.taken.add(box, weightSymbol)
		b.symbols.add(box, 1)
		b.add(Item{Layer: LayerNames, Class: "mark", Title: m.Text, Shapes: []Shape{Disc{at, markRadius, StyleLuminaire},
			Text{At: at.Add(Point{Y: markText * 0.36}), Text: m.Text, Size: markText, Anchor: Middle, Bold: true, Style: StyleText}}})
	}
}
