package domain

import (
	"fmt"
	"strings"

	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// ProjectFields are the facts of a project.
var ProjectFields = []Field[Project]{
	requiredField("name", "Name", func(p *Project) *string { return &p.Name }),
	textField("number", "Number", 40, func(p *Project) *string { return &p.Number }),
	textField("client", "Client", MaxName, func(p *Project) *string { return &p.Client }),
	textField("address", "Address", 240, func(p *Project) *string { return &p.Address }),
	textField("code_edition", "Code and edition", MaxName, func(p *Project) *string { return &p.CodeEdition }),
	codePackField(),
	mustChoose(choiceField("units", "Units", func(Env, *Project) []Choice {
		return []Choice{{string(units.US), "US (ft, in)"}, {string(units.SI), "SI (m)"}}
	}, func(p *Project) *units.System { return &p.Units })),
	textField("hours", "Hours of use", MaxName, func(p *Project) *string { return &p.Hours }),
	degreesField("latitude", "Latitude", "degrees, north above 0", 90, func(p *Project) **float64 { return &p.Latitude }),
	degreesField("longitude", "Longitude", "degrees, east above 0", 180, func(p *Project) **float64 { return &p.Longitude }),
	zoneField(),
	listField("calendar", "Calendar of modes", "a line each, like: Mon-Fri 07:00 normal", cleanModeTime, func(p *Project) *[]string { return &p.Calendar }),
	listField("holidays", "Holidays", "a line each, like: 2026-12-25 Winter closing", cleanHoliday, func(p *Project) *[]string { return &p.Holidays }),
	priorityField(),
	currencyField(),
	textField("designer", "Designer", MaxName, func(p *Project) *string { return &p.Designer }),
	textField("checker", "Checker", MaxName, func(p *Project) *string { return &p.Checker }),
	textField("reviewer", "Reviewer", MaxName, func(p *Project) *string { return &p.Reviewer }),
	notesField("brief", "Owner's wishes", func(p *Project) *string { return &p.Brief }),
}

func currencyField() Field[Project] {
	f := textField("currency", "Currency", 12, func(p *Project) *string { return &p.Currency })
	f.Hint = "its word, for the energy screen: USD"
	return f
}

func codePackField() Field[Project] {
	f := choiceField("code_pack", "Energy code checked by", packChoices, func(p *Project) *CodePack { return &p.CodePack })
	f.Hint = "for the energy code sheet"
	return f
}

// BuildingFields are the facts of a building.
var BuildingFields = []Field[Building]{requiredField("name", "Name", func(b *Building) *string { return &b.Name })}

// StoreyFields are the facts of a storey.
var StoreyFields = []Field[Storey]{
	requiredField("name", "Name", func(s *Storey) *string { return &s.Name }),
	textField("server", "Building server", 40, func(s *Storey) *string { return &s.Server }),
	textField("backbone", "Backbone network", 40, func(s *Storey) *string { return &s.Backbone }),
	storeyHeightField(),
}

func storeyHeightField() Field[Storey] {
	f := lengthField("height_m", "Floor to floor", 100, func(s *Storey) *units.Metres { return &s.Height })
	f.Hint = "up to the floor above; empty: as the limits say"
	return f
}

// LuminaireFields are the columns of the luminaire schedule.
var LuminaireFields = []Field[Luminaire]{
	requiredField("tag", "Type", func(l *Luminaire) *string { return &l.Tag }),
	textField("description", "Description", 240, func(l *Luminaire) *string { return &l.Description }),
	quantityField("watts", "Watts", "W", 100000, 2, func(l *Luminaire) *units.Watts { return &l.Watts }),
	quantityField("volts", "Volts", "V", 1000, 1, func(l *Luminaire) *units.Volts { return &l.Volts }),
	powerFactorField(),
	intField("drivers", "Drivers each", 0, 100, func(l *Luminaire) *int { return &l.Drivers }),
	choiceField("driver", "Driver", fixed[Luminaire](DriverKinds()...), func(l *Luminaire) *DriverKind { return &l.Driver }),
	quantityField("control_ma", "Control current", "mA", 100, 3, func(l *Luminaire) *units.Milliamps { return &l.ControlMA }),
	inrushPeakField(),
	quantityField("inrush_us", "Inrush width", "us", 100000, 0, func(l *Luminaire) *float64 { return &l.InrushUs }),
	levelField("dims_to", "Dims to", func(l *Luminaire) *units.Level { return &l.DimsTo }),
	boolField("dim_to_off", "Dims to off", func(l *Luminaire) *bool { return &l.DimToOff }),
	textField("source", "Source", MaxName, func(l *Luminaire) *string { return &l.Source }),
}

func powerFactorField() Field[Luminaire] {
	f := quantityField("power_factor", "Power factor", "", 1, 3, func(l *Luminaire) *float64 { return &l.PowerFactor })
	f.Hint = "0 to 1; empty: 1 is assumed"
	return f
}

// EquipmentFields are the columns of the equipment book.
var EquipmentFields = []Field[equipment.Type]{
	requiredField("name", "Name", func(t *equipment.Type) *string { return &t.Name }),
	mustChoose(choiceField("kind", "Kind", func(Env, *equipment.Type) []Choice {
		var out []Choice
		for _, k := range equipment.Kinds() {
			out = append(out, Choice{string(k), k.Traits().Name})
		}
		return out
	}, func(t *equipment.Type) *equipment.Kind { return &t.Kind })),
	mustChoose(choiceField("supply", "Supply", fixed[equipment.Type](equipment.Mains, equipment.Battery, equipment.Wired), func(t *equipment.Type) *equipment.Supply { return &t.Supply })),
	textField("description", "Description", 240, func(t *equipment.Type) *string { return &t.Description }),
	textField("mounting", "Mounting", MaxName, func(t *equipment.Type) *string { return &t.Mounting }),
	textField("box", "Box", MaxName, func(t *equipment.Type) *string { return &t.Box }),
	intField("outputs", "Outputs", 0, 64, func(t *equipment.Type) *int { return &t.Outputs }),
	quantityField("output_a", "Output rating", "A", 1000, 2, func(t *equipment.Type) *units.Amps { return &t.OutputAmps }),
	quantityField("min_v", "Lowest volts", "V", 1000, 0, func(t *equipment.Type) *units.Volts { return &t.MinVolts }),
	quantityField("max_v", "Highest volts", "V", 1000, 0, func(t *equipment.Type) *units.Volts { return &t.MaxVolts }),
	dimsField(),
	quantityField("sink_ma", "Control current", "mA", 10000, 2, func(t *equipment.Type) *units.Milliamps { return &t.Sink }),
	intField("scenes", "Scenes stored", 0, 1000, func(t *equipment.Type) *int { return &t.Scenes }),
	intField("buttons", "Buttons", 0, 24, func(t *equipment.Type) *int { return &t.Buttons }),
	intField("inputs", "Inputs", 0, 64, func(t *equipment.Type) *int { return &t.Inputs }),
	boolField("routes", "Routes", func(t *equipment.Type) *bool { return &t.Routes }),
	intField("children", "Children", 0, 1000, func(t *equipment.Type) *int { return &t.Children }),
	quantityField("aux_w", "Auxiliary supply", "W", 1000, 2, func(t *equipment.Type) *units.Watts { return &t.Aux }),
	quantityField("draw_w", "Takes", "W", 1000, 2, func(t *equipment.Type) *units.Watts { return &t.Draw }),
	quantityField("life_years", "Battery life", "years", 100, 1, func(t *equipment.Type) *float64 { return &t.LifeYears }),
	textField("cell", "Cell", 40, func(t *equipment.Type) *string { return &t.Cell }),
	areaField("coverage_m2", "Coverage", 100000, func(t *equipment.Type) *units.SquareMetres { return &t.Coverage }),
	boolField("inrush_tested", "Tested for inrush", func(t *equipment.Type) *bool { return &t.TestedForInrush }),
	quantityField("inrush_a", "Inrush rating", "A", 10000, 1, func(t *equipment.Type) *units.Amps { return &t.InrushPeak }),
	decibelField("tx_dbm", "Transmit power", "dBm", func(t *equipment.Type) *float64 { return &t.TxPower }),
	decibelField("gain_dbi", "Antenna gain", "dBi", func(t *equipment.Type) *float64 { return &t.Gain }),
	decibelField("sensitivity_dbm", "Sensitivity", "dBm", func(t *equipment.Type) *float64 { return &t.Sensitivity }),
	choiceField("senses", "Senses", fixed[equipment.Type](equipment.Sensings()...), func(t *equipment.Type) *equipment.Sensing { return &t.Senses }),
	bookLength("major_m", "Radius, walking", 100, func(t *equipment.Type) *units.Metres { return &t.MajorRadius }),
	bookLength("minor_m", "Radius, small motion", 100, func(t *equipment.Type) *units.Metres { return &t.MinorRadius }),
	bookLength("stated_at_m", "Stated at height", 100, func(t *equipment.Type) *units.Metres { return &t.StatedAt }),
	choiceField("stated_on", "Stated on", fixed[equipment.Type](equipment.Planes()...), func(t *equipment.Type) *equipment.Plane { return &t.StatedOn }),
	quantityField("angle_deg", "Angle", "°", 360, 1, func(t *equipment.Type) *float64 { return &t.Angle }),
	bookLength("lowest_m", "Mounts from", 100, func(t *equipment.Type) *units.Metres { return &t.Lowest }),
	bookLength("highest_m", "Mounts to", 100, func(t *equipment.Type) *units.Metres { return &t.Highest }),
	bookLength("most_radius_m", "Longest radius", 100, func(t *equipment.Type) *units.Metres { return &t.MostRadius }),
	textField("source", "Source", MaxName, func(t *equipment.Type) *string { return &t.Source }),
}

// bookLength is a length that a data sheet of either system states: it reads as a
// person would have typed it, and typing what is shown leaves it alone.
func bookLength(name, title string, most units.Metres, at func(*equipment.Type) *units.Metres) Field[equipment.Type] {
	f := lengthField(name, title, most, at)
	set := f.Set
	f.Show = func(e Env, t *equipment.Type) string {
		if *at(t) == 0 {
			return ""
		}
		return units.PlainLength(*at(t), e.system())
	}
	f.Set = func(e Env, t *equipment.Type, text string) error {
		if *at(t) != 0 && strings.TrimSpace(text) == f.Show(e, t) {
			return nil
		}
		return set(e, t, text)
	}
	return f
}

func dimsField() Field[equipment.Type] {
	return Field[equipment.Type]{Name: "dims", Title: "Dimming", Hint: "methods separated by commas",
		Show: func(_ Env, t *equipment.Type) string {
			names := make([]string, len(t.Dims))
			for i, d := range t.Dims {
				names[i] = string(d)
			}
			return strings.Join(names, ", ")
		},
		Set: func(e Env, t *equipment.Type, text string) error {
			var dims []equipment.Dimming
			for _, name := range strings.Split(text, ",") {
				v, err := pick(fixed[equipment.Type](equipment.Dimmings()...)(e, t), "dimming", name)
				if err != nil {
					return err
				}
				if v != "" {
					dims = append(dims, equipment.Dimming(v))
				}
			}
			t.Dims = dims
			return nil
		}}
}

// LimitFields are the columns of the limits table.
var LimitFields = []Field[Limit]{
	{Name: "value", Title: "Value",
		Show: func(e Env, l *Limit) string { return l.Text(e.system()) },
		Set: func(e Env, l *Limit, text string) error {
			if strings.TrimSpace(text) == l.Text(e.system()) {
				return nil // what is shown may be rounded: it must not move the limit
			}
			v, err := l.read(text, e.system())
			if err != nil {
				return err
			}
			changed := *l
			changed.Value = v
			if err := changed.Validate(); err != nil {
				return err
			}
			l.Value = v
			return nil
		}},
	{Name: "source", Title: "Source", Wide: true,
		Show: func(_ Env, l *Limit) string { return l.Source },
		Set: func(_ Env, l *Limit, text string) error {
			clean, err := CleanLine(text, 240)
			if err == nil && clean == "" {
				err = fmt.Errorf("a limit needs a source: name the standard, the data sheet or \"common practice\"")
			}
			if err == nil {
				l.Source = clean
			}
			return err
		}},
}

// ChecklistFields are the columns of the second-opinion checklist.
var ChecklistFields = []Field[ChecklistItem]{
	requiredField("subject", "Subject", func(c *ChecklistItem) *string { return &c.Subject }),
	func() Field[ChecklistItem] {
		f := textField("text", "Question", 600, func(c *ChecklistItem) *string { return &c.Text })
		f.Wide = true
		return f
	}(),
	mustChoose(choiceField("for", "Asked of", fixed[ChecklistItem](AskRoom, AskProject), func(c *ChecklistItem) *Asked { return &c.For })),
}
