package domain

// Opinion is where the talk about one checklist item stands: all its steps,
// and what the newest verdict and the answer to it are.
type Opinion struct {
	Item    ChecklistItem
	Verdict Verdict // empty: not yet looked at
	By      *Review // the step with the newest verdict; nil: none
	Answer  *Review // the newest answer after that verdict; nil: none
	Steps   []Review
}

// Open tells that the newest verdict is an objection: it stays open until the
// reviewer says otherwise, whatever was answered.
func (o *Opinion) Open() bool { return o.Verdict == Object }

// Last gives the newest step's ID, empty where nothing was said.
func (o *Opinion) Last() ID {
	if n := len(o.Steps); n > 0 {
		return o.Steps[n-1].ID
	}
	return ""
}

// Opinions joins the items that are asked of a place with the steps about it,
// given in the order in which they were made. Steps about an item that the
// checklist no longer has are left out.
func Opinions(list []ChecklistItem, asked Asked, steps []Review) []Opinion {
	var out []Opinion
	at := map[ID]int{}
	for _, item := range list {
		if item.For == asked {
			at[item.ID] = len(out)
			out = append(out, Opinion{Item: item})
		}
	}
	for i := range steps {
		step := &steps[i]
		n, known := at[step.ItemID]
		if !known {
			continue
		}
		o := &out[n]
		o.Steps = append(o.Steps, *step)
		if step.Verdict != "" {
			o.Verdict, o.By, o.Answer = step.Verdict, step, nil
		}
		if step.Answer != "" {
			o.Answer = step
		}
	}
	return out
}

// Tally counts opinions by verdict.
type Tally struct{ Agreed, Objected, NotApplicable, Open int }

// CountOpinions tallies opinions; Open are those not yet looked at.
func CountOpinions(list []Opinion) Tally {
	var t Tally
	for i := range list {
		switch list[i].Verdict {
		case Agree:
			t.Agreed++
		case Object:
			t.Objected++
		case NotApplicable:
			t.NotApplicable++
		default:
			t.Open++
		}
	}
	return t
}
