package intake

import (
	"bytes"
	"context"
	"fmt"
	"path"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
	"scopewright/store/intake/building"
	"scopewright/store/intake/dxf"
	"scopewright/store/intake/gbxml"
	"scopewright/store/intake/ifc"
	"scopewright/store/intake/match"
)

// mostModel is the largest model or drawing that is taken, in bytes.
const mostModel = 100 << 20

// modelFile is a building model or a drawing as it was read, with the answers
// that it was read by. It is not changed once made.
type modelFile struct {
	format   building.FileKind
	answers  answers
	contents *dxf.Contents   // of a drawing
	model    *building.Model // nil while a question is open
}

// answers are what the designer says of a file.
type answers struct {
	unit    string              // short name; "": as the file says
	layers  map[string]dxf.Role // of a drawing; nil: as suggested
	enclose units.Metres        // gap that closes walls into rooms; 0: none are made
	single  bool                // each line of a wall layer is a wall, also two that face each other
	fit     match.Choices
}

// lengthUnits are offered where a model leaves its unit open; a drawing brings
// its own list with the size that each would make it.
var lengthUnits = []struct {
	short, name string
	metres      float64
}{
	{"m", "meters", 1}, {"mm", "millimeters", 0.001}, {"cm", "centimeters", 0.01},
	{"ft", "feet", units.MetresPerFoot}, {"in", "inches", units.MetresPerInch},
}

// isModelKind tells the kinds of file that bring a plan.
func isModelKind(k building.FileKind) bool {
	switch k {
	case building.GBXMLFile, building.DXFFile, building.DXFBinary, building.IFCFile:
		return true
	}
	return false
}

// notAModel refuses kinds that no reader takes, where the first bytes say so.
func notAModel(k building.FileKind) error {
	switch k {
	case building.PDFFile:
		return building.Refuse("This is a PDF. A page of it goes beneath a storey in the browser; of a table, ask for .xlsx or CSV.")
	case building.DWGFile:
		return building.Refuse("%s", k.Sentence(building.DXFFile))
	case building.XMLFile, building.HTMLFile, building.GZIPFile:
		return building.Refuse("%s", k.Sentence(building.GBXMLFile))
	}
	return nil
}

func kindOf(data []byte) building.FileKind {
	return building.KindOf(data[:min(len(data), building.HeadSize)])
}

// readModel reads a file by the answers; known is what was read of it before,
// nil the first time. Where a question is still open, what it gives has no model.
func readModel(ctx context.Context, name string, data []byte, a answers, known *modelFile, progress building.Progress) (*modelFile, error) {
	f := &modelFile{format: kindOf(data), answers: a}
	if known != nil {
		f.contents = known.contents
	}
	var err error
	switch f.format {
	case building.GBXMLFile:
		f.model, err = gbxml.Read(ctx, bytes.NewReader(data), int64(len(data)), gbxml.Options{Unit: unitNamed(a.unit)}, progress)
	case building.IFCFile:
		f.model, err = ifc.Read(ctx, data, ifc.Options{Unit: a.unit}, progress)
	case building.DXFFile, building.DXFBinary:
		err = f.readDrawing(ctx, name, data, progress)
	default:
		err = building.Refuse("%s", f.format.Sentence(building.GBXMLFile))
	}
	if err != nil {
		return nil, err
	}
	return f, nil
}

func unitNamed(short string) building.Unit {
	for _, u := range lengthUnits {
		if u.short == short {
			return building.Unit{Name: u.name, Metres: u.metres, Sure: true}
		}
	}
	return building.Unit{}
}

// readDrawing looks at the layers first; rooms are read once it is clear which
// layers hold them and in which unit.
func (f *modelFile) readDrawing(ctx context.Context, name string, data []byte, progress building.Progress) (err error) {
	if f.contents == nil {
		if f.contents, err = dxf.Survey(ctx, data, part(0, progress)); err != nil {
			return err
		}
	}
	opt := f.drawingOptions()
	if len(opt.RoomLayers)+len(opt.WallLayers) == 0 || !f.contents.Unit.Sure && opt.Unit == "" {
		return nil
	}
	if f.model, err = dxf.Read(ctx, data, opt, part(1, progress)); err != nil {
		return err
	}
	for i := range f.model.Storeys { // a drawing shows one storey and seldom names it
		if s := &f.model.Storeys[i]; s.Derived {
			s.Name = strings.TrimSuffix(name, path.Ext(name))
		}
	}
	return nil
}

// part tells the progress of the first or second of two ways through a file.
func part(i int64, progress building.Progress) building.Progress {
	if progress == nil {
		return nil
	}
	return func(done, total int64) { progress(done+i*total, 2*total) }
}

func (f *modelFile) drawingOptions() dxf.Options {
	opt := f.contents.Suggested()
	if f.answers.layers != nil {
		opt = dxf.Options{}
		for _, l := range f.contents.Layers {
			switch f.answers.layers[l.Name] {
			case dxf.Rooms:
				opt.RoomLayers = append(opt.RoomLayers, l.Name)
			case dxf.Walls:
				opt.WallLayers = append(opt.WallLayers, l.Name)
			case dxf.Names:
				opt.TextLayers = append(opt.TextLayers, l.Name)
			case dxf.Windows:
				opt.WindowLayers = append(opt.WindowLayers, l.Name)
			case dxf.Doors:
				opt.DoorLayers = append(opt.DoorLayers, l.Name)
			}
		}
	}
	opt.Unit, opt.Enclose, opt.PairWalls = f.answers.unit, f.answers.enclose, !f.answers.single
	return opt
}

// role gives what a layer is taken for.
func (f *modelFile) role(l dxf.Layer) dxf.Role {
	if f.answers.layers == nil {
		return l.Suggested
	}
	return f.answers.layers[l.Name]
}

// unsure asks for the unit: the reader gave its best guess, and nothing is
// stored on a guess. "" where there is nothing to ask.
func (f *modelFile) unsure() string {
	switch {
	case f.answers.unit != "":
		return ""
	case f.contents != nil && !f.contents.Unit.Sure:
		return f.contents.Unit.Question
	case f.model != nil && !f.model.Unit.Sure:
		return f.model.Unit.Note
	}
	return ""
}

// ready tells whether all questions are answered.
func (f *modelFile) ready() bool {
	if f.model == nil || f.unsure() != "" {
		return false
	}
	for _, p := range f.model.Problems {
		if p.Fatal {
			return false
		}
	}
	return true
}

// fit fits the model to a project as a scope has it.
func (f *modelFile) fit(here match.Here, newID func() domain.ID) *match.Fit {
	return match.Model(f.model, here, f.answers.fit, newID)
}

// source says what was read: "gbXML 6.01, in feet".
func (f *modelFile) source() string {
	if f.model != nil {
		if f.model.Unit.Name == "" {
			return f.model.Source
		}
		return fmt.Sprintf("%s, read in %s", f.model.Source, f.model.Unit.Name)
	}
	if f.contents != nil {
		return "DXF " + f.contents.Release
	}
	return string(f.format)
}
