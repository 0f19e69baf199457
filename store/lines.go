package store

import (
	"context"
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/units"
)

// RoomLine is a room as a list shows it.
type RoomLine struct {
	ID           domain.ID
	StoreyID     domain.ID
	StoreyName   string
	BuildingName string
	TypicalID    domain.ID
	TypicalName  string
	Number, Name string
	Use          domain.Use
	Area         units.SquareMetres
	Revision     int64
	Summary
	Objections int    // items of the review that are open
	SignedHash string // of the newest sign-off, empty for none
	SignedAt   string
	Stale      bool // signed, and what was signed has changed
}

// ReviewState is where a room's review stands, for filtering.
type ReviewState string

// The states of a review.
const (
	AnyReview   ReviewState = ""
	WithObjects ReviewState = "objections"
	Signed      ReviewState = "signed" // and still as it was signed
	StaleSigned ReviewState = "stale"
	NotSigned   ReviewState = "unsigned" // never signed, or taken back
)

// Severity filters rooms by the worst that was found in them.
type Severity string

// The severities; Clean is a room in which nothing is open.
const (
	AnySeverity  Severity = ""
	WithErrors   Severity = "error"
	WithWarnings Severity = "warning"
	WithInfos    Severity = "info"
	WithWaivers  Severity = "waived"
	Clean        Severity = "clean"
)

// Sort is the order of a list. A minus in front turns it round.
type Sort string

// The orders. The empty one is that of the building: storey by storey, and by
// number on each.
const (
	InOrder      Sort = ""
	ByNumber     Sort = "number"
	ByName       Sort = "name"
	ByUse        Sort = "use"
	ByArea       Sort = "area"
	ByTypical    Sort = "typical"
	ByDevices    Sort = "devices"
	ByWatts      Sort = "watts"
	ByFindings   Sort = "findings"
	ByExceptions Sort = "exceptions"
)

// Filter says which rooms of a project a list shows.
type Filter struct {
	Storey    domain.ID
	Typical   domain.ID
	NoTypical bool // only rooms with a design of their own
	Use       domain.Use
	Text      string // words that number or name must hold
	Rule      string // ID of a rule that found something
	Severity  Severity
	Review    ReviewState
	Limit     int // 0: all
	Offset    int
	Sort      Sort
}

func (f Filter) where(projectID domain.ID) (string, []any) {
	where, args := []string{"r.project_id = ?"}, []any{projectID}
	and := func(condition string, values ...any) {
		where, args = append(where, condition), append(args, values...)
	}
	if f.Storey != "" {
		and("r.storey_id = ?", f.Storey)
	}
	if f.Typical != "" {
		and("r.typical_id = ?", f.Typical)
	}
	if f.NoTypical {
		and("r.typical_id = ''")
	}
	if f.Use != "" {
		and("r.use = ?", string(f.Use))
	}
	words := strings.Fields(strings.ToLower(f.Text))
	for _, word := range words[:min(len(words), wordsAtMost)] {
		and(`r.search LIKE ? ESCAPE '\'`, "%"+escapeLike.Replace(word)+"%")
	}
	if f.Rule != "" {
		and(`r.found LIKE ? ESCAPE '\'`, "% "+escapeLike.Replace(f.Rule)+" %")
	}
	if condition := severityCondition[f.Severity]; condition != "" {
		and(condition)
	}
	if condition := reviewCondition[f.Review]; condition != "" {
		and(condition)
	}
	return strings.Join(where, " AND "), args
}

// wordsAtMost bounds the conditions that a search text makes.
const wordsAtMost = 8

