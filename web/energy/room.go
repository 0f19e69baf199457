package energy

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/a-h/templ"
	"github.com/go-chi/chi/v5"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// roomView is a room's year, ready to print.
type roomView struct {
	Title, Room, Problem string
	Building             string // the screen of all rooms
	Facts                []domain.Choice
	Line                 line
	US                   bool
	AreaUnit             string
	Day                  templ.Component // nil: not played
	Clock                []hourView
	Hours                string // that the stated hours are not in the figures
	Whys                 []whyView
	Leni, Weeks, More    string
	Worth                []worth // of the saving, where the project states rates
	Loads                []loadView
	Notes                []string
}

type hourView struct{ Clock, In, Lamps, Saved string }

type whyView struct{ Cause, KWh, Text string }

// loadView is a load with the factors that gave its part.
type loadView struct{ Load, Watts, Control, FO, Class, Rule, Dims, FD, KWh, Hand string }

// room shows the year of one room: by the standard's factors, by the hours of an
// average day, and why the two differ.
func (s Screen) room(w http.ResponseWriter, r *http.Request) {
	id := edits.ProjectID(r)
	state, err := s.Store.Room(r.Context(), domain.ID(chi.URLParam(r, "room")))
	if err == nil && state.ProjectID != id {
		err = edits.Refusef("this room is in another project")
	}
	if err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	m := energy.NewModel(state.Project)
	y := m.Room(state.Resolved)
	if err := m.Play(&y, true); err != nil {
		edits.Refuse(w, r, s.Log, err)
		return
	}
	page := ui.NewPage(r, "Energy of room "+state.Resolved.Number)
	page.Project, page.Tab = state.Project, "Energy"
	page.Crumbs = []ui.Crumb{{Name: state.Project.Name, Path: ui.Project(id)}, {Name: "Energy use", Path: ui.Energy(id)}}
	edits.Render(w, r, s.Log, http.StatusOK, roomPage(page, newRoomView(state.Project, &y)))
}

func newRoomView(p *domain.Project, y *energy.Year) roomView {
	v := roomView{Title: y.Room.Label(), Room: ui.Room(p.ID, y.Room.ID), Building: ui.Energy(p.ID), Problem: y.Problem, US: p.Units == units.US, AreaUnit: "m2", Notes: y.LENI.Notes}
	if v.US {
		v.AreaUnit = "sq ft"
	}
	if y.Problem != "" {
		return v
	}
	v.Hours = hoursNote(p, []*energy.Year{y})
	var one energy.Sum
	one.Add(y, energy.Habit{})
	v.Line = (&view{US: v.US}).lineOf(y.Room.Label(), one)
	if m := energy.MoneyOf(p); one.SavedKWh() > 0 {
		v.Worth = worthOf(m, one.SavedKWh())
	}
	pr := y.Setting.Profile
	v.Facts = []domain.Choice{{Value: "Use", Label: y.Room.Use.Name()}, {Value: "Hours of use", Label: fmt.Sprintf("%s h with daylight, %s h without, a year", units.Trim(pr.Day, 0), units.Trim(pr.Night, 0))},
		{Value: "Empty", Label: percentText(pr.Absence) + " of them"}, {Value: "Task", Label: units.Light(units.Lux(pr.Lx), p.Units)}, {Value: "Source of these", Label: pr.Source}}
	for i := range y.LENI.Lines {
		v.Loads = append(v.Loads, newLoadView(&y.LENI.Lines[i]))
	}
	if y.Played != nil {
		v.play(y)
	}
	return v
}

func newLoadView(l *energy.Line) loadView {
	out := loadView{Load: strings.TrimSpace(l.Load.Tag + " " + l.Load.Name), Watts: figures(float64(l.Watts)), Control: string(l.Control), FO: factor(l.People), Class: string(l.Class), Rule: string(l.Rule), Dims: "no", FD: factor(l.Sky), KWh: figures(l.KWh), Hand: figures(l.ByHand)}
	if l.Percent > 0 {
		out.Rule += ", " + units.Trim(l.Percent, 1) + " %"
	}
	if l.Dims {
		out.Dims = "yes"
	}
	return out
}

// factor prints a factor of 0 to 1 as the sheet does.
func factor(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// play adds what the weeks give.
func (v *roomView) play(y *energy.Year) {
	v.Leni, v.Weeks, v.More = figures(y.LENI.Use.Total()), figures(y.Played.Total()), difference(y.Played.Total()-y.LENI.Use.Total())
	for _, w := range y.Whys() {
		v.Whys = append(v.Whys, whyView{string(w.Cause), difference(w.KWh), w.Text})
	}
	if len(y.LENI.Lines) == 0 {
		return
	}
	v.Day = chart(drawing.EnergyDay("An average day of use of room "+y.Room.Number, y.Played))
	for h, hour := range y.Played.Hours {
		v.Clock = append(v.Clock, hourView{fmt.Sprintf("%02d:00", h), percentText(hour.In), figures(hour.Lamps), figures(max(0, hour.Bright-hour.Lamps))})
	}
}
