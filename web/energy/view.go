package energy

import (
	"math"
	"net/http"
	"strconv"

	"github.com/a-h/templ"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
	"scopewright/export/drawing"
	"scopewright/web/edits"
	"scopewright/web/ui"
)

// view is what the page shows, ready to print.
type view struct {
	Project  domain.ID
	Base     string // revisions that edits without script are based on
	Count    string
	Hours    string // that the stated hours are not in the figures; empty: none are stated
	Place    string // what the project lacks for daylight; empty: nothing
	AreaUnit string
	US       bool
	Storeys  []line
	All      line
	Bars     templ.Component // nil: nothing to draw
	Band     templ.Component
	Averages []energy.Published
	Upper    string
	Worth    []worth
	Ask      string // what the money lacks; empty: nothing
	LeftOn   string // what light left on would add; empty: nothing
	Rates    ui.Grid
	Chosen   domain.ID // storey whose rooms are listed; empty: all
	Choices  []domain.Choice
	Rooms    []line
	Unplayed string // why the weeks of other storeys are not played; empty: they are
	Left     []left
	Profiles ui.Grid
	Factors  ui.Grid
}

// line is a room, a storey or the building with its figures, as printed.
type line struct {
	Name, Path                                         string
	Area, Watts, Lamps, Standby, LENI, Per, Hand, Save string
	Weeks, WeeksHand, WeeksSave, More                  string
}

// worth is one thing that the saving is worth.
type worth struct{ Title, Value, By string }

// left is what is not in the figures, and the rooms of which that is true.
type left struct {
	Text  string
	Rooms []link
}

type link struct{ Name, Path string }

// mostPlayed is how many rooms are played at once; of larger projects one storey is,
// which the reader chooses. 300 rooms take well under a second.
const mostPlayed = 300

func (s Screen) load(r *http.Request) (edits.View, error) {
	id := edits.ProjectID(r)
	p, revision, err := s.Store.Project(r.Context(), id)
	if err != nil {
		return edits.View{}, err
	}
	b, err := s.building(r, p)
	if err != nil {
		return edits.View{}, err
	}
	v, err := newView(p, b, domain.ID(edits.Query(r).Get("storey")))
	if err != nil {
		return edits.View{}, err
	}
	v.Base = edits.FormatBase(edits.Subject("project", id), revision)
	page, err := s.desk().Page(r, p, "Energy use", "Energy")
	return edits.View{
		Page: page, Base: v.Base, Main: content(v),
		Value: func(path string) (string, string) { return value(p, path) },
	}, err
}

// building is a project's rooms by storey, reckoned.
type building struct {
	model   *energy.Model
	storeys []storey
	years   []*energy.Year
}

type storey struct {
	id    domain.ID
	name  string
	years []*energy.Year
}

func (s Screen) building(r *http.Request, p *domain.Project) (*building, error) {
	b := &building{model: energy.NewModel(p)}
	for _, choice := range ui.StoreyChoices(p) {
		rooms, err := s.Store.StoreyRooms(r.Context(), p.ID, domain.ID(choice.Value))
		if err != nil {
			return nil, err
		}
		st := storey{id: domain.ID(choice.Value), name: choice.Label}
		for _, room := range rooms {
			y := b.model.Room(room.Resolved)
			st.years = append(st.years, &y)
		}
		b.storeys, b.years = append(b.storeys, st), append(b.years, st.years...)
	}
	return b, nil
}

// play plays the weeks of the storey that is chosen, of all where they are few, and
// gives the storey whose rooms are listed.
func (b *building) play(chosen domain.ID) (domain.ID, error) {
	known := false
	for i := range b.storeys {
		known = known || b.storeys[i].id == chosen
	}
	few := len(b.years) <= mostPlayed
	if !known {
		chosen = ""
		for i := range b.storeys {
			if !few && chosen == "" && len(b.storeys[i].years) > 0 {
				chosen = b.storeys[i].id
			}
		}
	}
	for i := range b.storeys {
		if !few && b.storeys[i].id != chosen {
			continue
		}
		for _, y := range b.storeys[i].years {
			if err := b.model.Play(y, false); err != nil {
				return chosen, err
			}
		}
	}
	return chosen, nil
}

