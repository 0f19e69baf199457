package circuits

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/web/edits"
)

// mostCircuits bounds the list.
const mostCircuits = 5000

// set stores one cell, or a pasted block of them, as one step. The first fact of
// a circuit that only loads name lists it.
func (s Screen) set(w http.ResponseWriter, r *http.Request) {
	cells, err := edits.ReadCells(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	named, err := s.named(r.Context(), edits.ProjectID(r))
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) {
		return edits.SetEach(cells, func(c edits.Cell) (string, error) { return setCell(p, c, named) })
	})
	s.desk().Done(w, r, outcome, err, "")
}

// named gives the circuits that loads name, by the ID that each has until it is
// listed.
func (s Screen) named(ctx context.Context, project domain.ID) (map[domain.ID]string, error) {
	shares, err := s.Store.CircuitShares(ctx, project)
	if err != nil {
		return nil, err
	}
	out := map[domain.ID]string{}
	for i := range shares {
		if name := shares[i].Circuit; name != "" {
			if id := idOf(name); out[id] == "" {
				out[id] = name
			}
		}
	}
	return out, nil
}

// idOf gives the ID of a circuit by its name, so that a row keeps its own when
// the circuit is listed.
func idOf(name string) domain.ID {
	sum := sha256.Sum256([]byte(domain.CircuitKey(name)))
	return domain.ID("k" + hex.EncodeToString(sum[:8]))
}

func setCell(p *domain.Project, c edits.Cell, named map[domain.ID]string) (string, error) {
	id, field := split(c.Path)
	k := find(p, id)
	if k == nil {
		name, known := named[id]
		if !known {
			return "", c.Gone("this circuit")
		}
		if k = p.Circuit(name); k == nil {
			if len(p.Circuits) >= mostCircuits {
				return "", c.Refusef("%d circuits are listed; more do not fit", mostCircuits)
			}
			p.Circuits = append(p.Circuits, domain.Circuit{ID: id, Seq: nextSeq(p), Name: name})
			k = &p.Circuits[len(p.Circuits)-1]
		}
	}
	if field == "name" {
		return "", c.Refusef("a circuit has the name that its loads give it: change it in the rooms")
	}
	return edits.SetField(domain.Env{Project: p}, domain.CircuitFields, k, c, field, "circuit "+k.Name)
}

// add lists a circuit that no load names yet.
func (s Screen) add(w http.ResponseWriter, r *http.Request) {
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) {
		var k domain.Circuit
		env := domain.Env{Project: p}
		for _, f := range domain.CircuitFields {
			text := r.PostFormValue(f.Name)
			if text == "" && f.Name != "name" {
				continue
			}
			if err := f.Set(env, &k, text); err != nil {
				return "", edits.Refusef("%s: %w", f.Title, err)
			}
		}
		if p.Circuit(k.Name) != nil {
			return "", edits.Refusef("circuit %s is listed already: change it in the table", k.Name)
		}
		if len(p.Circuits) >= mostCircuits {
			return "", edits.Refusef("%d circuits are listed; more do not fit", mostCircuits)
		}
		k.ID, k.Seq = idOf(k.Name), nextSeq(p)
		if find(p, k.ID) != nil { // one that came from a file may have it
			k.ID = domain.NewID()
		}
		p.Circuits = append(p.Circuits, k)
		return "listed circuit " + k.Name, nil
	})
	s.desk().Done(w, r, outcome, err, "")
}

// remove forgets the facts of a circuit; loads that name it keep its name.
func (s Screen) remove(w http.ResponseWriter, r *http.Request) {
	_, id := edits.Row(r)
	outcome, err := s.desk().Apply(r, func(p *domain.Project) (string, error) {
		k := find(p, id)
		if k == nil {
			return "", edits.Refusef("nothing is stated of this circuit: there is nothing to forget")
		}
		said := "forgot the facts of circuit " + k.Name
		p.Circuits = slices.DeleteFunc(p.Circuits, func(x domain.Circuit) bool { return x.ID == id })
		return said, nil
	})
	s.desk().Done(w, r, outcome, err, "")
}

func find(p *domain.Project, id domain.ID) *domain.Circuit {
	for i := range p.Circuits {
		if p.Circuits[i].ID == id {
			return &p.Circuits[i]
		}
	}
	return nil
}

func nextSeq(p *domain.Project) int {
	n := 0
	for i := range p.Circuits {
		n = max(n, p.Circuits[i].Seq)
	}
	return n + 1
}

// split reads "circuits/<id>/<field>".
func split(path string) (id domain.ID, field string) {
	steps := strings.Split(path, "/")
	if len(steps) != 3 || steps[0] != "circuits" {
		return "", ""
	}
	return domain.ID(steps[1]), steps[2]
}
