package edit

import (
	"fmt"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/geom"
	"scopewright/domain/units"
)

// SetPlace sets one number of a thing's place from the text that a person
// typed: Field is "x", "y" or "turn". An empty x or y takes a device off the
// plan; a device without a place is placed by its first number.
type SetPlace struct {
	inRooms
	Thing Thing
	Field string
	Text  string
	Path  string // of the cell, for the error
}

// Rooms names the room.
func (g SetPlace) Rooms() []domain.ID { return []domain.ID{g.Thing.Room} }

// Apply sets the number.
func (g SetPlace) Apply(d *Drawing) (string, error) {
	said, err := g.apply(d)
	if err != nil {
		return "", &FieldError{Path: g.Path, Text: g.Text, Err: err}
	}
	return said, nil
}

func (g SetPlace) apply(d *Drawing) (string, error) {
	r, err := d.room(g.Thing.Room)
	if err != nil {
		return "", err
	}
	switch g.Thing.Kind {
	case DeviceThing:
		return g.device(d, r)
	case FixtureThing:
		f, err := fixtureOf(r, g.Thing.ID)
		if err != nil {
			return "", err
		}
		return d.told("moved", []Thing{g.Thing}), g.set(d.Project.Units, &f.At, &f.Turn)
	case SeatThing:
		s, err := seatOf(r, g.Thing.ID)
		if err != nil {
			return "", err
		}
		return d.told("moved", []Thing{g.Thing}), g.set(d.Project.Units, &s.At, nil)
	}
	return "", fmt.Errorf("there is no field %q", g.Path)
}

func (g SetPlace) device(d *Drawing, r *domain.Resolved) (string, error) {
	dev := r.Design.Device(g.Thing.ID)
	if dev == nil {
		return "", gone("the device")
	}
	if strings.TrimSpace(g.Text) == "" && g.Field != "turn" {
		dev.At, dev.Turn = nil, 0
		return "took " + dev.Tag + " in " + r.Number + " off the plan", nil
	}
	said, at := "moved ", start(r)
	if dev.At != nil {
		at = *dev.At
	} else {
		said = "placed "
	}
	if err := g.set(d.Project.Units, &at, &dev.Turn); err != nil {
		return "", err
	}
	if g.Field == "turn" && strings.TrimSpace(g.Text) != "" {
		dev.Turn = facing(dev.Turn)
	}
	dev.At = &at
	return said + dev.Tag + " in " + r.Number, nil
}

// start is where a device without a place is put before a number moves it: in
// its room where that is drawn.
func start(r *domain.Resolved) geom.Point {
	if r.Outline.Empty() {
		return geom.Point{}
	}
	return r.Outline.LabelPoint()
}

func (g SetPlace) set(sys units.System, at *geom.Point, turn *float64) error {
	if g.Field == "turn" && turn != nil {
		text := strings.TrimSuffix(strings.TrimSpace(g.Text), "°")
		if text == "" {
			text = "0"
		}
		deg, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
		if err != nil || !(deg >= -360 && deg <= 360) {
			return fmt.Errorf("%.20q is no angle: type degrees from 0 to 360", g.Text)
		}
		*turn = full(deg)
		return nil
	}
	v, err := units.ParseOffset(g.Text, sys)
	if err != nil {
		return err
	}
	switch g.Field {
	case "x":
		at.X = float64(v)
	case "y":
		at.Y = float64(v)
	default:
		return fmt.Errorf("there is no field %q", g.Path)
	}
	*at, err = onPlan(*at)
	return err
}
