package rehearse

import (
	"fmt"
	"slices"

	"scopewright/domain"
	"scopewright/domain/sequence"
	"scopewright/domain/units"
)

// mostLines is how many lines of a timeline stand beside a failure.
const mostLines = 30

// judgeAll runs scenarios: in the room, or in the typical and every room that
// follows it.
func (b *bench) judgeAll(list []told) {
	if len(list) == 0 {
		return
	}
	program := sequence.Compile(b.project, b.design)
	state := program.NewState()
	for i := range list {
		list[i].Verdict = b.judge(state, b.design.Scenario(list[i].ID))
	}
	for _, room := range b.followers {
		f := &bench{project: b.project, room: room, design: &room.Design}
		state := sequence.Compile(b.project, f.design).NewState()
		for i := range list {
			sc := f.design.Scenario(list[i].ID)
			if sc == nil {
				continue // the room does without it, as an exception
			}
			list[i].RoomsOf++
			if v := f.judge(state, sc); !v.Passed {
				list[i].Rooms = append(list[i].Rooms, roomVerdict{room.Label(), f.path(), v})
			}
		}
	}
}

// judge runs one scenario and says where it went wrong.
func (b *bench) judge(state *sequence.State, sc *domain.Scenario) verdict {
	r := state.RunScenario(sc)
	v := verdict{Passed: r.Passed, StepID: r.Step, Problem: r.Problem}
	steps := inOrder(sc)
	v.Empty = !slices.ContainsFunc(steps, func(st domain.ScenarioStep) bool { return st.Happen == domain.Expect })
	if r.Passed {
		return v
	}
	v.Step = 1 + slices.IndexFunc(steps, func(st domain.ScenarioStep) bool { return st.ID == r.Step })
	if r.Load >= 0 {
		tag := b.design.Loads[r.Load].Tag
		v.When = state.Clock(r.At).Format("15:04:05")
		v.Expected, v.Got = tag+" at "+percent(r.Expected), percent(r.Got)
		v.Timeline = b.timeline(sc, r.At)
	}
	return v
}

func percent(level float64) string { return units.Percent(units.Level(round(level, 10))) }

// timeline tells what happened in a scenario up to a time.
func (b *bench) timeline(sc *domain.Scenario, until sequence.Time) []line {
	t := b.newTape(sequence.Start{Day: sc.Day, Clock: sc.Start, Mode: sc.Mode})
	if t.s == nil {
		return nil
	}
	t.until = until
	t.run(playable(*sc).Steps)
	var out []line
	for _, e := range t.out.Log {
		l := line{Clock: t.s.Clock(ms(units.Seconds(e.At))).Format("15:04:05"), What: e.What, Why: e.Why}
		for i, c := range e.Levels {
			sep := ", "
			if i == 0 {
				sep = ": "
			}
			l.What += fmt.Sprintf("%s%s to %s", sep, b.design.Load(c.Load).Tag, percent(c.Level))
		}
		out = append(out, l)
	}
	return out[max(0, len(out)-mostLines):]
}

// outputs gives the levels of all loads at a rehearsal's moment.
func (b *bench) outputs(x *rehearsal) []output {
	program := sequence.Compile(b.project, b.design)
	state := program.NewState()
	if err := state.Begin(startOf(x)); err != nil {
		return nil // the rehearsal was read with its day and clock
	}
	sc := x.scenario()
	for i := range sc.Steps {
		if e, err := program.EventOf(&sc.Steps[i]); err == nil {
			state.Do(e)
		}
	}
	state.AdvanceTo(ms(x.Now))
	out := make([]output, len(b.design.Loads))
	for i := range out {
		out[i] = output{b.design.Loads[i].ID, units.Level(round(state.Output(i, state.Now()), 10))}
	}
	return out
}

// generated gives the scenarios that the intents and scenes suggest.
func (b *bench) generated() []domain.Scenario { return sequence.Generate(b.project, b.design) }
