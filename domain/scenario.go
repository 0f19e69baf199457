package domain

import (
	"fmt"
	"slices"
	"strings"

	"scopewright/domain/equipment"
	"scopewright/domain/units"
)

// Scenario is one story of a room, told in steps: given a day, a time and a
// mode; when things happen; then loads are at their levels.
type Scenario struct {
	ID    ID             `json:"id"`
	Seq   int            `json:"seq"`
	Name  string         `json:"name"`
	Day   string         `json:"day,omitempty"`   // a weekday, "holiday" or an ISO date; empty: Mon
	Start string         `json:"start,omitempty"` // "09:00"; empty: 09:00
	Mode  Mode           `json:"mode,omitempty"`  // empty: as the calendar says, else normal
	Steps []ScenarioStep `json:"steps,omitempty"`
}

// ScenarioStep is either something that happens or something that is expected,
// at a time after the start. Steps at the same time run in their order.
type ScenarioStep struct {
	ID     ID            `json:"id"`
	Seq    int           `json:"seq"`
	At     units.Seconds `json:"at_s,omitempty"`
	Happen Happening     `json:"happen"`
	Device ID            `json:"device,omitempty"` // whose button, sensor or input it is
	Button int           `json:"button,omitempty"` // or the number of a contact's input
	Load   ID            `json:"load,omitempty"`   // whose level is expected; empty: all lighting loads
	Level  units.Level   `json:"level,omitempty"`  // expected output, or the level that an event brings
	Lux    units.Lux     `json:"lx,omitempty"`     // of a daylight reading
	Text   string        `json:"text,omitempty"`   // an AV command, a mode, or where a daylight reading comes from
}

// Happening is what a step of a scenario is.
type Happening string

// The happenings. Expect is not an event: it looks at a load's output.
const (
	Expect          Happening = "expect"
	Pressed         Happening = "press"
	HoldStarted     Happening = "hold"
	HoldEnded       Happening = "release"
	Occupied        Happening = "occupied"
	Vacant          Happening = "vacant"
	SensorSilent    Happening = "silent"
	DaylightRead    Happening = "daylight"
	ContactClosed   Happening = "contact closed"
	ContactOpened   Happening = "contact open"
	AVCommand       Happening = "av command"
	DemandStarted   Happening = "demand response start"
	DemandEnded     Happening = "demand response end"
	PowerLost       Happening = "power lost"
	PowerRestored   Happening = "power back"
	NetworkLost     Happening = "network lost"
	NetworkRestored Happening = "network back"
	EmergencyBegan  Happening = "emergency start"
	EmergencyEnded  Happening = "emergency end"
	ModeChanged     Happening = "mode"
	PartitionOpens  Happening = "partition opens"
	PartitionCloses Happening = "partition closes"
)

// Happenings lists all of them in the order in which people look for them.
func Happenings() []Happening {
	return []Happening{Expect, Pressed, HoldStarted, HoldEnded, Occupied, Vacant, SensorSilent, DaylightRead, ContactClosed, ContactOpened, AVCommand,
		DemandStarted, DemandEnded, PowerLost, PowerRestored, NetworkLost, NetworkRestored, EmergencyBegan, EmergencyEnded, ModeChanged, PartitionOpens, PartitionCloses}
}

// OfDevice tells that the happening needs a device.
func (h Happening) OfDevice() bool {
	switch h {
	case Pressed, HoldStarted, HoldEnded, Occupied, Vacant, SensorSilent, DaylightRead, ContactClosed, ContactOpened:
		return true
	}
	return false
}

// OfButton tells that the happening needs a button or an input's number.
func (h Happening) OfButton() bool {
	return h == Pressed || h == HoldStarted || h == HoldEnded || h == ContactClosed || h == ContactOpened
}

// ScenarioFields are the facts of a scenario.
var ScenarioFields = []Field[Scenario]{
	requiredField("name", "Name", func(s *Scenario) *string { return &s.Name }),
	dayField(),
	clockField("start", "Starts at", func(s *Scenario) *string { return &s.Start }),
	choiceField("mode", "Mode", fixed[Scenario](Modes()...), func(s *Scenario) *Mode { return &s.Mode }),
}

func dayField() Field[Scenario] {
	return Field[Scenario]{Name: "day", Title: "Day", Hint: "a weekday, \"holiday\" or a date", Empty: "Mon",
		Show: func(_ Env, s *Scenario) string { return s.Day },
		Set: func(_ Env, s *Scenario, text string) error {
			day, err := CleanScenarioDay(text)
			if err == nil {
				s.Day = day
			}
			return err
		}}
}

