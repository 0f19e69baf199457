package controls

import (
	"fmt"
	"slices"
	"strconv"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// Gone looks for what points at a thing that is no longer there: a load, a
// device, a button, a scene, a router, a feed or a luminaire type.
var Gone = rule.Rule{
	ID: "controls-gone", Title: "Link to something gone", Severity: rule.Error, Scope: rule.OfRoom,
	Why:     "What is left pointing at a removed thing prints as a riddle, and may come to mean something else when its number is used again.",
	Source:  commonPractice,
	Example: "A button cell for a load that was removed does not pass, nor one that recalls scene 9 where there is none, nor a load on a controller that is gone.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		out = goneLinks(f, out)
		out = goneOfLoads(f, out)
		out = goneOfDevices(f, out)
		out = goneOfScenes(f, out)
		return goneOfIntents(f, out)
	},
	Fires: func() *domaintest.Builder {
		return domaintest.Classroom().Spoil(func(d *domain.Design) {
			d.Links = append(d.Links, domain.Link{ID: "st.1.press:lost", Device: "st", Button: 1, On: domain.Press, Load: "lost", Do: domain.Action{Verb: domain.ToLevel, Level: 100}})
		})
	},
	Quiet: func() *domaintest.Builder { return domaintest.Classroom() },
}

func gone(path string, about rule.Subject, message string, fix *rule.Fix) rule.Finding {
	return rule.Finding{Key: path, Subjects: []rule.Subject{about}, Message: message, Fix: fix}
}

func goneLinks(f *rule.Facts, out []rule.Finding) []rule.Finding {
	for i := range f.Links {
		k := &f.Links[i]
		missing := missingEnd(f, k)
		if missing == "" {
			continue
		}
		about := cellSubject(k)
		fix := &rule.Fix{Title: "Remove the cell", Edits: []edit.Edit{edit.Drop{Path: cellPath(k)}}}
		out = append(out, gone(cellPath(k), about, fmt.Sprintf("The matrix cell of %s points at %s: remove it or set it anew.", about.Tag, missing), fix))
	}
	return out
}

// missingEnd says what a cell points at that is not there, "" where all is.
func missingEnd(f *rule.Facts, k *rule.Link) string {
	switch {
	case k.From == nil:
		return "a device that is gone"
	case k.To == nil:
		return "a load that is gone"
	case k.From.Type == nil: // another rule's
		return ""
	case !k.From.Traits.Links:
		return "loads, but " + rule.Named(k.From.Tag) + " acts on none by itself"
	case !k.Fits:
		return noInput(k)
	case k.Do.Verb == domain.ToScene && f.Design.SceneNumbered(k.Do.Scene) == nil:
		return "scene " + strconv.Itoa(k.Do.Scene) + ", which is gone"
	}
	return ""
}

func noInput(k *rule.Link) string {
	if k.From.Traits.Buttons && k.Button <= k.From.Type.Buttons {
		return fmt.Sprintf("a gesture (%q) that buttons do not have", k.On)
	}
	if k.From.Traits.Inputs {
		return fmt.Sprintf("input %d, which the type does not have", k.Button)
	}
	return fmt.Sprintf("button %d, which the type does not have", k.Button)
}

func goneOfLoads(f *rule.Facts, out []rule.Finding) []rule.Finding {
	for i := range f.Loads {
		l := &f.Loads[i]
		path := "loads/" + string(l.ID)
		if l.Controller != "" && l.Carrier == nil {
			out = append(out, gone(path+"/controller", l.Subject(), rule.Named(l.Tag)+" hangs on a controller that is gone: choose another.",
				rule.SetFields("Take "+rule.Named(l.Tag)+" off it", path+"/controller", "")))
		}
		if l.Luminaire != "" && l.Lum == nil {
			out = append(out, gone(path+"/luminaire", l.Subject(), rule.Named(l.Tag)+" is of a luminaire type that the schedule does not have: choose another.", nil))
		}
	}
	return out
}

func goneOfDevices(f *rule.Facts, out []rule.Finding) []rule.Finding {
	for i := range f.Devices {
		d := &f.Devices[i]
		path, name := "devices/"+string(d.ID), rule.Named(d.Tag)
		if d.Parent != "" && f.Device(d.Parent) == nil {
			out = append(out, gone(path+"/parent", d.Subject(), "The parent router of "+name+" is gone: assign parents.", rule.SetFields("Clear the parent", path+"/parent", "")))
		}
		if d.FedBy != "" && f.Device(d.FedBy) == nil {
			out = append(out, gone(path+"/fed_by", d.Subject(), "The device that feeds "+name+" is gone: choose another.", rule.SetFields("Clear the feed", path+"/fed_by", "")))
		}
		if slices.ContainsFunc(d.Hears, func(id domain.ID) bool { return f.Device(id) == nil }) {
			out = append(out, gone(path+"/hears", d.Subject(), "Among the routers in reach of "+name+" is one that is gone.", rule.SetFields("Take it out", path+"/hears", left(d.Hears, func(id domain.ID) bool {
				r := f.Device(id)
				return r != nil && r.Routes()
			}))))
		}
	}
	return out
}

func goneOfScenes(f *rule.Facts, out []rule.Finding) []rule.Finding {
	for i := range f.Design.Scenes {
		s := &f.Design.Scenes[i]
		for j := range s.Levels {
			if f.Load(s.Levels[j].ID) != nil {
				continue
			}
			path := "scenes/" + string(s.ID) + "/levels/" + string(s.Levels[j].ID)
			out = append(out, gone(path, rule.SceneSubject(s), fmt.Sprintf("Scene %d %s sets a level for a load that is gone.", s.Number, s.Name),
				&rule.Fix{Title: "Remove the level", Edits: []edit.Edit{edit.Drop{Path: path}}}))
		}
	}
	return out
}

func goneOfIntents(f *rule.Facts, out []rule.Finding) []rule.Finding {
	for i := range f.Design.Intents {
		in := &f.Design.Intents[i]
		path, name := "intents/"+string(in.ID), in.Kind.Title()
		if in.Device != "" && f.Device(in.Device) == nil {
			out = append(out, gone(path+"/device", rule.IntentSubject(in), "The input of the intent "+name+" is gone: name another.", rule.SetFields("Clear the input", path+"/device", "")))
		}
		if in.Scene > 0 && f.Design.SceneNumbered(in.Scene) == nil {
			out = append(out, gone(path+"/scene", rule.IntentSubject(in), fmt.Sprintf("The intent %s goes to scene %d, which is not there: add it or name another.", name, in.Scene), nil))
		}
		lost := func(id domain.ID) bool { return f.Load(id) == nil }
		if !slices.ContainsFunc(in.Loads, lost) {
			continue
		}
		fits := func(id domain.ID) bool {
			l := f.Load(id)
			return l != nil && (l.Kind == domain.Receptacle) == (in.Kind == domain.ForReceptacles)
		}
		rest := left(in.Loads, fits)
		fix := rule.SetFields("Take it out", path+"/loads", rest)
		if rest == "" { // no loads named would mean all of them
			fix = &rule.Fix{Title: "Remove the intent, which is for nothing else", Edits: []edit.Edit{edit.Remove{Part: "intents", ID: in.ID}}}
		}
		out = append(out, gone(path+"/loads", rule.IntentSubject(in), "The intent "+name+" names a load that is gone.", fix))
	}
	return out
}

func left(ids []domain.ID, keep func(domain.ID) bool) string {
	text := ""
	for _, id := range ids {
		if keep(id) {
			text += string(id) + ","
		}
	}
	return text
}