var escapeLike = strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`)

var severityCondition = map[Severity]string{
	WithErrors: "r.errors > 0", WithWarnings: "r.warnings > 0", WithInfos: "r.infos > 0", WithWaivers: "r.waived > 0",
	Clean: "r.errors = 0 AND r.warnings = 0",
}

var reviewCondition = map[ReviewState]string{
	WithObjects: "r.objections > 0", Signed: "r.signed_hash <> '' AND r.stale = 0",
	StaleSigned: "r.signed_hash <> '' AND r.stale = 1", NotSigned: "r.signed_hash = ''",
}

var sortColumns = map[Sort]string{
	ByNumber: "r.sort_key", ByName: "r.name", ByUse: "r.use", ByArea: "r.area", ByTypical: "coalesce(t.name, '')", ByDevices: "r.devices",
	ByWatts: "r.watts", ByFindings: "r.errors * 1000000 + r.warnings * 1000 + r.infos", ByExceptions: "r.exceptions",
}

// RoomLines lists the rooms that pass the filter, and says how many there are
// without Limit and Offset.
func (s *Store) RoomLines(ctx context.Context, projectID domain.ID, f Filter) (lines []RoomLine, total int, err error) {
	err = s.view(ctx, "listing rooms", func(v source) error {
		project, err := v.projectNow(projectID)
		if err != nil {
			return err
		}
		if f.Sort == InOrder || f.Sort == "-" {
			lines, total, err = v.linesInOrder(project.project, f)
		} else {
			lines, total, err = v.linesSorted(projectID, f)
		}
		nameStoreys(project.project, lines)
		return err
	})
	return lines, total, err
}

const lineColumns = "r.id, r.storey_id, r.typical_id, coalesce(t.name, ''), r.number, r.name, r.use, r.area, r.revision, " +
	"r.controlled, r.devices, r.gateways, r.loads, r.watts, r.errors, r.warnings, r.infos, r.waived, r.exceptions, r.found, " +
	"r.objections, r.signed_hash, r.signed_at, r.stale FROM rooms r LEFT JOIN typicals t ON t.id = r.typical_id"

// linesSorted lets the database sort by a column; the number decides ties.
func (s source) linesSorted(projectID domain.ID, f Filter) ([]RoomLine, int, error) {
	where, args := f.where(projectID)
	var total int
	if err := s.scan("SELECT count(*) FROM rooms r WHERE "+where, args, &total); err != nil {
		return nil, 0, err
	}
	column, down := strings.CutPrefix(string(f.Sort), "-")
	order := sortColumns[Sort(column)]
	if order == "" {
		return nil, 0, refuse("a list cannot be sorted by %q", column)
	}
	if down {
		order += " DESC"
	}
	lines, err := s.lines(where+" ORDER BY "+order+", r.sort_key, r.id", args, f.Limit, f.Offset)
	return lines, total, err
}

// linesInOrder counts the rooms of each storey first, and then reads only from
// the storeys that the wanted page reaches into: the order of storeys stands in
// the project's document, where the database cannot see it.
func (s source) linesInOrder(p *domain.Project, f Filter) ([]RoomLine, int, error) {
	where, args := f.where(p.ID)
	counts, total, err := s.countByStorey(where, args)
	if err != nil {
		return nil, 0, err
	}
	var out []RoomLine
	offset := f.Offset
	order := orderOfStoreys(p, counts)
	down := f.Sort == "-"
	if down {
		slices.Reverse(order)
	}
	for _, storey := range order {
		n := counts[storey]
		if offset >= n {
			offset -= n
			continue
		}
		limit := 0
		if f.Limit > 0 {
			limit = f.Limit - len(out)
		}
		by := " ORDER BY r.sort_key, r.id"
		if down {
			by = " ORDER BY r.sort_key DESC, r.id DESC"
		}
		lines, err := s.lines(where+" AND r.storey_id = ?"+by, append(slices.Clone(args), storey), limit, offset)
		if err != nil {
			return nil, 0, err
		}
		out, offset = append(out, lines...), 0
		if f.Limit > 0 && len(out) >= f.Limit {
			break
		}
	}
	return out, total, nil
}

func (s source) countByStorey(where string, args []any) (map[domain.ID]int, int, error) {
	rows, err := s.query("SELECT r.storey_id, count(*) FROM rooms r WHERE "+where+" GROUP BY r.storey_id", args...)
	if err != nil {
		return nil, 0, err
	}
	defer rows.Close()
	counts, total := map[domain.ID]int{}, 0
	for rows.Next() {
		var id domain.ID
		var n int
		if err := rows.Scan(&id, &n); err != nil {
			return nil, 0, err
		}
		counts[id] = n
		total += n
	}
	return counts, total, rows.Err()
}

// orderOfStoreys gives the project's storeys in their order, those with rooms.
func orderOfStoreys(p *domain.Project, counts map[domain.ID]int) []domain.ID {
	var out []domain.ID
	for _, b := range p.Buildings {
		for _, storey := range b.Storeys {
			if counts[storey.ID] > 0 {
				out = append(out, storey.ID)
			}
		}
	}
	return out
}

func (s source) lines(where string, args []any, limit, offset int) ([]RoomLine, error) {
	if limit <= 0 {
		limit = 1 << 40
	}
	rows, err := s.query("SELECT "+lineColumns+" WHERE "+where+" LIMIT ? OFFSET ?", append(slices.Clone(args), limit, offset)...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []RoomLine
	for rows.Next() {
		var l RoomLine
		var sum sums
		into := append([]any{&l.ID, &l.StoreyID, &l.TypicalID, &l.TypicalName, &l.Number, &l.Name, &l.Use, &l.Area, &l.Revision}, sum.into()...)
		if err := rows.Scan(append(into, &l.Objections, &l.SignedHash, &l.SignedAt, &l.Stale)...); err != nil {
			return nil, err
		}
		l.Summary = sum.summary()
		out = append(out, l)
	}
	return out, rows.Err()
}

func nameStoreys(p *domain.Project, lines []RoomLine) {
	type names struct{ storey, building string }
	known := map[domain.ID]names{}
	for _, b := range p.Buildings {
		for _, storey := range b.Storeys {
			known[storey.ID] = names{storey.Name, b.Name}
		}
	}
	for i := range lines {
		n := known[lines[i].StoreyID]
		lines[i].StoreyName, lines[i].BuildingName = n.storey, n.building
	}
}

// Followers lists the rooms that follow a typical, in the order of their
// numbers.
func (s *Store) Followers(ctx context.Context, typicalID domain.ID) ([]RoomLine, error) {
	var lines []RoomLine
	err := s.view(ctx, "listing followers", func(v source) error {
		var projectID domain.ID
		if err := v.scan("SELECT project_id FROM typicals WHERE id = ?", []any{typicalID}, &projectID); err != nil {
			return orNotFound(err, "there is no typical %s: it may have been removed", typicalID)
		}
		project, err := v.projectNow(projectID)
		if err != nil {
			return err
		}
		lines, _, err = v.linesInOrder(project.project, Filter{Typical: typicalID})
		nameStoreys(project.project, lines)
		return err
	})
	return lines, err
}