// CleanScenarioDay reads the day on which a scenario plays.
func CleanScenarioDay(text string) (string, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	if t == "" || t == "holiday" {
		return t, nil
	}
	if i, ok := weekday(t); ok {
		return weekdays[i], nil
	}
	if day, _, err := Holiday(t); err == nil {
		return day.Format("2006-01-02"), nil
	}
	return "", fmt.Errorf("%q is no day: write a weekday like Mon, \"holiday\", or a date like 2026-06-21", shortText(text))
}

// StepFields are the columns of a scenario's steps.
var StepFields = []Field[ScenarioStep]{
	durationField("at_s", "At", "min", 7*86400, func(s *ScenarioStep) *units.Seconds { return &s.At }),
	mustChoose(choiceField("happen", "What", fixed[ScenarioStep](Happenings()...), func(s *ScenarioStep) *Happening { return &s.Happen })),
	choiceField("device", "Input", func(e Env, s *ScenarioStep) []Choice { return inputChoices(e, s.Happen) }, func(s *ScenarioStep) *ID { return &s.Device }),
	intField("button", "Button", 0, 64, func(s *ScenarioStep) *int { return &s.Button }),
	choiceField("load", "Load", func(e Env, _ *ScenarioStep) []Choice { return loadChoices(e, func(*Load) bool { return true }) }, func(s *ScenarioStep) *ID { return &s.Load }),
	levelField("level", "Level", func(s *ScenarioStep) *units.Level { return &s.Level }),
	lightField("lx", "Daylight", 200000, func(s *ScenarioStep) *units.Lux { return &s.Lux }),
	textField("text", "Command or mode", 60, func(s *ScenarioStep) *string { return &s.Text }),
}

// inputChoices are the devices that can do what a step says.
func inputChoices(e Env, h Happening) []Choice {
	return deviceChoices(e, func(t *equipment.Type) bool {
		tr := t.Kind.Traits()
		switch h {
		case Pressed, HoldStarted, HoldEnded:
			return tr.Buttons
		case Occupied, Vacant:
			return tr.Presence
		case SensorSilent:
			return tr.Presence || tr.Daylight
		case DaylightRead:
			return tr.Daylight
		case ContactClosed, ContactOpened:
			return tr.Inputs
		case AVCommand:
			return t.Kind == equipment.AV
		}
		return tr.Links
	})
}

// Clone gives a scenario that shares nothing with this one.
func (s *Scenario) Clone() Scenario {
	out := *s
	out.Steps = slices.Clone(s.Steps)
	return out
}

// Step gives the step of that ID, nil where there is none.
func (s *Scenario) Step(id ID) *ScenarioStep {
	for i := range s.Steps {
		if s.Steps[i].ID == id {
			return &s.Steps[i]
		}
	}
	return nil
}

// Sentence tells the step: "09:10 ST-1 button 2 is pressed", without the time.
func (s *ScenarioStep) Sentence(e Env) string {
	who := e.deviceTag(s.Device)
	button := func() string {
		if e.Design != nil {
			if d := e.Design.Device(s.Device); d != nil {
				return who + " button " + d.ButtonName(s.Button)
			}
		}
		return fmt.Sprintf("%s button %d", who, s.Button)
	}
	switch s.Happen {
	case Expect:
		return fmt.Sprintf("%s at %s", e.stepLoad(s.Load), units.Percent(s.Level))
	case Pressed:
		return button() + " is pressed"
	case HoldStarted:
		return button() + " is held"
	case HoldEnded:
		return button() + " is let go"
	case Occupied, Vacant:
		return who + " reports " + string(s.Happen)
	case SensorSilent:
		return who + " falls silent"
	case DaylightRead:
		said := who + " reads " + units.Light(s.Lux, e.system())
		if s.Text != "" {
			said += " (" + s.Text + ")"
		}
		return said
	case ContactClosed, ContactOpened:
		state := "closes"
		if s.Happen == ContactOpened {
			state = "opens"
		}
		return fmt.Sprintf("the contact at %s, input %d, %s", who, max(1, s.Button), state)
	case AVCommand:
		return fmt.Sprintf("the AV command %q arrives", s.Text)
	case DemandStarted:
		return "demand response starts"
	case DemandEnded:
		return "demand response ends"
	case PowerLost:
		return "power is lost"
	case PowerRestored:
		return "power comes back"
	case NetworkLost:
		return "the building network is lost"
	case NetworkRestored:
		return "the building network comes back"
	case EmergencyBegan:
		return "the emergency signal starts"
	case EmergencyEnded:
		return "the emergency signal ends"
	case ModeChanged:
		return fmt.Sprintf("the mode becomes %s", s.Text)
	case PartitionOpens:
		return "the partition is opened"
	case PartitionCloses:
		return "the partition is closed"
	}
	return string(s.Happen)
}

func (e Env) stepLoad(id ID) string {
	if id == "" {
		return "all lighting loads"
	}
	return e.loadTag(id)
}
