package store

import (
	"context"

	"scopewright/domain"
)

// StoreyTotals are the sums over the rooms of one storey.
type StoreyTotals struct {
	Storey                                domain.ID
	Rooms, Controlled, Devices, Gateways  int
	Loads                                 int
	Watts                                 float64
	Errors, Warnings, Infos, Waived       int
	Exceptions, Objections, Signed, Stale int
}

// Totals sums the rooms of a project by storey; storeys without rooms are left
// out. The order is that of the building.
func (s *Store) Totals(ctx context.Context, projectID domain.ID) ([]StoreyTotals, error) {
	var out []StoreyTotals
	err := s.view(ctx, "summing up", func(v source) error {
		project, err := v.projectNow(projectID)
		if err != nil {
			return err
		}
		sums, err := v.totals(projectID)
		if err != nil {
			return err
		}
		for _, b := range project.project.Buildings {
			for _, storey := range b.Storeys {
				if t, ok := sums[storey.ID]; ok {
					out = append(out, t)
				}
			}
		}
		return nil
	})
	return out, err
}

func (s source) totals(projectID domain.ID) (map[domain.ID]StoreyTotals, error) {
	rows, err := s.query(`SELECT storey_id, count(*), sum(controlled), sum(devices), sum(gateways), sum(loads), sum(watts), sum(errors), sum(warnings),
		sum(infos), sum(waived), sum(exceptions), sum(objections), sum(CASE WHEN signed_hash <> '' THEN 1 ELSE 0 END), sum(stale)
		FROM rooms WHERE project_id = ? GROUP BY storey_id`, projectID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[domain.ID]StoreyTotals{}
	for rows.Next() {
		var t StoreyTotals
		err := rows.Scan(&t.Storey, &t.Rooms, &t.Controlled, &t.Devices, &t.Gateways, &t.Loads, &t.Watts, &t.Errors, &t.Warnings,
			&t.Infos, &t.Waived, &t.Exceptions, &t.Objections, &t.Signed, &t.Stale)
		if err != nil {
			return nil, err
		}
		out[t.Storey] = t
	}
	return out, rows.Err()
}
