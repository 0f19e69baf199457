package room

import (
	"strings"

	"github.com/a-h/templ"

	"scopewright/domain"
	"scopewright/web/ui"
)

// rowComponent brings the row that a path names: "devices/d7", or for a cell
// of the matrix its input's row and the ways on and off at the foot.
func (b *bench) rowComponent(path string) templ.Component {
	where, id, _ := strings.Cut(path, "/")
	switch where {
	case "loads":
		if l := b.design.Load(domain.ID(id)); l != nil {
			return ui.GridRowPart(nil, b.loadRow(l))
		}
	case "devices":
		if d := b.design.Device(domain.ID(id)); d != nil {
			return ui.GridRowPart(nil, b.deviceRow(d))
		}
	case "links":
		return b.matrixRowComponent(domain.ID(id))
	case "intents":
		if s, ok := b.statementOf(domain.ID(id)); ok {
			return templ.Join(statementPart(b, s), b.feetPart())
		}
	}
	return templ.NopComponent
}

func (b *bench) matrixRowComponent(link domain.ID) templ.Component {
	for _, in := range domain.MatrixRows(b.project, b.design, b.holds) {
		if !strings.HasPrefix(string(link), string(domain.LinkID(in.Device, in.Button, in.On, ""))) {
			continue
		}
		row := ui.GridRowPart(nil, b.matrixRow(in, b.linkTexts()))
		return templ.Join(row, b.feetPart())
	}
	return templ.NopComponent
}

// feetPart brings the ways on and off at the foot of the matrix anew.
func (b *bench) feetPart() templ.Component {
	return ui.GridFootPart(ui.Grid{ID: "grid-matrix", Foot: []ui.GridRow{b.pathsFoot()}})
}
