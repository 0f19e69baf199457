package building

import (
	"fmt"

	"scopewright/domain"
	"scopewright/store"
	"scopewright/web/edits"
)

// plan is what an edit of many rooms will do, said before it is done.
type plan struct {
	Button  string   // "Assign to 12 rooms"
	Said    string   // for the journal
	Changes []change // room by room; those that stay as they are left out
	Notes   []string // what else to know
	Wrong   string   // why it cannot be done yet: a field to mend

	apply func(*store.Tx) error
}

// change is what becomes of one room.
type change struct {
	Number, Was, Will string
	unknown           domain.ID // room that must be read to tell what it holds now
}

// operation is one thing that can be done with the selected rooms.
type operation struct {
	Name   string
	Title  string // of the dialog
	Label  string // of the button in the bar
	Danger bool
	plan   func(*bulk) plan
}

// operations lists them in the order of the bar.
var operations = []operation{
	{Name: "typical", Title: "Assign a typical", Label: "Typical...", plan: planTypical},
	{Name: "field", Title: "Set a field", Label: "Set a field...", plan: planField},
	{Name: "kind", Title: "Kind of space, for the energy code", Label: "Kind of space...", plan: planKind},
	{Name: "duplicate", Title: "Duplicate", Label: "Duplicate...", plan: planDuplicate},
	{Name: "renumber", Title: "Renumber", Label: "Renumber...", plan: planRenumber},
	{Name: "move", Title: "Move to a storey", Label: "Move...", plan: planMove},
	{Name: "model", Title: "Make a typical of this room", Label: "Make a typical...", plan: planModel},
	{Name: "delete", Title: "Delete rooms", Label: "Delete...", Danger: true, plan: planDelete},
}

func operationNamed(name string) (operation, bool) {
	for _, o := range operations {
		if o.Name == name {
			return o, true
		}
	}
	return operation{}, false
}

// wrong is a plan that a field stands in the way of.
func wrong(format string, args ...any) plan { return plan{Wrong: fmt.Sprintf(format, args...)} }

// each changes the selected rooms one by one in a transaction.
func each(b *bulk, do func(*store.Tx, *domain.Resolved) error) func(*store.Tx) error {
	ids := b.ids()
	return func(tx *store.Tx) error {
		for _, id := range ids {
			room, err := tx.Room(id)
			if err != nil {
				return err
			}
			if err := do(tx, room); err != nil {
				return err
			}
		}
		return nil
	}
}

// told says for the journal what was done with which rooms.
func told(what string, changes []change) string {
	if len(changes) == 1 {
		return what + " " + changes[0].Number
	}
	if len(changes) == 0 {
		return what + " nothing"
	}
	return fmt.Sprintf("%s %s (%s to %s)", what, edits.Count(len(changes), "room"), changes[0].Number, changes[len(changes)-1].Number)
}
