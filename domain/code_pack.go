package domain

// CodePack names an energy code by whose figures the rooms are checked: a built-in one
// or a worksheet of the project by its ID.
type CodePack string

// NamedPack is a code with its name as printed.
type NamedPack struct {
	ID   CodePack
	Name string
}

// codePacks are the codes that can be chosen. The figures lie with the checks, which
// build on this package: here stands only what may be named.
var codePacks = []NamedPack{
	{"ashrae-90.1-2019", "ASHRAE 90.1-2019"},
	{"ashrae-90.1-2022", "ASHRAE 90.1-2022"},
	{"iecc-2018", "IECC 2018"},
	{"iecc-2021", "IECC 2021"},
	{"california-2022", "California 2022"},
}

// CodePacks lists the codes that can be chosen.
func CodePacks() []NamedPack { return append([]NamedPack(nil), codePacks...) }

// Name gives the code as printed.
func (c CodePack) Name() string {
	for _, p := range codePacks {
		if p.ID == c {
			return p.Name
		}
	}
	return string(c)
}

// packChoices begins with none, so that a form can show that none is chosen and a
// person can go back to it.
func packChoices(_ Env, p *Project) []Choice {
	out := []Choice{{"", "none chosen"}}
	for _, k := range codePacks {
		out = append(out, Choice{string(k.ID), k.Name})
	}
	for i := range p.Worksheets {
		out = append(out, Choice{string(p.Worksheets[i].ID), "worksheet " + p.Worksheets[i].Title})
	}
	return out
}

// CodeName gives the code by which the project is checked as printed.
func (p *Project) CodeName() string {
	if w := p.Worksheet(ID(p.CodePack)); w != nil {
		return "worksheet " + w.Title
	}
	if p.CodePack == "" {
		return "none chosen"
	}
	return p.CodePack.Name()
}

func packNames() []string {
	out := make([]string, len(codePacks))
	for i, p := range codePacks {
		out[i] = string(p.ID)
	}
	return out
}
