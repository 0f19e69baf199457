package drawing

func (s *svg) shape(shape Shape) {
	switch v := shape.(type) {
	case Area:
		s.str("<path")
		s.style(v.Style)
		if len(v.Rings) > 1 {
			s.str(` fill-rule="evenodd"`)
		}
		s.str(` d="`)
		for _, ring := range v.Rings {
			s.run(ring)
			s.str("Z")
		}
		s.str(`"/>`)
	case Line:
		s.str("<path")
		s.style(v.Style)
		s.str(` d="`)
		s.run(v.Points)
		s.str(`"/>`)
	case Disc:
		s.str("<circle")
		s.style(v.Style)
		s.attr("cx", v.At.X)
		s.attr("cy", v.At.Y)
		s.attr("r", v.Radius)
		s.str("/>")
	case Text:
		s.letters(v)
	case Symbol:
		s.symbol(v)
	}
}

func (s *svg) run(points []Point) {
	for i, p := range points {
		if i == 0 {
			s.str("M")
		} else {
			s.str("L")
		}
		s.num(p.X)
		s.str(" ")
		s.num(p.Y)
	}
}

func (s *svg) letters(t Text) {
	s.str("<text")
	s.style(t.Style)
	s.attr("x", t.At.X)
	s.attr("y", t.At.Y)
	s.attr("font-size", t.Size)
	if usual := s.usualAnchor(); t.Anchor != usual {
		s.str(` text-anchor="`, string(t.Anchor), `"`)
	}
	if t.Bold {
		s.str(` font-weight="700"`)
	}
	if t.Turn != 0 {
		s.turn(t.Turn, t.At)
	}
	s.str(">", escaped(t.Text), "</text>")
}

// usualAnchor is that of texts that say none: plan.css sets the middle, SVG
// itself starts at the place.
func (s *svg) usualAnchor() Anchor {
	if s.opt.Screen {
		return Middle
	}
	return Start
}

// symbol writes its plain shapes. A definition that each symbol points at would
// be shorter, but every use of one is a layer of its own to the browser: it then
// took 12 ms a frame to put a storey of 3,000 devices together.
func (s *svg) symbol(v Symbol) {
	for _, part := range v.parts() {
		s.shape(part)
	}
}

func (s *svg) style(style Style) {
	if s.opt.Screen {
		s.str(` class="`, string(style), `"`)
		return
	}
	look := style.Look()
	s.str(` fill="`)
	if look.Solid {
		s.str(hex(look.Fill))
	} else {
		s.str("none")
	}
	s.str(`"`)
	if look.Pen > 0 {
		s.str(` stroke="`, hex(look.Line), `"`)
		s.attr("stroke-width", look.Pen)
	}
	if look.Dash > 0 {
		s.attr("stroke-dasharray", look.Dash)
	}
}

func hex(c RGB) string {
	const digits = "0123456789abcdef"
	out := []byte("#")
	for _, v := range c {
		out = append(out, digits[v>>4&15], digits[v&15])
	}
	return string(out)
}
