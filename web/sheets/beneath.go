package sheets

import (
	"context"
	"slices"

	"scopewright/domain"
	"scopewright/export"
	"scopewright/export/drawing"
	"scopewright/store/intake/raster"
	"scopewright/web/edits"
)

// picturesBeneath gathers the pictures that an order's storey plans show. A
// page in the browser fetches them by their address; a file holds them.
func (s Screen) picturesBeneath(ctx context.Context, o order, scope *domain.Scope) (map[string]drawing.Stored, error) {
	if !o.beneath {
		return nil, nil
	}
	out := map[string]drawing.Stored{}
	for i := range scope.Plans {
		u := scope.Plans[i].Underlay
		if u == nil || len(o.only.Storeys) > 0 && !slices.Contains(o.only.Storeys, scope.Plans[i].ID) {
			continue
		}
		if _, held := out[u.Picture]; held {
			continue
		}
		var stored drawing.Stored
		if o.format != export.HTML {
			var err error
			if stored, err = s.stored(ctx, o.project, u.Picture); err != nil {
				return nil, err
			}
		}
		out[u.Picture] = stored
	}
	return out, nil
}

// stored gives a picture so that a PDF can hold it.
func (s Screen) stored(ctx context.Context, project domain.ID, sha string) (drawing.Stored, error) {
	media, data, err := s.Store.Picture(ctx, project, sha)
	if err != nil || media == drawing.TracingMedia {
		return drawing.Stored{Media: media, Data: data}, err
	}
	picture, err := raster.Read(data)
	if err != nil {
		return drawing.Stored{}, edits.Refusef("a picture beneath a plan cannot be printed: %v", err)
	}
	return drawing.Stored{Media: picture.Media, Data: picture.Data}, nil
}
