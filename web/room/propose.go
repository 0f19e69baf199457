package room

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/energycode"
	"scopewright/domain/propose/design"
	"scopewright/domain/units"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// Densities that a person may ask for, W/m2: a candle to a stage.
const (
	leastDensity = 0.5
	mostDensity  = 200
)

// wish is what a request for a first design says.
type wish struct {
	design.Options
	text   string // of the density, as typed
	chosen bool   // take says which groups are ticked; else all are
	take   []int
}

func readWish(p *domain.Project, form url.Values) (wish, error) {
	w := wish{text: strings.TrimSpace(form.Get("density")), chosen: form.Get("chosen") != "" && form.Get("all") == ""}
	w.Luminaire = domain.ID(form.Get("luminaire"))
	if w.text != "" {
		v, err := units.Number(w.text)
		if err == nil && p.Units == units.US {
			v /= units.SquareMetresPerSquareFoot
		}
		if err != nil || !(v >= leastDensity && v <= mostDensity) {
			return w, edits.Refusef("%q is no density to light by: write a number of %s, or leave it empty", w.text, densityUnit(p))
		}
		w.Density = v
	}
	for _, text := range form["take"] {
		n, err := strconv.Atoi(text)
		if err != nil {
			return w, edits.Refusef("the proposal has changed: reload the page and tick its parts again")
		}
		w.take = append(w.take, n)
	}
	return w, nil
}

func densityUnit(p *domain.Project) string {
	if p.Units == units.US {
		return "W/ft2"
	}
	return "W/m2"
}

// proposed gives the first design that a request asks for, and the groups of it
// that it takes.
func (s Screen) proposed(r *http.Request) (*bench, wish, design.Proposal, error) {
	if err := r.ParseForm(); err != nil {
		return nil, wish{}, design.Proposal{}, err
	}
	b, err := s.load(r)
	if err != nil {
		return nil, wish{}, design.Proposal{}, err
	}
	w, err := readWish(b.project, r.Form)
	if err != nil {
		return nil, w, design.Proposal{}, err
	}
	rules := energycode.ZoneCodeOf(b.project).Rules
	w.Zones = &rules
	out := design.Room(b.project, b.room, w.Options)
	if !w.chosen {
		w.take = out.All()
	}
	return b, w, out, nil
}

// proposal shows a first design of the room: what each part of it adds and why,
// and the findings before and with the ticked parts.
func (s Screen) proposal(w http.ResponseWriter, r *http.Request) {
	b, asked, out, err := s.proposed(r)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	page := ui.NewPage(r, "Proposed design of "+b.room.Label())
	page.Project, page.Tab, page.Crumbs = b.project, "Rooms", s.page(r, b).Crumbs
	page.Crumbs[len(page.Crumbs)-1].Path = b.path()
	page.Crumbs = append(page.Crumbs, ui.Crumb{Name: "Proposed design"})
	view, err := s.viewProposal(b, asked, &out)
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	edits.Render(w, r, s.Log, http.StatusOK, ProposalPage(page, view))
}

// takeProposal carries out the ticked parts, with those that they need, as one
// step. The base version says that they are the ones which the page showed.
func (s Screen) takeProposal(w http.ResponseWriter, r *http.Request) {
	_, asked, out, err := s.proposed(r)
	if err == nil && len(out.Changes) == 0 && len(out.Short) > 0 {
		err = edits.Refusef("%s", out.Short[0])
	}
	if err == nil && slices.ContainsFunc(asked.take, func(n int) bool { return n < 0 || n >= len(out.Changes) }) {
		err = edits.Refusef("the proposal has changed: reload the page and tick its parts again")
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	outcome, err := s.apply(r, out.Step(asked.take))
	s.done(w, r, outcome, err)
}

// with gives a copy of the room with edits carried out.
func (b *bench) with(list []edit.Edit) (*domain.Resolved, error) {
	out := *b.room
	out.Room, out.Design = b.room.Room.Clone(), b.room.Design.Clone()
	if _, err := edit.All(edit.OfRoom(b.project, &out), list); err != nil {
		return nil, err
	}
	return &out, out.Settle()
}
