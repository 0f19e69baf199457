package energycode

import (
	"slices"
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
	Claims    []ClaimRow
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
	Open        bool // the pack, not the room, leaves the question open
}

// Answer says the verdict in a table: what the pack leaves open is set apart from what
// the room has to state first, as the counts do.
func (r *Row) Answer() string {
	if r.Verdict == CannotTell && r.Open {
		return "left open"
	}
	return string(r.Verdict)
}

// ClaimRow is an exception that a person claims from a check of a room.
type ClaimRow struct {
	ID                                 domain.ID
	Room, Check, Exception, Name, Date string
	Verdict                            Verdict // without the exception
}

// SummaryRow counts a room's answers.
type SummaryRow struct {
	ID          domain.ID
	Room        string
	Space       string
	Meets       int
	DoesNotMeet int
	Claimed     int // of those that are not met: with an exception claimed
	CannotTell  int // what the room leaves open
	Open        int // what the pack leaves open
	NotAsked    int
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
			d.claim(table.ID, table.Room, a)
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
	out := Row{Requirement: a.Title, Duty: a.dutyWords(), Open: a.Open, Required: a.Required, Provided: a.Provided, Verdict: a.Verdict, Clause: a.Clause(), Caution: a.Caution, Notes: strings.Join(a.Notes(), "; ")}
	if len(a.Basis) > 0 {
		out.Mark = a.MarkWords()
	}
	why := slices.Clone(a.Faults)
	if a.Beside != "" {
		why = append(why, a.Beside)
	}
	if len(a.Missing) > 0 {
		why = append(why, "To be known first: "+a.MissingWords()+".")
	}
	out.Why = strings.Join(why, " ")
	if c := a.Claim; c != nil {
		out.Exception = c.sentence()
	}
	return out
}

// dutyWords says the duty; of a check that a limit of the code keeps from being asked
// here, that the duty has one.
func (a *Answer) dutyWords() string {
	if a.Duty == Required && a.Verdict == NotAsked {
		return "required where it applies"
	}
	return a.Duty.Words()
}

// claim notes the exception that is claimed from a check.
func (d *Documents) claim(id domain.ID, room string, a *Answer) {
	if c := a.Claim; c != nil {
		d.Claims = append(d.Claims, ClaimRow{ID: id, Room: room, Check: a.Title, Exception: c.why(), Name: c.Name, Date: c.Date, Verdict: a.Verdict})
	}
}

// why gives the exception as the code puts it, and the reason.
func (c *Claim) why() string {
	if c.Words == "" || c.Reason == "" {
		return c.Words + c.Reason
	}
	return c.Words + ". " + c.Reason
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
		if a.Claim != nil {
			s.Claimed++
		}
	case a.Verdict == NotAsked:
		s.NotAsked++
	case a.Open:
		s.Open++
	default:
		s.CannotTell++
	}
}

func (s *SummaryRow) add(o SummaryRow) {
	s.Meets, s.DoesNotMeet, s.CannotTell = s.Meets+o.Meets, s.DoesNotMeet+o.DoesNotMeet, s.CannotTell+o.CannotTell
	s.Open, s.NotAsked, s.Claimed = s.Open+o.Open, s.NotAsked+o.NotAsked, s.Claimed+o.Claimed
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
