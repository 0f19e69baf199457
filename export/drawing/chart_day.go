package drawing

import "fmt"

// Day is a chart of the 24 hours of a day: a column an hour of parts that stand on
// each other, and a line over them for a share of the hour, 0 to 1.
type Day struct {
	Title, Unit string
	Series      []Series
	Columns     [24][]float64
	Share       [24]float64
	ShareName   string
}

// Words lists what the picture says.
func (d *Day) Words() []string {
	out := []string{d.Unit, d.ShareName}
	for _, s := range d.Series {
		out = append(out, s.Name)
	}
	return out
}

// dayHeight is that of the field of columns, millimeters.
const dayHeight = 34.0

// Picture draws the day.
func (d *Day) Picture(width float64) *Picture {
	c := &canvas{}
	top := c.legend(width, d.Series)
	c.line(StyleRoomLine, Point{X: 0, Y: top + chartText/2}, Point{X: chartSwatch, Y: top + chartText/2})
	c.shapes = append(c.shapes, Disc{At: Point{X: chartSwatch / 2, Y: top + chartText/2}, Radius: 0.6, Style: StyleBar})
	c.text(chartSwatch+1, top+chartText*0.88, d.ShareName, Start, StyleText)
	top += chartText * 3
	most := 0.0
	for _, column := range d.Columns {
		sum := 0.0
		for _, v := range column {
			sum += max(0, v)
		}
		most = max(most, sum)
	}
	step, n := ticks(most, 5)
	left, right := textWidth(tickText(step*float64(n)), chartText, false)+5, width-9
	bottom := top + dayHeight
	for i := range n + 1 {
		y := bottom - dayHeight*float64(i)/float64(n)
		c.line(StyleAround, Point{X: left, Y: y}, Point{X: right, Y: y})
		c.text(left-1, y+chartText*0.35, tickText(step*float64(i)), End, StyleSoft)
	}
	c.text(0, top-chartText*0.9, d.Unit, Start, StyleSoft)
	for i, percent := range []string{"0", "50", "100 %"} {
		c.text(right+1, bottom-dayHeight*float64(i)/2+chartText*0.35, percent, Start, StyleSoft)
	}
	d.columns(c, left, (right-left)/24, bottom, dayHeight/(step*float64(n)))
	c.line(StyleFrame, Point{X: left, Y: bottom}, Point{X: right, Y: bottom})
	return c.picture(d.Title, width, bottom+chartText*2)
}

// columns draws the hours, each as wide as given, and the line over them.
func (d *Day) columns(c *canvas, left, hour, bottom, per float64) {
	var line []Point
	for h := range 24 {
		x, y := left+hour*float64(h), bottom
		for k, v := range d.Columns[h] {
			if v > 0 {
				c.field(x+hour*0.12, y-v*per, hour*0.76, v*per, d.Series[k].Pattern)
				y -= v * per
			}
		}
		line = append(line, Point{X: x + hour/2, Y: bottom - dayHeight*d.Share[h]})
		if h%3 == 0 {
			c.text(x, bottom+chartText*1.3, fmt.Sprintf("%02d:00", h), Middle, StyleSoft)
		}
	}
	c.line(StyleRoomLine, line...)
	for _, p := range line {
		c.shapes = append(c.shapes, Disc{At: p, Radius: 0.5, Style: StyleBar})
	}
}
