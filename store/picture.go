package store

import (
	"context"
	"database/sql"
	"errors"

	"scopewright/domain"
)

// mostPicture bounds one stored picture; what is read of it must fit in memory
// several times over.
const mostPicture = 64 << 20 // bytes

// PutPicture stores a picture and gives its SHA-256 in hexadecimal, by which
// plans name it. The same picture again takes no further room. It is no edit:
// the journal holds only which picture a plan shows.
func (s *Store) PutPicture(ctx context.Context, projectID domain.ID, media string, width, height int, data []byte) (string, error) {
	switch {
	case len(data) == 0 || width <= 0 || height <= 0 || media == "":
		return "", refuse("the picture is empty: choose another file")
	case len(data) > mostPicture:
		return "", refuse("the picture has %d MiB; at most %d MiB are kept: save it with fewer pixels or in black and white", len(data)>>20, mostPicture>>20)
	}
	sha := hashOf(data)
	err := s.submit(ctx, "storing a picture", func(w *work) (effects, error) {
		if _, err := w.source().projectNow(projectID); err != nil {
			return effects{}, err
		}
		_, err := w.exec("INSERT INTO pictures (project_id, sha256, media, width, height, data) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (project_id, sha256) DO NOTHING",
			projectID, sha, media, width, height, data)
		return effects{}, err
	})
	return sha, err
}

// Picture gives a stored picture and its media type.
func (s *Store) Picture(ctx context.Context, projectID domain.ID, sha string) (media string, data []byte, err error) {
	err = s.one(ctx, "SELECT media, data FROM pictures WHERE project_id = ? AND sha256 = ?", []any{projectID, sha}, &media, &data)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil, notFound("the picture of this plan is not in the database: bring it in again")
	}
	return media, data, s.translate(err, "reading a picture")
}
