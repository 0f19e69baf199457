package plan

import (
	"fmt"
	"net/http"

	"scopewright/domain"
	"scopewright/domain/edit"
	"scopewright/domain/radio"
	"scopewright/domain/units"
	"scopewright/web/edits"
)

// whyView tells what a link is made of.
type whyView struct {
	A, B     string // keys
	Title    string
	Verdict  string
	Grade    grade
	Steps    []whyStep
	Judged   []whyStep
	Assumed  []string
	Others   []domain.Choice // the devices that B may be instead
	Nothing  string          // why there is no link to explain
	DeviceOf string          // tag of A
}

// whyStep is a line of the sum.
type whyStep struct {
	What, Value string
	Wall        string // key of the wall that is crossed
	At          string // where
	Sum         bool
}

// why explains the link of two devices, of one with what it talks through where
// only one is named.
func (s Screen) why(w http.ResponseWriter, r *http.Request) {
	v, err := s.whyOf(r)
	if err != nil {
		status, sentence := edits.Status(err)
		http.Error(w, sentence, status)
		return
	}
	w.Header().Set("Cache-Control", "no-store")
	edits.Render(w, r, s.Log, http.StatusOK, whyLink(*v))
}

func (s Screen) whyOf(r *http.Request) (*whyView, error) {
	q := r.URL.Query()
	a, err := edit.ParseThing(q.Get("a"))
	if err != nil || a.Kind != edit.DeviceThing {
		return nil, edits.Refusef("select a device first")
	}
	st, err := s.read(r)
	if err != nil {
		return nil, err
	}
	room := st.room(a.Room)
	if room == nil || room.Design.Device(a.ID) == nil {
		return nil, edits.Refusef("the device is no longer there")
	}
	d := &marginDrawing{room: room, Room: radio.NewRoom(st.Project, room)}
	v := &whyView{A: q.Get("a"), DeviceOf: room.Design.Device(a.ID).Tag}
	from := -1
	if d.Room != nil {
		from = d.Find(a.ID)
	}
	if from < 0 {
		v.Nothing = v.DeviceOf + " has no radio, or does not stand on the plan."
		return v, nil
	}
	d.net = d.Room.Net()
	v.explain(st, d, from, q.Get("b"))
	return v, nil
}

// explain fills the view for a node and the device that is asked for, or that
// it talks through.
func (v *whyView) explain(st *state, d *marginDrawing, from int, other string) {
	to := -1
	if b, err := edit.ParseThing(other); err == nil {
		if b.Room != d.room.ID {
			v.Nothing = "Links are reckoned within a room: only its gateway talks to other rooms."
			return
		}
		to = d.Find(b.ID)
	} else if from != d.net.Root {
		to = d.tieOf(from).to
	}
	for i := range d.Nodes {
		if i != from && (d.Nodes[i].Routes || d.Nodes[from].Routes) {
			v.Others = append(v.Others, domain.Choice{Value: d.key(i), Label: d.Nodes[i].Device.Tag + ", " + decibels(d.Margin(from, i))})
		}
	}
	switch {
	case from == to:
		v.Nothing = "Select two devices."
	case to < 0 && other == "":
		v.Nothing = "Choose the other end of the link."
	case to < 0:
		v.Nothing = "The other device has no radio, or does not stand on the plan."
	case !d.Nodes[from].Routes && !d.Nodes[to].Routes:
		v.Nothing = "Neither of the two relays for others: they talk through a router."
	default:
		v.B = d.key(to)
		v.tell(st, d, d.Why(from, to))
	}
}

// tell writes the sum and the judgement.
func (v *whyView) tell(st *state, d *marginDrawing, l radio.Link) {
	sys := st.Project.Units
	a, b := l.A.Device.Tag, l.B.Device.Tag
	v.Title, v.Grade = a+" to "+b, d.word(l.Margin)
	v.Verdict = fmt.Sprintf("%s of margin where %s is needed.", decibels(l.Margin), decibels(l.Needed))
	if !l.Good() && l.Walls+l.Ceiling > 0 {
		v.Verdict += fmt.Sprintf(" Without what is in its way it would have %s.", decibels(l.Margin+l.Walls+l.Ceiling))
	}
	height := func(n *radio.Node) string {
		text := n.Device.Tag + " " + units.Nearly(units.Metres(n.Z), sys)
		if n.Guessed {
			text += " (by its mounting)"
		}
		return text
	}
	v.Steps = []whyStep{{What: fmt.Sprintf("Free space over %s, from %s to %s above the floor", units.Nearly(l.Distance, sys), height(l.A), height(l.B)), Value: decibels(l.FreeSpace)}}
	for _, c := range l.Crossed {
		v.Steps = append(v.Steps, whyStep{What: c.What, Value: decibels(c.Loss), Wall: "wall/" + string(c.Wall), At: lookAt(c.At.At)})
	}
	if l.Ceilings > 0 {
		v.Steps = append(v.Steps, whyStep{What: "ceiling", Value: decibels(l.Ceiling)})
	}
	v.Steps = append(v.Steps, whyStep{What: "Loss in all", Value: decibels(l.Loss), Sum: true})
	v.judge(d, &l)
	for _, n := range []*radio.Node{l.A, l.B} {
		text := fmt.Sprintf("%s sends with %s dBm, gains %s dBi and hears down to %s dBm", n.Device.Tag, units.Trim(n.Radio.Power, 1), units.Trim(n.Radio.Gain, 1), units.Trim(n.Radio.Sensitivity, 1))
		if n.Assumed {
			text += ": assumed, its type states no radio"
		}
		v.Assumed = append(v.Assumed, text+".")
	}
	v.Assumed = append(v.Assumed, "Doors are shut. "+domain.CautionPrediction.Text)
}

func (v *whyView) judge(d *marginDrawing, l *radio.Link) {
	why := "the limit"
	if l.ByProbability {
		why = fmt.Sprintf("to hold with %s %%, losses spread by %s", units.Trim(100*d.Settings.Probability, 1), decibels(d.Settings.Sigma))
	}
	v.Judged = []whyStep{
		{What: "Margin, in the worse direction", Value: decibels(l.Margin), Sum: true},
		{What: "Needed: " + why, Value: decibels(l.Needed)},
		{What: fmt.Sprintf("Chance that the link holds, losses spread by %s", decibels(d.Settings.Sigma)), Value: percent(l.Up)},
		{What: "Longest messages lost if the margin is just that", Value: percent(l.Lost)},
		{What: "ITU-R P.1238, newer form, " + l.Band.Row + held(l.Band.NewHolds, l.Band.InRange), Value: band(l.Band.New, l.Band.NewSigma)},
		{What: "ITU-R P.1238, older form, office" + held(l.Band.OldHolds, true), Value: band(l.Band.Old, l.Band.OldSigma)},
	}
}

// held says whether the loss lies in the band of a model.
func held(holds, inRange bool) string {
	text := ": the loss lies outside of it"
	if holds {
		text = ": the loss lies within"
	}
	if !inRange {
		text += ", though the distance is beyond its range"
	}
	return text
}

// band prints a loss with two sigmas to either side.
func band(loss, sigma float64) string { return decibels(loss) + " \u00b1 " + decibels(2*sigma) }

func percent(share float64) string {
	if share < 0.0001 {
		return "under 0.01 %"
	}
	if share > 0.999 {
		return "over 99.9 %"
	}
	return units.Trim(100*share, 2) + " %"
}
