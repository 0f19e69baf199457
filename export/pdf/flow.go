package pdf

// piece is the smallest thing that the flow places: a line, a row, a box.
type piece struct {
	height float64
	before float64 // gap above, dropped at the top of a page
	keep   bool    // stays on the page of the next piece
	turn   bool    // starts a new page
	header *header // what must stand above the piece on each page it reaches
	draw   func(p *page, x, y float64)
	// split cuts a piece taller than a page at the given height; nil cannot be cut.
	split func(room float64) (head, tail *piece)
}

// header is the head of a table; it is drawn again after each page break.
type header struct {
	height float64
	again  float64 // height after the first time, when it also names the table
	draw   func(p *page, x, y float64, continued bool)
	drawn  bool
}

func (h *header) need() float64 {
	if h.drawn {
		return h.again
	}
	return h.height
}

// area is where a page's pieces go.
type area struct{ left, top, right, bottom float64 }

func (a area) height() float64 { return a.bottom - a.top }

// flow fills pages with pieces. open makes the next page and says where its pieces go.
type flow struct {
	open   func(number int) (*page, area)
	pages  []*page
	page   *page
	area   area
	y      float64
	header *header
}

func (f *flow) turn() {
	f.page, f.area = f.open(len(f.pages) + 1)
	f.pages = append(f.pages, f.page)
	f.y, f.header = f.area.top, nil
}

func (f *flow) atTop() bool { return f.header == nil && f.y == f.area.top }

// place flows all pieces. A chain of kept pieces moves to the next page as one, unless
// it is taller than a page.
func (f *flow) place(pieces []*piece) {
	f.turn()
	for i := 0; i < len(pieces); {
		if pieces[i].turn {
			if !f.atTop() {
				f.turn()
			}
			i++
			continue
		}
		end := i + 1
		for end < len(pieces) && pieces[end-1].keep && !pieces[end].turn {
			end++
		}
		if !f.atTop() && f.y+f.chainHeight(pieces[i:end]) > f.area.bottom {
			f.turn()
		}
		for _, p := range pieces[i:end] {
			f.put(p)
		}
		i = end
	}
}

func (f *flow) chainHeight(chain []*piece) float64 {
	sum, head := 0.0, f.header
	for _, p := range chain {
		sum += p.before + p.height
		if p.header != nil && p.header != head {
			sum += p.header.need()
		}
		head = p.header
	}
	return sum
}

// put places one piece, on the next page if it must be, in parts if it is taller than a page.
func (f *flow) put(p *piece) {
	const hair = 0.01 // rounding must not turn a page
	need := p.height + f.headerHeight(p)
	if f.y+p.before+need > f.area.bottom+hair && !f.atTop() {
		room := f.area.bottom - f.y - p.before - f.headerHeight(p)
		tooTall := need > f.area.height()
		if !tooTall || !f.putHead(&p, room) {
			f.turn()
		}
	}
	for p.height+f.headerHeight(p) > f.area.height()+hair && f.atTop() {
		if !f.putHead(&p, f.area.height()-f.headerHeight(p)) {
			break
		}
	}
	f.draw(p)
}

// putHead places what fits of a piece, turns the page and leaves the rest in p.
func (f *flow) putHead(p **piece, room float64) bool {
	if (*p).split == nil {
		return false
	}
	head, tail := (*p).split(room)
	if head == nil || tail == nil {
		return false
	}
	f.draw(head)
	f.turn()
	*p = tail
	return true
}

func (f *flow) headerHeight(p *piece) float64 {
	if p.header == nil || p.header == f.header {
		return 0
	}
	return p.header.need()
}

func (f *flow) draw(p *piece) {
	if !f.atTop() {
		f.y += p.before
	}
	if p.header != nil && p.header != f.header {
		need := p.header.need()
		p.header.draw(f.page, f.area.left, f.y, p.header.drawn)
		p.header.drawn = true
		f.y += need
	}
	f.header = p.header
	p.draw(f.page, f.area.left, f.y)
	f.y += p.height
}
