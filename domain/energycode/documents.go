package energycode

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// Documents are the tables that a code finding goes out in, as text: a sheet only
// prints them.
type Documents struct {
	Notice    string
	Key       string // code, edition and amendments
	State     string // whether somebody has read the adopted text beside the pack
	Note      string // what the pack is made of
	Rooms     []RoomTable
	Summary   []SummaryRow
	Total     SummaryRow
	Building  []Row
	Densities []DensityRow
	Density   DensityRow // of the building
	Narrative []Line
}

// RoomTable is all that was judged of one room.
type RoomTable struct {
	ID    domain.ID
	Room  string
	Space string
	Rows  []Row
}

// Row is one requirement.
type Row struct {
	Requirement string // "Automatic off when empty"
	Duty        string // "required", "one of a group"
	Required    string
	Provided    string
	Verdict     Verdict
	Why         string // what is short or has to be known first
	Clause      string
	Mark        string
	Exception   string // claimed by a person, with the reason
	Caution     string
	Notes       string
}

// SummaryRow counts a room's answers.
type SummaryRow struct {
	ID          domain.ID
	Room        string
	Space       string
	Meets       int
	DoesNotMeet int
	CannotTell  int // what the room leaves open
	Open        int // what the pack leaves open
	NotAsked    int
	Claims      int
}

// DensityRow is a room's lighting power beside what its kind of space allows.
type DensityRow struct {
	ID        domain.ID
	Room      string
	Space     string
	Area      string
	Allowed   string // density
	Allowance string // watts: area x allowed density
	Installed string // watts
	Density   string
	Verdict   Verdict
	Why       string
	Clause    string
	Mark      string
}

// Documents writes the report's tables.
func (r *Report) Documents() Documents {
	d := Documents{Notice: Notice, Key: r.Pack.Key(), State: r.Pack.State(), Note: r.Pack.Note}
	d.Total.Room = "All rooms"
	for i := range r.Rooms {
		room := &r.Rooms[i]
		table := RoomTable{ID: room.Room.ID, Room: room.Room.Facts.Room, Space: r.Pack.spaceName(room.Room.Space)}
		sum := SummaryRow{ID: table.ID, Room: table.Room, Space: table.Space}
		for k := range room.Answers {
			a := &room.Answers[k]
			table.Rows = append(table.Rows, a.Row())
			sum.count(a)
		}
		d.Rooms, d.Summary = append(d.Rooms, table), append(d.Summary, sum)
		d.Total.add(sum)
		d.Densities = append(d.Densities, r.densityRow(room))
	}
	for i := range r.Building {
		d.Building = append(d.Building, r.Building[i].Row())
	}
	d.Density = r.densityTotal()
	d.Narrative = r.Narrative()
	return d
}

func (p *Pack) spaceName(id string) string {
	if s := p.Space(id); s != nil {
		return s.Name
	}
	return "not chosen"
}

// Row writes an answer as a row of a table.
func (a *Answer) Row() Row {
	out := Row{Requirement: a.Title, Duty: a.Duty.Words(), Required: a.Required, Provided: a.Provided, Verdict: a.Verdict, Clause: a.Clause(), Caution: a.Caution, Notes: strings.Join(a.Notes(), "; ")}
	if len(a.Basis) > 0 {
		out.Mark = a.MarkWords()
	}
	why := a.Faults
	if len(a.Missing) > 0 {
		why = append(append([]string(nil), why...), "To be known first: "+strings.Join(a.Missing, "; ")+".")
	}
	out.Why = strings.Join(why, " ")
	if c := a.Claim; c != nil {
		out.Exception = c.sentence()
	}
	return out
}

// sentence prints a claimed exception with its reason, and who claims it.
func (c *Claim) sentence() string {
	s := "Exception claimed"
	if c.Words != "" {
		s += ": " + c.Words
	}
	if c.Reason != "" {
		s += ". Reason: " + strings.TrimSuffix(c.Reason, ".")
	}
	if by := strings.Trim(c.Name+", "+c.Date, ", "); by != "" {
		s += " (" + by + ")"
	}
	return s + "."
}

func (s *SummaryRow) count(a *Answer) {
	switch {
	case a.Verdict == Meets:
		s.Meets++
	case a.Verdict == DoesNotMeet:
		s.DoesNotMeet++
	case a.Verdict == NotAsked:
		s.NotAsked++
	case a.Open:
		s.Open++
	default:
		s.CannotTell++
	}
	if a.Claim != nil {
		s.Claims++
	}
}

func (s *SummaryRow) add(o SummaryRow) {
	s.Meets, s.DoesNotMeet, s.CannotTell = s.Meets+o.Meets, s.DoesNotMeet+o.DoesNotMeet, s.CannotTell+o.CannotTell
	s.Open, s.NotAsked, s.Claims = s.Open+o.Open, s.NotAsked+o.NotAsked, s.Claims+o.Claims
}

// densityRow writes a room's lighting power; what is not known stays empty.
func (r *Report) densityRow(room *RoomReport) DensityRow {
	f := &room.Room.Facts
	out := DensityRow{ID: room.Room.ID, Room: f.Room, Space: r.Pack.spaceName(room.Room.Space)}
	ft2 := squareFeet(f.Area)
	if f.Area > 0 {
		out.Area = units.Area(f.Area, r.Units)
	}
	w, known := f.installed()
	if known && len(f.Loads) > 0 {
		out.Installed = wattWords(w)
		if f.Area > 0 {
			out.Density = densityWords(w/ft2, r.Units)
		}
	}
	if d := r.Pack.Density(room.Room.Space); d != nil {
		out.Allowed = densityWords(d.WattsFt2, r.Units)
		if f.Area > 0 {
			out.Allowance = wattWords(d.WattsFt2 * ft2)
		}
	}
	for i := range room.Answers {
		if a := &room.Answers[i]; a.Control == PowerDensity {
			row := a.Row()
			out.Verdict, out.Why, out.Clause, out.Mark = row.Verdict, row.Why, row.Clause, row.Mark
		}
	}
	if out.Verdict == "" {
		out.Verdict, out.Why = CannotTell, "To be known first: the kind of space."
	}
	return out
}

func (r *Report) densityTotal() DensityRow {
	row := r.Building[0].Row()
	out := DensityRow{Room: "All rooms", Area: units.Area(r.Sum.Area, r.Units), Verdict: row.Verdict, Why: row.Why, Clause: row.Clause, Mark: row.Mark}
	out.Installed, out.Allowance = wattWords(float64(r.Sum.Installed)), wattWords(float64(r.Sum.Allowed))
	return out
}
