package rehearse

import (
	"encoding/json"
	"errors"
	"math"
	"net/http"
	"slices"

	"scopewright/domain"
	"scopewright/domain/equipment"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// Bounds of what one rehearsal may be. A week is what a scenario's steps may
// span; nobody makes 400 steps by hand.
const (
	mostSteps  = 400
	mostBytes  = 256 << 10
	longest    = 7 * 86400 // seconds
	mostLux    = 200000
	mostButton = 64
)

// rehearsal is what the page sends: what it started with, what happened since,
// and the moment that it shows. The server keeps nothing of it.
type rehearsal struct {
	Day   string                `json:"day"`
	Start string                `json:"start"`
	Mode  domain.Mode           `json:"mode"`
	Steps []domain.ScenarioStep `json:"steps"`
	Now   units.Seconds         `json:"now_s"`
	Why   domain.ID             `json:"why"` // the load of which the causes are told
}

// readRehearsal reads the body of a request.
func readRehearsal(w http.ResponseWriter, r *http.Request, b *bench) (*rehearsal, error) {
	var out rehearsal
	err := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostBytes)).Decode(&out)
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return nil, edits.Refusef("this rehearsal is too long: clear it and start anew")
	case err != nil:
		return nil, edits.Refusef("the rehearsal could not be read: reload the page")
	}
	return &out, out.check(b)
}

// parseRehearsal reads the text of a form's field.
func parseRehearsal(text string, b *bench) (*rehearsal, error) {
	var out rehearsal
	if len(text) > mostBytes {
		return nil, edits.Refusef("this rehearsal is too long: clear it and start anew")
	}
	if err := json.Unmarshal([]byte(text), &out); err != nil {
		return nil, edits.Refusef("the rehearsal could not be read: reload the page")
	}
	return &out, out.check(b)
}

// check says what of a rehearsal cannot be played, and tidies what can.
func (x *rehearsal) check(b *bench) error {
	if len(x.Steps) > mostSteps {
		return edits.Refusef("this rehearsal has %d steps; at most %d are played: clear it and start anew", len(x.Steps), mostSteps)
	}
	if !inRange(float64(x.Now), 0, longest) {
		return edits.Refusef("a rehearsal lasts at most 7 days")
	}
	given := domain.Scenario{}
	for _, f := range domain.ScenarioFields {
		text := map[string]string{"name": "rehearsal", "day": x.Day, "start": x.Start, "mode": string(x.Mode)}[f.Name]
		if err := f.Set(b.env(), &given, text); err != nil {
			return edits.Refusef("%w", err)
		}
	}
	x.Day, x.Start, x.Mode = given.Day, given.Start, given.Mode
	last := units.Seconds(0)
	for i := range x.Steps {
		if err := checkStep(b, &x.Steps[i], last); err != nil {
			return edits.Refusef("step %d: %w", i+1, err)
		}
		last = x.Steps[i].At
	}
	return nil
}

func inRange(v, least, most float64) bool { return !math.IsNaN(v) && v >= least && v <= most }

// checkStep refuses what cannot happen in the room.
func checkStep(b *bench, st *domain.ScenarioStep, last units.Seconds) error {
	switch {
	case st.Happen == domain.Expect || !slices.Contains(domain.Happenings(), st.Happen):
		return edits.Refusef("nothing called %q happens in a room", short(string(st.Happen)))
	case !inRange(float64(st.At), float64(last), longest):
		return edits.Refusef("its time must not lie before the step above it, nor beyond 7 days")
	case !inRange(float64(st.Lux), 0, mostLux):
		return edits.Refusef("daylight goes from 0 to %s", units.Light(mostLux, b.project.Units))
	case !inRange(float64(st.Level), 0, 100):
		return edits.Refusef("a level goes from 0 to 100 %%")
	case st.Happen == domain.ModeChanged && !slices.Contains(domain.Modes(), domain.Mode(st.Text)):
		return edits.Refusef("%q is no mode", short(st.Text))
	}
	text, err := domain.CleanLine(st.Text, 60)
	if err != nil {
		return err
	}
	st.Text = text
	if st.Happen.OfDevice() {
		return checkInput(b, st)
	}
	return nil
}

// checkInput makes sure that the device can do what the step says.
func checkInput(b *bench, st *domain.ScenarioStep) error {
	d := b.design.Device(st.Device)
	if d == nil {
		return edits.Refusef("its device is no longer in this room: step back, or start anew")
	}
	t := b.project.Book.Find(d.Type)
	if t == nil {
		return edits.Refusef("the equipment book has no type %q for %s", d.Type, d.Tag)
	}
	most := mostInputs(t, st.Happen)
	if most == 0 {
		return edits.Refusef("%s is a %s: it does not do %q", d.Tag, t.Kind.Traits().Name, st.Happen)
	}
	if st.Happen.OfButton() && (st.Button < 1 || st.Button > most) {
		return edits.Refusef("%s has no button or input %d", d.Tag, st.Button)
	}
	return nil
}

// mostInputs is how many buttons or inputs a type has for what happens; 0 where
// it cannot happen there.
func mostInputs(t *equipment.Type, h domain.Happening) int {
	tr := t.Kind.Traits()
	able := false
	switch h {
	case domain.Pressed, domain.HoldStarted, domain.HoldEnded:
		return min(t.Buttons, mostButton)
	case domain.ContactClosed, domain.ContactOpened:
		if tr.Inputs {
			return max(1, t.Inputs)
		}
		return 0
	case domain.Occupied, domain.Vacant:
		able = tr.Presence
	case domain.SensorSilent:
		able = tr.Presence || tr.Daylight
	case domain.DaylightRead:
		able = tr.Daylight
	}
	if able {
		return 1
	}
	return 0
}

func short(text string) string {
	if r := []rune(text); len(r) > 40 {
		return string(r[:37]) + "..."
	}
	return text
}

// scenario gives the rehearsal up to its moment as a scenario without a name.
func (x *rehearsal) scenario() domain.Scenario {
	sc := domain.Scenario{Day: x.Day, Start: x.Start, Mode: x.Mode}
	for i, st := range x.Steps {
		if st.At > x.Now {
			break
		}
		st.Seq = i + 1
		sc.Steps = append(sc.Steps, st)
	}
	return sc
}