func newView(p *domain.Project, b *building, chosen domain.ID) (view, error) {
	v := view{Project: p.ID, Count: edits.Count(len(b.years), "room"), AreaUnit: "m2", US: p.Units == units.US, Place: b.model.Lacks(), Choices: ui.StoreyChoices(p),
		Averages: energy.PublishedAverages(), Upper: percentText(energy.UpperTogether()), Rates: ratesGrid(p), Profiles: profilesGrid(p, usesOf(b.years)), Factors: factorsGrid(p)}
	if v.US {
		v.AreaUnit = "sq ft"
	}
	var err error
	if v.Chosen, err = b.play(chosen); err != nil {
		return v, err
	}
	if len(b.years) > mostPlayed {
		v.Unplayed = "The weeks of a large project are played storey by storey: choose one."
	}
	v.Hours = hoursNote(p, b.years)
	habit, all := energy.HabitOf(p), energy.Sum{}
	var names []string
	var sums []energy.Sum
	for i := range b.storeys {
		st, sum := &b.storeys[i], energy.Sum{}
		for _, y := range st.years {
			sum.Add(y, habit)
			if v.Chosen == "" || v.Chosen == st.id {
				v.addRoom(p, y)
			}
		}
		if sum.Rooms == 0 {
			continue
		}
		all.Join(sum)
		names, sums = append(names, st.name), append(sums, sum)
		v.Storeys = append(v.Storeys, v.lineOf(st.name, sum))
	}
	v.All = v.lineOf("All", all)
	if len(sums) > 0 {
		v.Bars, v.Band = chart(drawing.EnergyBars("Energy of a year by storey, by LENI", names, sums)), chart(drawing.SavingBars(all))
	}
	v.worth(p, all)
	return v, nil
}

func hoursNote(p *domain.Project, years []*energy.Year) string {
	var profiles []energy.Profile
	for _, y := range years {
		if y.Problem == "" && len(y.LENI.Lines) > 0 {
			profiles = append(profiles, y.Setting.Profile)
		}
	}
	return energy.HoursNote(p, profiles)
}

func (v *view) addRoom(p *domain.Project, y *energy.Year) {
	l := line{Name: y.Room.Label(), Path: ui.EnergyRoom(p.ID, y.Room.ID)}
	switch {
	case y.Problem != "":
		v.leave(p, y, "No area is stated and no outline drawn: these rooms are not in the figures")
		return
	case len(y.LENI.Lines) == 0:
		v.leave(p, y, "No lighting load states its watts: these rooms are not in the figures")
		return
	}
	var one energy.Sum
	one.Add(y, energy.Habit{})
	l = v.lineOf(l.Name, one)
	l.Path = ui.EnergyRoom(p.ID, y.Room.ID)
	if y.Played != nil {
		l.More = difference(y.Played.Total() - y.LENI.Use.Total())
	}
	v.Rooms = append(v.Rooms, l)
	if len(y.LENI.Unknown) > 0 {
		v.leave(p, y, "Some loads state no watts and are not in the figures")
	}
	for _, n := range y.LENI.Notes {
		v.leave(p, y, domain.UpperFirst(n))
	}
	if y.Played != nil && y.Played.Daylight != "" {
		v.leave(p, y, "No daylight is played in the weeks: "+y.Played.Daylight)
	}
}

// leave notes of a room what is not in its figures.
func (v *view) leave(p *domain.Project, y *energy.Year, text string) {
	room := link{y.Room.Number, ui.Room(p.ID, y.Room.ID)}
	for i := range v.Left {
		if v.Left[i].Text == text {
			v.Left[i].Rooms = append(v.Left[i].Rooms, room)
			return
		}
	}
	v.Left = append(v.Left, left{text, []link{room}})
}

func (v *view) lineOf(name string, s energy.Sum) line {
	area := s.Area
	if v.US {
		area /= units.SquareMetresPerSquareFoot
	}
	l := line{Name: name, Area: figures(area), Watts: figures(s.Watts), Lamps: figures(s.Lamps), Standby: figures(s.Standby), LENI: figures(s.LENI()), Per: figures(s.LENI() * units.SquareMetresPerSquareFoot), Hand: figures(s.ByHand), Save: "–", Weeks: "–", WeeksHand: "–", WeeksSave: "–"}
	if s.ByHand > 0 && s.SavedKWh() >= 0 {
		l.Save = percentText(s.Saved())
	}
	if !s.AllPlayed() {
		return l
	}
	l.Weeks, l.WeeksHand = figures(s.Played), figures(s.Hand)
	if s.Hand > 0 && s.PlayedSavedKWh() >= 0 {
		l.WeeksSave = percentText(s.PlayedSaved())
	}
	return l
}

// figures prints at most three significant figures with the decimals of the printed
// sheet, for columns; words take energy.Text.
func figures(v float64) string {
	rounded, decimals := energy.Figures(v)
	return strconv.FormatFloat(rounded, 'f', decimals, 64)
}

func percentText(share float64) string { return units.Trim(math.Round(100*share), 0) + " %" }

// difference prints a difference with its sign.
func difference(v float64) string {
	switch text := figures(math.Abs(v)); {
	case math.Abs(v) < 0.005:
		return "0"
	case v < 0:
		return "−" + text
	default:
		return "+" + text
	}
}
