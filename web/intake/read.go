package intake

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"scopewright/domain/units"
	"scopewright/export/exchange"
	"scopewright/store/intake/luminaires"
	"scopewright/store/intake/roomlist"
	"scopewright/store/intake/table"
	"scopewright/web/edits"
)

// read works out what a parcel holds. Its errors are sentences for the person
// who sent the file.
func (p *parcel) read(system units.System) error {
	if exchange.LooksLike(p.data) {
		return p.readProject()
	}
	return p.readList(system)
}

// readList reads a table, of the kind that was said or that it turns out to be.
func (p *parcel) readList(system units.System) error {
	t, err := table.Read(p.name, p.data, table.Options{Sheet: p.sheet})
	if err != nil {
		return err
	}
	p.table = t
	switch p.kind {
	case isLuminaires:
		p.luminaires, err = luminaires.Parse(t)
		return err
	case isRooms:
		p.rooms, err = roomlist.Parse(t, roomlist.Options{Units: system})
		return err
	}
	return p.findOut(system)
}

// findOut takes the table for a room list, and where it is none for a
// luminaire schedule.
func (p *parcel) findOut(system units.System) error {
	var asRooms, asLuminaires error
	if p.rooms, asRooms = roomlist.Parse(p.table, roomlist.Options{Units: system}); asRooms == nil {
		p.kind = isRooms
		return nil
	}
	if p.luminaires, asLuminaires = luminaires.Parse(p.table); asLuminaires == nil {
		p.kind = isLuminaires
		return nil
	}
	return fmt.Errorf("this is neither a room list (%w) nor a luminaire schedule (%w)", asRooms, asLuminaires)
}

func (p *parcel) readProject() error {
	p.kind = isProject
	var err error
	p.scope, err = exchange.Read(bytes.NewReader(p.data))
	return err
}

// sentences gives what is wrong with a file as one or several sentences.
func sentences(err error) []string {
	var refused *exchange.Refused
	if errors.As(err, &refused) {
		var out []string
		for _, p := range refused.Problems {
			out = append(out, strings.TrimPrefix(p.String(), ": "))
		}
		return out
	}
	return []string{edits.SentenceOf(err)}
}
