package luminaires

import (
	"net/http"

	"scopewright/domain"
	"scopewright/web/edits"
)

// mostTypes bounds a schedule.
const mostTypes = 2000

// add adds a type from the few fields of the form above the table.
func (s Screen) add(w http.ResponseWriter, r *http.Request) {
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) {
		l := domain.Luminaire{ID: domain.NewID(), Seq: nextSeq(p)}
		env := domain.Env{Project: p}
		for _, f := range domain.LuminaireFields {
			text := r.PostFormValue(f.Name)
			if text == "" && f.Name != "tag" {
				continue
			}
			if err := f.Set(env, &l, text); err != nil {
				return "", edits.Refusef("%s: %w", f.Title, err)
			}
		}
		if l.Driver == "" {
			l.Driver = domain.DriverAnalog
		}
		return put(p, l)
	})
	s.desk().Done(w, r, outcome, err, "")
}

// duplicate copies a type under the next free tag.
func (s Screen) duplicate(w http.ResponseWriter, r *http.Request) {
	_, id := edits.Row(r)
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) {
		from := p.Luminaire(id)
		if from == nil {
			return "", edits.Refusef("this luminaire type is no longer there: it may have been removed in another window")
		}
		l := *from
		l.ID, l.Seq, l.Tag = domain.NewID(), nextSeq(p), nextTag(p)
		return put(p, l)
	})
	s.desk().Done(w, r, outcome, err, "")
}

func put(p *domain.Project, l domain.Luminaire) (string, error) {
	if tagged(p, l.Tag, l.ID) != nil {
		return "", edits.Refusef("type %s is in the schedule already: choose a free tag", l.Tag)
	}
	if len(p.Luminaires) >= mostTypes {
		return "", edits.Refusef("the schedule holds %d types; more do not fit", mostTypes)
	}
	p.Luminaires = append(p.Luminaires, l)
	return "added luminaire type " + l.Tag, nil
}

func nextSeq(p *domain.Project) int {
	n := 0
	for i := range p.Luminaires {
		n = max(n, p.Luminaires[i].Seq)
	}
	return n + 1
}
