// Package export is what can be issued: the kinds of document, the formats each comes in,
// the names of the files, and the whole issue set. The sheets are built in export/sheet
// and printed by one renderer a format.
package export

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/export/sheet"
)

// Format is a file format.
type Format string

// The formats.
const (
	HTML Format = "html"
	PDF  Format = "pdf"
	XLSX Format = "xlsx"
	CSV  Format = "csv"
	SVG  Format = "svg" // one drawing
	DXF  Format = "dxf" // one drawing, at full size
)

// Per is what one document of a kind is about.
type Per string

// A document is about one room, or about the project (or some of its rooms).
const (
	PerRoom    Per = "room"
	PerProject Per = "project"
)

// Kind is one kind of document.
type Kind struct {
	ID      string // slug: in addresses, file names and on the command line
	Title   string
	For     string // who reads it
	Per     Per
	Formats []Format
	BigType bool // to be read at arm's length

	build func(*sheet.Content) []sheet.Sheet
}

var (
	paper  = []Format{HTML, PDF}
	tables = []Format{HTML, PDF, XLSX, CSV}
	mixed  = []Format{HTML, PDF, XLSX}
	drawn  = []Format{HTML, PDF, SVG, DXF}
)

// Kinds lists the kinds in the order in which a form offers them. A new sheet needs a
// file in export/sheet and a line here.
func Kinds() []Kind {
	return []Kind{
		{"scope", "Room scope sheet", "installer, technician, reviewer", PerRoom, mixed, false, sheet.RoomScope},
		{"installer", "Installer's page", "installer", PerRoom, paper, true, sheet.InstallerPage},
		{"tests", "Functional test sheet", "commissioning provider, technician", PerRoom, mixed, false, sheet.FunctionalTests},
		{"survey", "Radio and sight sheet", "commissioning technician", PerRoom, mixed, false, sheet.RadioAndSight},
		{"calibration", "Daylight sensor calibration", "commissioning technician", PerRoom, mixed, false, sheet.Calibration},
		{"plan", "Storey plans", "installer, electrician, reviewer", PerProject, drawn, false, sheet.PlanSheets},
		{"loads", "Load schedule", "electrician", PerProject, tables, false, sheet.LoadSchedule},
		{"circuits", "Panel and circuit schedule", "electrician, reviewer", PerProject, tables, false, sheet.PanelSchedule},
		{"devices", "Device schedule", "purchasing, installer", PerProject, tables, false, sheet.DeviceSchedule},
		{"bill", "Bill of materials", "purchasing", PerProject, tables, false, sheet.BillOfMaterials},
		{"luminaires", "Luminaire schedule", "electrician, reviewer", PerProject, tables, false, sheet.LuminaireSchedule},
		{"equipment", "Equipment and limits", "designer, reviewer", PerProject, tables, false, sheet.EquipmentAndLimits},
		{"battery", "Battery plan", "operator", PerProject, tables, false, sheet.BatteryPlan},
		{"matrix", "Control matrix", "all", PerProject, mixed, false, sheet.ControlMatrix},
		{"scenes", "Scene table", "technician, owner", PerProject, mixed, false, sheet.SceneTable},
		{"narrative", "Control intent narrative", "owner", PerProject, paper, false, sheet.ControlNarrative},
		{"sequence", "Sequence of operations", "technician", PerProject, paper, false, sheet.SequenceOfOperations},
		{"points", "Points list for building automation", "integrator", PerProject, tables, false, sheet.PointsList},
		{"av", "AV command list", "integrator", PerProject, tables, false, sheet.AVCommands},
		{"energy", "Energy use of the lighting", "owner, designer", PerProject, mixed, false, sheet.EnergyUse},
		{"daylight", "Daylight", "designer, reviewer", PerProject, mixed, false, sheet.Daylight},
		{"code", "Energy code checks", "designer, reviewer", PerProject, mixed, false, sheet.EnergyCode},
		{"findings", "Findings and waivers", "designer, reviewer", PerProject, mixed, false, sheet.FindingsAndWaivers},
		{"review", "Review sheet", "reviewer", PerProject, paper, false, sheet.ReviewSheets},
		{"set", "Whole issue set", "all", PerProject, paper, false, sheet.IssueSet},
	}
}

// KindByID gives the kind of that ID, or an error that lists what there is.
func KindByID(id string) (Kind, error) {
	var known []string
	for _, k := range Kinds() {
		if k.ID == id {
			return k, nil
		}
		known = append(known, k.ID)
	}
	return Kind{}, fmt.Errorf("document kind %q is unknown: use one of %s", id, strings.Join(known, ", "))
}

// NotAs is the error of a kind asked for in a format that it does not come in.
func (k Kind) NotAs(f Format) error {
	names := make([]string, len(k.Formats))
	for i, f := range k.Formats {
		names[i] = string(f)
	}
	return fmt.Errorf("%s does not come as %s: use %s", k.Title, f, strings.Join(names, " or "))
}

// Has tells whether the kind comes in a format.
func (k Kind) Has(f Format) bool { return slices.Contains(k.Formats, f) }

// Build makes a document of a kind, of all rooms or of those picked. It fails where the
// kind is unknown, a room cannot be resolved, or none was picked.
func Build(kind string, in sheet.Input, only sheet.Only) (sheet.Document, error) {
	k, err := KindByID(kind)
	if err != nil {
		return sheet.Document{}, err
	}
	content, err := sheet.Open(in, only)
	if err != nil {
		return sheet.Document{}, fmt.Errorf("%s: %w", k.Title, err)
	}
	if content.Rooms() == 0 && k.Per == PerRoom {
		return sheet.Document{}, fmt.Errorf("%s: no such room: it may have been removed", k.Title)
	}
	doc := sheet.Document{Title: title(k, in, only), Sheets: k.build(content)}
	return doc, nil
}

func title(k Kind, in sheet.Input, only sheet.Only) string {
	text := in.Scope.Project.Name + ": " + k.Title
	if len(only.Rooms) == 1 && len(only.Storeys) == 0 {
		for i := range in.Scope.Rooms {
			if r := &in.Scope.Rooms[i]; r.ID == only.Rooms[0] {
				return text + ", " + r.Label()
			}
		}
	}
	return text
}
