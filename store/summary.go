package store

import (
	"slices"
	"strings"

	"scopewright/domain"
	"scopewright/domain/equipment"
)

// Summary is what lists show of a room without opening it. Rules are the IDs
// of the rules that found something.
type Summary struct {
	Controlled                                  bool // has devices
	Devices, Gateways, Loads                    int
	Watts                                       float64
	Errors, Warnings, Infos, Waived, Exceptions int
	Rules                                       []string
}

// CountOnly is the summary without judgement: it counts and finds nothing.
func CountOnly(p *domain.Project, r *domain.Resolved) Summary {
	sum := Summary{Devices: len(r.Design.Devices), Loads: len(r.Design.Loads), Controlled: len(r.Design.Devices) > 0}
	for i := range r.Design.Devices {
		if t := p.Book.Find(r.Design.Devices[i].Type); t != nil && t.Kind == equipment.Gateway {
			sum.Gateways++
		}
	}
	for i := range r.Design.Loads {
		w, _, _ := r.Design.Loads[i].Power(p)
		sum.Watts += float64(w)
	}
	for _, c := range r.Exceptions {
		if !domain.Own(c) {
			sum.Exceptions++
		}
	}
	return sum
}

// found packs rule IDs so that one can be looked for between spaces.
func (s Summary) found() string {
	if len(s.Rules) == 0 {
		return ""
	}
	ids := slices.Clone(s.Rules)
	slices.Sort(ids)
	return " " + strings.Join(slices.Compact(ids), " ") + " "
}

// sums are the summary columns of a row.
type sums struct {
	Controlled bool    `db:"controlled"`
	Devices    int     `db:"devices"`
	Gateways   int     `db:"gateways"`
	Loads      int     `db:"loads"`
	Watts      float64 `db:"watts"`
	Errors     int     `db:"errors"`
	Warnings   int     `db:"warnings"`
	Infos      int     `db:"infos"`
	Waived     int     `db:"waived"`
	Exceptions int     `db:"exceptions"`
	Found      string  `db:"found"`
}

const sumColumns = "controlled, devices, gateways, loads, watts, errors, warnings, infos, waived, exceptions, found"

func (s Summary) columns() sums {
	return sums{s.Controlled, s.Devices, s.Gateways, s.Loads, s.Watts, s.Errors, s.Warnings, s.Infos, s.Waived, s.Exceptions, s.found()}
}

func (c *sums) summary() Summary {
	return Summary{c.Controlled, c.Devices, c.Gateways, c.Loads, c.Watts, c.Errors, c.Warnings, c.Infos, c.Waived, c.Exceptions, strings.Fields(c.Found)}
}

func (c *sums) into() []any {
	return []any{&c.Controlled, &c.Devices, &c.Gateways, &c.Loads, &c.Watts, &c.Errors, &c.Warnings, &c.Infos, &c.Waived, &c.Exceptions, &c.Found}
}

func (c *sums) args() []any {
	return []any{asInt(c.Controlled), c.Devices, c.Gateways, c.Loads, c.Watts, c.Errors, c.Warnings, c.Infos, c.Waived, c.Exceptions, c.Found}
}

func asInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// judged gives the numbers of a room that lists show: its summary, and whether
// what was signed has changed since.
func (s *Store) judged(p *domain.Project, r *domain.Resolved, signedHash string) (sums, bool) {
	return s.options.Summarize(p, r).columns(), s.stale(p, r, signedHash)
}

func (s *Store) stale(p *domain.Project, r *domain.Resolved, signedHash string) bool {
	return signedHash != "" && s.options.Hash != nil && s.options.Hash(p, r) != signedHash
}
