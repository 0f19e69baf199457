// Package controls judges who acts on what: buttons, sensors, contacts and
// intents, and what they do to loads. It is one of the families of rules under
// validate.
package controls

import (
	"strconv"

	"scopewright/domain"
	"scopewright/validate/rule"
)

const commonPractice = "common practice, no published source"

// where names the input of a cell: "ST-1 button 2 Present, held".
func where(d *rule.Device, in domain.Input) string {
	name := rule.Named(d.Tag)
	switch {
	case d.Traits.Buttons:
		name += " button " + d.ButtonName(in.Button)
		if in.On == domain.Hold {
			name += " held"
		}
	case in.Button > 0:
		name += " input " + strconv.Itoa(in.Button)
	}
	return name
}

func input(k *rule.Link) domain.Input {
	return domain.Input{Device: k.Link.Device, Button: k.Button, On: k.On}
}

func cellPath(k *rule.Link) string { return "links/" + string(k.ID) }

func cellSubject(k *rule.Link) rule.Subject {
	tag := string(k.ID)
	if k.From != nil {
		tag = where(k.From, input(k))
	}
	return rule.Subject{Part: "links", ID: k.ID, Tag: tag}
}
