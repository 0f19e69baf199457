package domain

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"scopewright/domain/units"
)

// Gesture is what happens at an input. Buttons have press and hold; sensors and
// contacts act by themselves, so their gesture is empty.
type Gesture string

// The gestures.
const (
	Press Gesture = "press"
	Hold  Gesture = "hold"
)

// Link is one cell of the matrix: what an input does to a load.
type Link struct {
	ID     ID      `json:"id"` // LinkID of the other fields
	Device ID      `json:"device"`
	Button int     `json:"button,omitempty"`
	On     Gesture `json:"on,omitempty"`
	Load   ID      `json:"load"`
	Do     Action  `json:"do"`
}

// LinkID gives the one ID that the cell of an input and a load can have.
func LinkID(device ID, button int, on Gesture, load ID) ID {
	id := string(device)
	if button > 0 {
		id += "." + strconv.Itoa(button) + "." + string(on)
	}
	return ID(id + ":" + string(load))
}

// Verb is what an input does to a load.
type Verb string

// The verbs. Acts is a sensor's or contact's: the intents say what then
// happens. Nothing is written where the input does nothing on purpose.
const (
	ToLevel   Verb = "level"
	ToScene   Verb = "scene"
	Toggle    Verb = "toggle"
	Raise     Verb = "raise"
	Lower     Verb = "lower"
	LastLevel Verb = "last"
	Acts      Verb = "acts"
	Nothing   Verb = "nothing"
)

// Action is a verb with its number: a level, or a scene's number. If limits it
// to one state of a divisible room's partition.
type Action struct {
	Verb  Verb           `json:"verb"`
	Level units.Level    `json:"level,omitempty"`
	Scene int            `json:"scene,omitempty"`
	If    PartitionState `json:"if,omitempty"`
}

// String prints the action as it stands in the matrix: "SC1", "SC1 @open".
func (a Action) String() string {
	if a.If != "" && a.Verb != "" {
		return a.plain() + " @" + string(a.If)
	}
	return a.plain()
}

func (a Action) plain() string {
	switch a.Verb {
	case ToLevel:
		return units.Trim(float64(a.Level), 1)
	case ToScene:
		return "SC" + strconv.Itoa(a.Scene)
	case Toggle:
		return "TGL"
	case Raise:
		return "UP"
	case Lower:
		return "DN"
	case LastLevel:
		return "LAST"
	case Acts:
		return "ACT"
	case Nothing:
		return "-"
	}
	return ""
}

var sceneCell = regexp.MustCompile(`^(?:SC|SCENE)\s*(\d{1,3})$`)

// ParseAction reads a matrix cell: a level, SC and a scene number, TGL, UP, DN,
// LAST, ACT, or - for nothing on purpose; "@open" or "@closed" behind it limits
// it to that state of the partition. Empty text gives an empty action.
func ParseAction(text string) (Action, error) {
	cell, state, limited := strings.Cut(text, "@")
	a, err := parsePlainAction(cell)
	if err != nil || !limited {
		return a, err
	}
	a.If = PartitionState(strings.ToLower(strings.TrimSpace(state)))
	if a.Verb == "" || a.If != PartitionOpen && a.If != PartitionClosed {
		return Action{}, fmt.Errorf("%q is no action: write @open or @closed behind one, like SC1 @open", text)
	}
	return a, nil
}

func parsePlainAction(text string) (Action, error) {
	t := strings.ToUpper(strings.TrimSpace(text))
	switch t {
	case "":
		return Action{}, nil
	case "-", "--", "—", "–", "NONE":
		return Action{Verb: Nothing}, nil
	case "TGL", "TOGGLE":
		return Action{Verb: Toggle}, nil
	case "UP", "RAISE", "+":
		return Action{Verb: Raise}, nil
	case "DN", "DOWN", "LOWER":
		return Action{Verb: Lower}, nil
	case "LAST":
		return Action{Verb: LastLevel}, nil
	case "ACT", "X", "YES", "ACTS":
		return Action{Verb: Acts}, nil
	case "OFF":
		return Action{Verb: ToLevel}, nil
	case "ON":
		return Action{Verb: ToLevel, Level: 100}, nil
	}
	if m := sceneCell.FindStringSubmatch(t); m != nil {
		n, _ := strconv.Atoi(m[1])
		return Action{Verb: ToScene, Scene: n}, nil
	}
	l, err := units.ParseLevel(t)
	if err != nil {
		return Action{}, fmt.Errorf("%q is no action: write a level 0 to 100, SC2 for scene 2, TGL, UP, DN, LAST, ACT, or - for nothing", text)
	}
	return Action{Verb: ToLevel, Level: l}, nil
}

// TurnsOn tells whether the action can light a load, given the scenes.
func (a Action) TurnsOn(d *Design, load ID) bool {
	switch a.Verb {
	case Toggle, Raise, LastLevel:
		return true
	case ToLevel:
		return a.Level > 0
	case ToScene:
		if s := d.SceneNumbered(a.Scene); s != nil {
			l := s.LevelOf(load)
			return l != nil && !l.Leave && l.Level > 0
		}
	}
	return false
}

// TurnsOff tells whether the action can darken a load, given the scenes.
func (a Action) TurnsOff(d *Design, load ID) bool {
	switch a.Verb {
	case Toggle:
		return true
	case ToLevel:
		return a.Level == 0
	case ToScene:
		if s := d.SceneNumbered(a.Scene); s != nil {
			l := s.LevelOf(load)
			return l != nil && !l.Leave && l.Level == 0
		}
	}
	return false
}

// Inputs lists the matrix rows that a device contributes: one a button and
// gesture, or one for the whole device.
type Input struct {
	Device ID
	Button int
	On     Gesture
}

// Link gives the cell of an input and a load, nil where it is undecided.
func (d *Design) Link(in Input, load ID) *Link {
	id := LinkID(in.Device, in.Button, in.On, load)
	for i := range d.Links {
		if d.Links[i].ID == id {
			return &d.Links[i]
		}
	}
	return nil
}
