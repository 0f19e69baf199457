package domain

import (
	"fmt"
	"strings"

	"scopewright/domain/units"
)

// RateID names one of the figures by which energy becomes money.
type RateID ID

// The rates.
const (
	RateTariff   RateID = "tariff"
	RateCarbon   RateID = "carbon"
	RateControls RateID = "controls"
)

// Rate is a figure of the owner's: nothing is built in, for tariffs and factors
// differ by place and year.
type Rate struct {
	ID     ID      `json:"id"` // a RateID
	Seq    int     `json:"seq"`
	Value  float64 `json:"value,omitempty"` // 0: not stated
	Date   string  `json:"date,omitempty"`  // ISO, for when it holds
	Origin string  `json:"origin,omitempty"`
}

// RateKind is a rate as printed.
type RateKind struct {
	ID         RateID
	Title, Per string // Per follows the currency's word, or stands alone where Money is false
	Money      bool
}

// RateKinds lists the rates.
func RateKinds() []RateKind {
	return []RateKind{{RateTariff, "Price of energy", "per kWh", true}, {RateCarbon, "Carbon dioxide", "kg/kWh", false},
		{RateControls, "Cost of the controls, over that of switches by hand", "", true}}
}

// Rate gives a rate of the project; its zero value is one that is not stated.
func (p *Project) Rate(id RateID) Rate {
	for i := range p.Rates {
		if p.Rates[i].ID == ID(id) {
			return p.Rates[i]
		}
	}
	return Rate{ID: ID(id)}
}

// RateFields are the columns of the table of rates.
var RateFields = []Field[Rate]{
	{Name: "value", Title: "Value",
		Show: func(_ Env, r *Rate) string {
			if r.Value == 0 {
				return ""
			}
			return units.Trim(r.Value, 5)
		},
		Set: func(_ Env, r *Rate, text string) error {
			v, err := numberOrEmpty(text)
			if err == nil && !(v >= 0 && v <= 1e9) {
				err = fmt.Errorf("a rate goes from 0 to 1,000,000,000; empty: not stated")
			}
			if err == nil {
				r.Value = v
			}
			return err
		}},
	dateField("date", "Of", func(r *Rate) *string { return &r.Date }),
	func() Field[Rate] {
		f := textField("origin", "Where it comes from", 240, func(r *Rate) *string { return &r.Origin })
		f.Wide = true
		return f
	}(),
}

// Name gives a rate in the words of messages.
func (r *Rate) Name() string {
	for _, k := range RateKinds() {
		if ID(k.ID) == r.ID {
			return strings.ToLower(k.Title)
		}
	}
	return string(r.ID)
}

func (c *checker) rates(list []Rate) {
	for i := range list {
		at := fmt.Sprintf("/project/rates/%d", i)
		known := false
		for _, k := range RateKinds() {
			known = known || ID(k.ID) == list[i].ID
		}
		if !known {
			c.add(at+"/id", "there is no rate %q: use tariff, carbon or controls", list[i].ID)
		}
		c.date(at+"/date", list[i].Date)
	}
}
