package domain

// ChecklistItem is one question of the second opinion.
type ChecklistItem struct {
	ID      ID     `json:"id"`
	Seq     int    `json:"seq"`
	Subject string `json:"subject"`
	Text    string `json:"text"`
	For     Asked  `json:"for"` // asked of each room or of the building
}

// Asked is where a checklist item is asked.
type Asked string

// A checklist item is asked of every room, or once of the project.
const (
	AskRoom    Asked = "room"
	AskProject Asked = "project"
)

// Verdict is what a reviewer says to an item.
type Verdict string

// The verdicts; empty is not yet looked at.
const (
	Agree         Verdict = "agree"
	Object        Verdict = "object"
	NotApplicable Verdict = "not applicable"
)

// Known tells that the verdict is one of the set.
func (v Verdict) Known() bool { return v == Agree || v == Object || v == NotApplicable }

// Review is one step in the talk about one item: a reviewer's verdict or a
// designer's answer. Steps are only added; the newest verdict holds.
type Review struct {
	ID      ID      `json:"id"`
	RoomID  ID      `json:"room,omitempty"` // empty: the project
	ItemID  ID      `json:"item"`
	At      string  `json:"at"` // RFC 3339, UTC
	Name    string  `json:"name"`
	Verdict Verdict `json:"verdict,omitempty"`
	Comment string  `json:"comment,omitempty"`
	Answer  string  `json:"answer,omitempty"` // by the designer, to the verdict before it
}

// SignOff is a person's name under a room as it was: it holds while what the
// room's sheet prints has the same hash.
type SignOff struct {
	ID        ID     `json:"id"`
	RoomID    ID     `json:"room"`
	Name      string `json:"name"`
	Role      string `json:"role"`
	At        string `json:"at"`
	Hash      string `json:"hash"`
	Comment   string `json:"comment,omitempty"`
	Withdrawn string `json:"withdrawn,omitempty"` // when it was taken back
}
