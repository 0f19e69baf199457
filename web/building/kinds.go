package building

import (
	"context"
	"slices"

	"scopewright/domain"
	"scopewright/domain/energycode"
	"scopewright/store"
	"scopewright/web/edits"
)

// kind is a room's kind of space as the table shows it.
type kind struct {
	Text, Why string
	Own       bool             // the room's own word
	Confirmed bool             // by the designer, of the room or of its typical
	Space     domain.SpaceType // by which it is judged; empty: none
}

// proposed tells that a click can confirm the kind.
func (k kind) proposed() bool { return !k.Confirmed && k.Space != "" }

// readKinds gives the kinds of space of rooms by their IDs. Rooms are held in memory, so
// that those of a page cost a few milliseconds.
func (s Screen) readKinds(ctx context.Context, lines []store.RoomLine) (map[domain.ID]kind, error) {
	out := make(map[domain.ID]kind, len(lines))
	for i := range lines {
		state, err := s.Store.Room(ctx, lines[i].ID)
		if err != nil {
			return nil, err
		}
		out[lines[i].ID] = kindOf(state.Project, state.Resolved)
	}
	return out, nil
}

func kindOf(p *domain.Project, r *domain.Resolved) kind {
	pack := energycode.KindsOf(p)
	found, confirmed := pack.KindOf(r)
	return kind{Text: pack.KindWords(found, confirmed), Why: found.Why, Own: r.Space != "", Confirmed: confirmed, Space: domain.SpaceType(found.Space)}
}

// asProposed stands in the form for taking each room's proposal.
const asProposed = "proposed"

func kindChoices() []domain.Choice {
	out := []domain.Choice{{Value: asProposed, Label: "confirm as proposed"}}
	for _, k := range domain.SpaceTypes() {
		out = append(out, domain.Choice{Value: string(k.Type), Label: k.Name})
	}
	return append(out, domain.Choice{Value: "", Label: "take the word back: as proposed"})
}

// planKind confirms kinds of space as they are proposed, or sets one in all rooms.
func planKind(b *bulk) plan {
	want := domain.SpaceType(b.value("kind"))
	if want != asProposed && want != "" && !slices.ContainsFunc(domain.SpaceTypes(), func(k domain.NamedSpace) bool { return k.Type == want }) {
		return wrong("Choose the kind of space.")
	}
	var p plan
	none := 0
	for i := range b.Lines {
		l := &b.Lines[i]
		k := b.Kinds[l.ID]
		switch {
		case want != asProposed && (k.Own && k.Space == want || !k.Own && want == ""):
		case want != asProposed:
			p.Changes = append(p.Changes, change{Number: l.Number, Was: k.Text, Will: kindName(want)})
		case k.proposed():
			p.Changes = append(p.Changes, change{Number: l.Number, Was: k.Text, Will: kindName(k.Space)})
		case !k.Confirmed:
			none++
		}
	}
	if none > 0 {
		p.Notes = append(p.Notes, subject(none, "has", "have")+" no proposal: state a use and an area, or choose the kind.")
	}
	if n := len(b.Lines) - len(p.Changes) - none; n > 0 {
		p.Notes = append(p.Notes, subject(n, "stays", "stay")+" as confirmed.")
	}
	p.Button, p.Said = "Set in "+edits.Count(len(p.Changes), "room"), told("kind of space set in", p.Changes)
	if want == asProposed {
		p.Button, p.Said = "Confirm in "+edits.Count(len(p.Changes), "room"), told("kind of space confirmed as proposed in", p.Changes)
	}
	p.apply = each(b, func(tx *store.Tx, room *domain.Resolved) error {
		k := b.Kinds[room.ID]
		switch {
		case want != asProposed:
			room.Room.Space = want
		case k.proposed():
			room.Room.Space = k.Space
		default:
			return nil
		}
		return tx.PutBareRoom(room.Room)
	})
	return p
}

func kindName(t domain.SpaceType) string {
	if t == "" {
		return "as proposed"
	}
	return t.Name()
}
