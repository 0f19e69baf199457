package energy

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// set stores one number that the figures stand on, or a pasted block of them, as
// one step.
func (s Screen) set(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) {
		return edits.SetEach(cells, func(c edits.Cell) (string, error) { return setCell(p, c) })
	})
	s.desk().Done(w, r, outcome, err, "")
}

func setCell(p *domain.Project, c edits.Cell) (string, error) {
	part, id, field := split(c.Path)
	switch part {
	case "project":
		if field == "currency" {
			return edits.SetField(domain.Env{Project: p}, domain.ProjectFields, p, c, field, "project")
		}
	case "rates":
		return setRate(p, c, id, field)
	case "profiles":
		return setProfile(p, c, domain.Use(id), field)
	case "limits":
		return setLimit(p, c, domain.LimitID(id), field)
	}
	return "", c.Gone("this line")
}

func setLimit(p *domain.Project, c edits.Cell, id domain.LimitID, field string) (string, error) {
	if !slices.ContainsFunc(domain.EnergyLimits(), func(l domain.Limit) bool { return l.ID == id }) {
		return "", c.Gone("this factor")
	}
	changed := p.Limits.Find(id)
	said, err := edits.SetField(domain.Env{Project: p}, domain.LimitFields, &changed, c, field, changed.Title)
	if err == nil && said != "" {
		*p.Limits.Own(id) = changed
	}
	return said, err
}

func setRate(p *domain.Project, c edits.Cell, id domain.ID, field string) (string, error) {
	if !slices.ContainsFunc(domain.RateKinds(), func(k domain.RateKind) bool { return domain.ID(k.ID) == id }) {
		return "", c.Gone("this rate")
	}
	at := slices.IndexFunc(p.Rates, func(r domain.Rate) bool { return r.ID == id })
	changed := domain.Rate{ID: id, Seq: len(p.Rates) + 1}
	if at >= 0 {
		changed = p.Rates[at]
	}
	said, err := edits.SetField(domain.Env{Project: p}, domain.RateFields, &changed, c, field, changed.Name())
	switch {
	case err != nil || said == "":
	case at >= 0:
		p.Rates[at] = changed
	default:
		p.Rates = append(p.Rates, changed)
	}
	return said, err
}

// unsourced is the source of a profile that a person changed and has not yet said
// where the numbers come from.
const unsourced = "stated in this project; where the numbers come from is not said yet"

// setProfile changes a use's profile. The first change makes the built-in one the
// project's own; its source no longer holds then.
func setProfile(p *domain.Project, c edits.Cell, use domain.Use, field string) (string, error) {
	if _, known := use.Info(); !known {
		return "", c.Gone("this use")
	}
	changed, own := profileOf(p, use)
	if !own && field != "source" {
		changed.Source = unsourced
	}
	said, err := edits.SetField(domain.Env{Project: p}, domain.ProfileFields, &changed, c, field, "hours of "+strings.ToLower(use.Name()))
	switch {
	case err != nil || said == "":
	case own:
		*p.Profile(use) = changed
	default:
		p.Profiles = append(p.Profiles, changed)
	}
	return said, err
}

// profileOf gives the profile that holds for a use, and whether it is the project's
// own.
func profileOf(p *domain.Project, use domain.Use) (domain.UseProfile, bool) {
	if own := p.Profile(use); own != nil {
		return *own, true
	}
	seq := 1
	for i := range p.Profiles {
		seq = max(seq, p.Profiles[i].Seq+1)
	}
	b := energy.BuiltIn(use)
	return domain.UseProfile{ID: domain.ID(use), Seq: seq, Day: b.Day, Night: b.Night, Absence: b.Absence, Target: units.Lux(b.Lx), Source: b.Source}, false
}

// builtIn gives a factor or the hours of a use their built-in value and source back.
func (s Screen) builtIn(w http.ResponseWriter, r *http.Request) {
	part, id := edits.Row(r)
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) {
		switch part {
		case "profiles":
			if own := p.Profile(domain.Use(id)); own != nil {
				p.Profiles = slices.DeleteFunc(p.Profiles, func(u domain.UseProfile) bool { return u.ID == id })
				return fmt.Sprintf("hours of %s: back to the built-in ones", strings.ToLower(domain.Use(id).Name())), nil
			}
		case "limits":
			for _, l := range domain.EnergyLimits() {
				if l.ID == domain.LimitID(id) && p.Limits.Find(l.ID) != l {
					*p.Limits.Own(l.ID) = l
					return l.Title + ": back to the built-in value", nil
				}
			}
		}
		return "", edits.Refusef("it has its built-in value already")
	})
	s.desk().Done(w, r, outcome, err, "")
}

// split reads "limits/<id>/<field>" and "project/<field>".
func split(path string) (part string, id domain.ID, field string) {
	steps := strings.Split(path, "/")
	switch {
	case len(steps) == 2:
		return steps[0], "", steps[1]
	case len(steps) == 3:
		return steps[0], domain.ID(steps[1]), steps[2]
	}
	return "", "", ""
}

// value tells of a cell how it is called and what it holds.
func value(p *domain.Project, path string) (title, now string) {
	env := domain.Env{Project: p}
	part, id, field := split(path)
	switch part {
	case "project":
		if f, ok := domain.FieldNamed(domain.ProjectFields, field); ok {
			return f.Title, f.Show(env, p)
		}
	case "rates":
		r := p.Rate(domain.RateID(id))
		if f, ok := domain.FieldNamed(domain.RateFields, field); ok {
			return r.Name() + ", " + strings.ToLower(f.Title), f.Show(env, &r)
		}
	case "profiles":
		u, _ := profileOf(p, domain.Use(id))
		if f, ok := domain.FieldNamed(domain.ProfileFields, field); ok {
			return domain.Use(id).Name() + ", " + strings.ToLower(f.Title), f.Show(env, &u)
		}
	case "limits":
		l := p.Limits.Find(domain.LimitID(id))
		if f, ok := domain.FieldNamed(domain.LimitFields, field); ok && l.Title != "" {
			return l.Title + ", " + strings.ToLower(f.Title), f.Show(env, &l)
		}
	}
	return path, "gone"
}
