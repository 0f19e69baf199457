package energycode

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/daylight"
)

// What a worksheet may hold: more than any code has, less than would stall a page.
const (
	mostRows  = 20000
	mostWords = 600 // letters of a text
)

// Copy makes a worksheet of a pack: the designer's own, with a name for the set of
// amendments that it will hold. Nobody has confirmed it yet.
func (p *Pack) Copy(id, title, amendments string) (*Pack, error) {
	out := &Pack{ID: id, Code: p.Code, Edition: p.Edition, Amendments: amendments, Title: title, Note: p.Note, ZoneRules: p.ZoneRules, own: true,
		Spaces: slices.Clone(p.Spaces), Parameters: slices.Clone(p.Parameters), Requirements: slices.Clone(p.Requirements), Densities: slices.Clone(p.Densities)}
	if err := errors.Join(out.checkHead()...); err != nil {
		return nil, err
	}
	out.reindex()
	return out, nil
}

// BlankWorksheet gives a worksheet without a figure: each control of each kind of
// space is unknown until somebody writes what the adopted text says.
func BlankWorksheet(id, title string) *Pack {
	p := &Pack{ID: id, Code: "Worksheet", Edition: "draft", Title: title, own: true, Spaces: slices.Clone(embedded().packs[0].Spaces)}
	for _, s := range p.Spaces {
		for _, c := range []Control{LocalControl, ManualOn, PartialAutoOn, Bilevel, DaylightSide, DaylightTop, PartialOff, FullOff, ScheduledShutoff, Receptacles, SeparateControl} {
			p.Requirements = append(p.Requirements, Requirement{Space: s.ID, Control: c, Duty: Unknown, Basis: Basis{Mark: Memory, Note: "not filled in"}})
		}
	}
	p.reindex()
	return p
}

// editable refuses changes of a built-in pack.
func (p *Pack) editable() error {
	if p.own {
		return nil
	}
	return fmt.Errorf("%s is built in and stays as it is: copy it to a worksheet and change that", p.Title)
}

// SetParameter writes a figure or a saying; one of the same control and name is
// replaced.
func (p *Pack) SetParameter(q Parameter) error {
	if err := errors.Join(p.editable(), q.check()); err != nil {
		return err
	}
	if at := slices.IndexFunc(p.Parameters, func(o Parameter) bool { return o.Control == q.Control && o.Name == q.Name }); at >= 0 {
		p.Parameters[at] = q
	} else {
		p.Parameters = append(p.Parameters, q)
	}
	p.reindex()
	return nil
}

// RemoveParameter takes a figure out: what rests on it cannot be told then.
func (p *Pack) RemoveParameter(c Control, name string) error {
	if err := p.editable(); err != nil {
		return err
	}
	at := slices.IndexFunc(p.Parameters, func(o Parameter) bool { return o.Control == c && o.Name == name })
	if at < 0 {
		return fmt.Errorf("%s has no %q of %s to take out", p.Title, name, c)
	}
	p.Parameters = slices.Delete(p.Parameters, at, at+1)
	p.reindex()
	return nil
}

// SetRequirement writes what is asked of a control in a kind of space.
func (p *Pack) SetRequirement(r Requirement) error {
	if err := errors.Join(p.editable(), r.check(p)); err != nil {
		return err
	}
	if at := slices.IndexFunc(p.Requirements, func(o Requirement) bool { return o.Space == r.Space && o.Control == r.Control }); at >= 0 {
		p.Requirements[at] = r
	} else {
		p.Requirements = append(p.Requirements, r)
	}
	p.reindex()
	return nil
}

// SetDensity writes the power density of a kind of space.
func (p *Pack) SetDensity(d Density) error {
	if err := errors.Join(p.editable(), d.check(p)); err != nil {
		return err
	}
	if at := slices.IndexFunc(p.Densities, func(o Density) bool { return o.Space == d.Space }); at >= 0 {
		p.Densities[at] = d
	} else {
		p.Densities = append(p.Densities, d)
	}
	p.reindex()
	return nil
}

// Confirm notes who has read the adopted text beside the worksheet, and when. Empty
// takes the word back.
func (p *Pack) Confirm(who, date string) error {
	if err := p.editable(); err != nil {
		return err
	}
	who, err := domain.CleanLine(who, 120)
	if err != nil {
		return err
	}
	if p.Confirmed = who; who != "" && date != "" {
		p.Confirmed += ", " + date
	}
	return nil
}

