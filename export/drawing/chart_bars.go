package drawing

// Bars is a chart of bars that lie one under the other, each of parts that follow
// each other. A part below zero is not drawn: the bar's text says what there is.
type Bars struct {
	Title, Unit string
	Series      []Series
	Rows        []Bar
}

// Bar is one bar with a value for each series. Text stands at its end.
type Bar struct {
	Name   string
	Values []float64
	Text   string
}

// Words lists what the picture says.
func (b *Bars) Words() []string {
	out := []string{b.Unit}
	for _, s := range b.Series {
		out = append(out, s.Name)
	}
	for i := range b.Rows {
		out = append(out, b.Rows[i].Name, b.Rows[i].Text)
	}
	return out
}

func (b *Bar) sum() (sum float64) {
	for _, v := range b.Values {
		sum += max(0, v)
	}
	return sum
}

// Picture draws the bars:
//
//	# lamps  / standby  ; saved
//	Level 1  |######//;;;;  1,200
//	Level 2  |###//;;        700
//	         0    500   1000  kWh/yr
func (b *Bars) Picture(width float64) *Picture {
	c := &canvas{}
	top := c.legend(width, b.Series)
	names, ends, most := 0.0, 0.0, 0.0
	for i := range b.Rows {
		names, ends = max(names, textWidth(b.Rows[i].Name, chartText, false)), max(ends, textWidth(b.Rows[i].Text, chartText, false))
		most = max(most, b.Rows[i].sum())
	}
	names = min(names, max(width*0.36, width*0.65-ends)) // where the texts are short, names may be long
	left, right := names+chartGap, width-min(ends, width*0.45)-chartGap
	step, n := ticks(most, max(2, int((right-left)/18)))
	per := (right - left) / (step * float64(n))
	bottom := top + chartRow*float64(len(b.Rows))
	for i := range n + 1 {
		x := left + per*step*float64(i)
		c.line(StyleAround, Point{X: x, Y: top}, Point{X: x, Y: bottom})
		c.text(x, bottom+chartText*1.2, tickText(step*float64(i)), Middle, StyleSoft)
	}
	c.text(width, bottom+chartText*1.2, b.Unit, End, StyleSoft)
	for i := range b.Rows {
		b.row(c, &b.Rows[i], left, top+chartRow*float64(i), names, per)
	}
	c.line(StyleFrame, Point{X: left, Y: top}, Point{X: left, Y: bottom})
	return c.picture(b.Title, width, bottom+chartText*1.8)
}

func (b *Bars) row(c *canvas, bar *Bar, left, y, names, per float64) {
	base := y + (chartRow+chartText*0.7)/2
	c.text(names, base, cutTo(bar.Name, chartText, names), End, StyleText)
	x := left
	for k, v := range bar.Values {
		if v > 0 {
			c.field(x, y+(chartRow-chartBar)/2, v*per, chartBar, b.Series[k].Pattern)
			x += v * per
		}
	}
	c.text(x+chartGap/2, base, bar.Text, Start, StyleText)
}
