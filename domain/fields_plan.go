package domain

import (
	"fmt"
	"strings"

	"scopewright/domain/units"
)

// Bounds that tell a slip of the pen from a building.
const (
	tallestOpening units.Metres = 50
	widestRoof     units.Metres = 100
	leastGlass                  = 0.01 // less lets no daylight in that anybody reckons with
)

// OpeningFields are what is typed of an opening in a wall beside its place. Doors
// and gaps have the heights alone.
func OpeningFields(kind OpeningKind) []Field[Opening] {
	out := []Field[Opening]{
		heightOf("sill", "Sill", func(o *Opening) *units.Metres { return &o.Sill }),
		heightOf("head", "Head", func(o *Opening) *units.Metres { return &o.Head }),
	}
	if kind != Window {
		return out
	}
	for i := range out {
		out[i].Hint = "above the floor; both empty: as the limits say"
	}
	return append(out,
		glassField(func(o *Opening) *float64 { return &o.Glass }),
		blockedField(),
		indoorsField(),
	)
}

// heightOf is a height above the floor.
func heightOf(name, title string, at func(*Opening) *units.Metres) Field[Opening] {
	f := lengthField(name, title, tallestOpening, at)
	show, set := f.Show, f.Set
	f.Hint = "above the floor"
	f.Show = func(e Env, o *Opening) string {
		if o.Head == 0 {
			return show(e, o)
		}
		return units.Length(*at(o), e.system())
	}
	f.Set = func(e Env, o *Opening, text string) error {
		next := *o
		if err := set(e, &next, text); err != nil {
			return err
		}
		if next.Head > 0 && next.Head <= next.Sill {
			return fmt.Errorf("the head of a %s lies above its sill, at most %s up", o.Kind, units.PlainLength(tallestOpening, e.system()))
		}
		*o = next
		return nil
	}
	return f
}

func glassField[T any](at func(*T) *float64) Field[T] {
	return Field[T]{Name: "glass", Title: "Glass transmittance", Hint: "diffuse, of the glass alone: 0.68 or 68 %; empty: as the limits say",
		Show: func(_ Env, x *T) string {
			if *at(x) == 0 {
				return ""
			}
			return units.Share(*at(x))
		},
		Set: func(_ Env, x *T, text string) error {
			if strings.TrimSpace(text) == "" {
				*at(x) = 0
				return nil
			}
			v, err := units.ParseShare(text)
			if err != nil {
				return err
			}
			if v < leastGlass {
				return fmt.Errorf("glass transmittance goes from %s to 100 %%; leave it empty for what the limits say", units.Share(leastGlass))
			}
			*at(x) = v
			return nil
		}}
}

func blockedField() Field[Opening] {
	f := spanField("blocked", "Sky hidden up to", "deg", span{0, 90}, 1, func(o *Opening) *float64 { return &o.Blocked })
	f.Hint = "altitude in degrees up to which what stands outside hides the sky; empty: nothing stands there"
	set := f.Set
	f.Set = func(e Env, o *Opening, text string) error { return set(e, o, withoutDegree(text)) }
	return f
}

// withoutDegree lets an angle be typed with its sign.
func withoutDegree(text string) string {
	return strings.TrimSuffix(strings.TrimSpace(text), "°")
}

func indoorsField() Field[Opening] {
	f := boolField("indoors", "Gives on another room", func(o *Opening) *bool { return &o.Indoors })
	f.Hint = "yes: no daylight comes in through it"
	return f
}

// RooflightFields are what is typed of a rooflight.
func RooflightFields() []Field[Rooflight] {
	return []Field[Rooflight]{
		placeField("x", "x", "of its middle, to the right from the plan's origin", func(l *Rooflight) *float64 { return &l.At.X }),
		placeField("y", "y", "of its middle, up the sheet from the plan's origin", func(l *Rooflight) *float64 { return &l.At.Y }),
		sideField("width", "Width", "along x before it is turned", func(l *Rooflight) *units.Metres { return &l.Width }),
		sideField("length", "Length", "along y before it is turned", func(l *Rooflight) *units.Metres { return &l.Length }),
		turnField(func(l *Rooflight) *float64 { return &l.Turn }),
		glassField(func(l *Rooflight) *float64 { return &l.Glass }),
	}
}

func placeField[T any](name, title, hint string, at func(*T) *float64) Field[T] {
	return Field[T]{Name: name, Title: title, Hint: hint,
		Show: func(e Env, x *T) string { return units.Offset(units.Metres(*at(x)), e.system()) },
		Set: func(e Env, x *T, text string) error {
			v, err := units.ParseOffset(text, e.system())
			if err == nil {
				*at(x) = float64(v)
			}
			return err
		}}
}

// sideField is a length that is never empty.
func sideField[T any](name, title, hint string, at func(*T) *units.Metres) Field[T] {
	f := lengthField(name, title, widestRoof, at)
	f.Hint = hint
	set := f.Set
	f.Set = func(e Env, x *T, text string) error {
		before := *at(x)
		err := set(e, x, text)
		if err == nil && *at(x) < LeastRooflight {
			*at(x) = before
			return fmt.Errorf("%s goes from %s to %s", strings.ToLower(title), units.PlainLength(LeastRooflight, e.system()), units.PlainLength(widestRoof, e.system()))
		}
		return err
	}
	return f
}

func turnField[T any](at func(*T) *float64) Field[T] {
	f := spanField("turn", "Turned", "deg", span{-360, 360}, 2, at)
	f.Hint = "degrees, counterclockwise"
	set := f.Set
	f.Set = func(e Env, x *T, text string) error { return set(e, x, withoutDegree(text)) }
	return f
}
