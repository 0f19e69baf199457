package edit

import (
	"fmt"
	"strconv"
	"strings"

	"scopewright/domain"
)

// setLinkCell writes one cell of the matrix, named by its link's ID.
func setLinkCell(s *Subject, id domain.ID, text string) (string, error) {
	link, err := parseLinkID(id)
	if err != nil {
		return "", err
	}
	dev, load := s.Design.Device(link.Device), s.Design.Load(link.Load)
	if dev == nil {
		return "", gone("the device")
	}
	if load == nil {
		return "", gone("the load")
	}
	if link.Do, err = domain.ParseAction(text); err != nil {
		return "", err
	}
	if err := fits(s, dev, link); err != nil {
		return "", err
	}
	before := ""
	kept := s.Design.Links[:0:0]
	for _, old := range s.Design.Links {
		if old.ID == id {
			before = old.Do.String()
			continue
		}
		kept = append(kept, old)
	}
	if link.Do.Verb != "" {
		kept = append(kept, link)
	}
	s.Design.Links = kept
	where := dev.Tag
	if link.Button > 0 {
		where += " " + dev.ButtonName(link.Button)
	}
	return says(where, "on "+load.Tag, before, link.Do.String()), nil
}

func parseLinkID(id domain.ID) (domain.Link, error) {
	link := domain.Link{ID: id}
	input, load, ok := strings.Cut(string(id), ":")
	parts := strings.Split(input, ".")
	link.Load, link.Device = domain.ID(load), domain.ID(parts[0])
	if len(parts) == 3 {
		link.Button, _ = strconv.Atoi(parts[1])
		link.On = domain.Gesture(parts[2])
	}
	if !ok || domain.LinkID(link.Device, link.Button, link.On, link.Load) != id {
		return link, fmt.Errorf("there is no matrix cell %q", id)
	}
	return link, nil
}

// fits refuses what an input of the kind cannot say.
func fits(s *Subject, dev *domain.Device, link domain.Link) error {
	t := s.Project.Book.Find(dev.Type)
	if t == nil {
		return fmt.Errorf("%s is of a type that the equipment book does not have: choose its type first", dev.Tag)
	}
	tr, verb := t.Kind.Traits(), link.Do.Verb
	switch {
	case verb == "":
		return nil
	case !tr.Links:
		return fmt.Errorf("%s acts on no loads by itself", dev.Tag)
	case tr.Buttons && (link.Button < 1 || link.Button > t.Buttons):
		return fmt.Errorf("%s has no button %d", dev.Tag, link.Button)
	case tr.Buttons && link.On != domain.Press && link.On != domain.Hold:
		return fmt.Errorf("%q is no gesture of a button", link.On)
	case tr.Inputs && (link.Button < 1 || link.Button > max(1, t.Inputs)):
		return fmt.Errorf("%s has no input %d", dev.Tag, link.Button)
	case !tr.Buttons && !tr.Inputs && link.Button != 0:
		return fmt.Errorf("%s has no buttons", dev.Tag)
	case tr.Buttons && verb == domain.Acts:
		return fmt.Errorf("say what the button does: a level, SC2 for scene 2, TGL, UP, DN or LAST")
	case !tr.Buttons && verb != domain.Acts && verb != domain.Nothing:
		return fmt.Errorf("write ACT where %s acts on the load, - where it does not; the intents say what then happens", dev.Tag)
	case verb == domain.ToScene && s.Design.SceneNumbered(link.Do.Scene) == nil:
		return fmt.Errorf("there is no scene %d yet: add it first", link.Do.Scene)
	}
	return nil
}