var (
	slug = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]{0,79}$`)
	name = regexp.MustCompile(`^[a-z][a-z0-9_]{0,59}$`)
)

// checkHead says what is wrong with how the pack is called.
func (p *Pack) checkHead() []error {
	var out []error
	if !slug.MatchString(p.ID) {
		out = append(out, fmt.Errorf("id %q must be small letters, digits, dots and dashes, at most 80", short(p.ID)))
	}
	if _, ok := daylight.FindZoneCode(p.ZoneRules); p.ZoneRules != "" && !ok {
		out = append(out, fmt.Errorf("zone_rules %q are not known: use %s, or leave them out", short(p.ZoneRules), zoneCodes()))
	}
	for _, t := range []struct{ what, text string }{{"code", p.Code}, {"edition", p.Edition}, {"title", p.Title}} {
		if strings.TrimSpace(t.text) == "" {
			out = append(out, fmt.Errorf("%s is missing: say how it is called", t.what))
		}
	}
	for _, t := range []struct{ what, text string }{{"code", p.Code}, {"edition", p.Edition}, {"title", p.Title}, {"amendments", p.Amendments}, {"note", p.Note}, {"confirmed", p.Confirmed}} {
		out = append(out, plain(t.what, t.text)...)
	}
	return out
}

// check says what is wrong with a figure. One in words is free; a number must be one
// that a check reads, in the unit that it reads.
func (q *Parameter) check() error {
	out := q.Basis.check()
	if !q.Control.Known() {
		out = append(out, fmt.Errorf("control %q is not known: use one like full_off or local_control", short(string(q.Control))))
	}
	if !name.MatchString(q.Name) {
		out = append(out, fmt.Errorf("name %q must be small letters, digits and underlines", short(q.Name)))
	}
	out = append(out, plain("words", q.Words)...)
	switch {
	case q.Sign == "":
		if q.Value != 0 || strings.TrimSpace(q.Words) == "" {
			out = append(out, errors.New("a parameter needs a sign and a value, or words"))
		}
	case !slices.Contains(Signs(), q.Sign):
		out = append(out, fmt.Errorf("sign %q is not known: use %s", short(string(q.Sign)), signWords(Signs())))
	default:
		out = append(out, q.checkFigure()...)
	}
	return errors.Join(out...)
}

func (q *Parameter) checkFigure() []error {
	var out []error
	if !(q.Value >= 0 && q.Value <= 1e7) || math.IsNaN(q.Value) {
		out = append(out, fmt.Errorf("value %g is out of range: use 0 to 10,000,000", q.Value))
	}
	want, known := knownFigures()[parameterKey{q.Control, q.Name}]
	switch {
	case !known && q.Control.Known():
		out = append(out, fmt.Errorf("no check reads %q of %s: use %s", short(q.Name), q.Control, figureNames(q.Control)))
	case known && q.Unit != want.unit:
		out = append(out, fmt.Errorf("unit %q of %s %s is not the one it is read in: use %q", short(q.Unit), q.Control, q.Name, want.unit))
	case known && !slices.Contains(want.signs, q.Sign):
		out = append(out, fmt.Errorf("sign %q does not fit %s %s: use %s", q.Sign, q.Control, q.Name, signWords(want.signs)))
	}
	return out
}

func (r *Requirement) check(p *Pack) error {
	out := r.Basis.check()
	if r.Space != AnySpace && p.Space(r.Space) == nil {
		out = append(out, fmt.Errorf("space %q is not one of the pack's: use one of them, or * for any", short(r.Space)))
	}
	if !slices.Contains(controlsOfRooms, r.Control) {
		out = append(out, fmt.Errorf("control %q is none that a kind of space may ask for: use one like full_off", short(string(r.Control))))
	}
	if !slices.Contains(Duties(), r.Duty) {
		out = append(out, fmt.Errorf("duty %q is not known: use R, A, B, none or unknown", short(string(r.Duty))))
	}
	if !(r.Reduction >= 0 && r.Reduction <= 100) {
		out = append(out, fmt.Errorf("reduction %g %% is out of range: use 0 to 100", r.Reduction))
	}
	if !slices.Contains([]string{"", "zone", "aisle", "500 W"}, r.Each) {
		out = append(out, fmt.Errorf("each %q is not known: use zone, aisle, 500 W or nothing", short(r.Each)))
	}
	if r.Also != "" && (!slices.Contains(controlsOfRooms, r.Also) || r.Also == r.Control) {
		out = append(out, fmt.Errorf("also %q is no other control that a kind of space may ask for", short(string(r.Also))))
	}
	return errors.Join(out...)
}

func (d *Density) check(p *Pack) error {
	out := d.Basis.check()
	if p.Space(d.Space) == nil {
		out = append(out, fmt.Errorf("space %q is not one of the pack's", short(d.Space)))
	}
	if !(d.WattsFt2 > 0 && d.WattsFt2 <= 100) {
		out = append(out, fmt.Errorf("%g W/ft2 is out of range: use more than 0 and at most 100", d.WattsFt2))
	}
	return errors.Join(out...)
}

func (b *Basis) check() []error {
	var out []error
	if !slices.Contains(Marks(), b.Mark) {
		out = append(out, fmt.Errorf("mark %q is not known: use read, seen or memory", short(string(b.Mark))))
	}
	for _, t := range []struct{ what, text string }{{"clause", b.Clause}, {"source", b.Source}, {"note", b.Note}} {
		out = append(out, plain(t.what, t.text)...)
	}
	return out
}

// plain refuses texts that no line of paper can hold.
func plain(what, text string) []error {
	if len([]rune(text)) > mostWords {
		return []error{fmt.Errorf("%s has more than %d letters: shorten it", what, mostWords)}
	}
	if clean, err := domain.CleanLine(text, mostWords); err != nil || clean != text {
		return []error{fmt.Errorf("%s holds line breaks, signs that cannot be printed, or spaces at its ends: take them out", what)}
	}
	return nil
}

func short(text string) string {
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return text
}

func signWords(signs []Sign) string {
	words := make([]string, len(signs))
	for i, s := range signs {
		words[i] = string(s)
	}
	return strings.Join(words, ", ")
}
