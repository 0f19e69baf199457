package energy

import (
	"strings"

	"scopewright/domain"
	"scopewright/domain/energy"
	"scopewright/domain/units"
)

// worth says what the saving is worth where the project states rates, and asks for
// those that are missing.
func (v *view) worth(p *domain.Project, all energy.Sum) {
	m, saved := energy.MoneyOf(p), all.SavedKWh()
	v.Worth = append(v.Worth, worth{"Saved against switching by hand", energy.Text(saved) + " kWh a year", percentText(all.Saved()) + " by LENI"})
	if all.AllPlayed() {
		v.Worth = append(v.Worth, worth{"The same by the weeks played", energy.Text(all.PlayedSavedKWh()) + " kWh a year", percentText(all.PlayedSaved()) + " of the same weeks switched by hand"})
	}
	v.Worth = append(v.Worth, worthOf(m, saved)...)
	var missing []string
	if m.Tariff.Value <= 0 {
		missing = append(missing, "the price of energy")
	}
	if m.Carbon.Value <= 0 {
		missing = append(missing, "the carbon dioxide of a kWh")
	}
	if years, pays := m.Payback(saved); pays {
		v.Worth = append(v.Worth, worth{"The controls pay for themselves in", energy.Text(years) + " years, without interest", byRate(withWord(units.Trim(m.Controls.Value, 2), m.Currency), m.Controls)})
	} else if m.Controls.Value == 0 {
		missing = append(missing, "the cost of the controls")
	}
	if len(missing) > 0 {
		v.Ask = "Not stated yet: " + domain.JoinWords(missing) + ". Nothing is built in; enter what the owner knows, with its date and where it comes from."
	}
	if all.LeftOn > 0 {
		v.LeftOn = "Light that people leave on would add " + energy.Text(all.LeftOn) + " kWh a year to LENI by hand, by the habits among the factors below; it is not in the saving by LENI, and the weeks by hand play it."
	}
}

// worthOf gives what a saving of a year is worth by the rates that are stated.
func worthOf(m energy.Money, saved float64) (out []worth) {
	if cost, stated := m.Cost(saved); stated {
		out = append(out, worth{"Money", withWord(energy.Text(cost), m.Currency) + " a year", byRate(withWord(units.Trim(m.Tariff.Value, 5), m.Currency)+" per kWh", m.Tariff)})
	}
	if kg, stated := m.Emitted(saved); stated {
		out = append(out, worth{"Carbon dioxide", energy.Text(kg) + " kg a year", byRate(units.Trim(m.Carbon.Value, 5)+" kg/kWh", m.Carbon)})
	}
	return out
}

// byRate says of a rate its value, date and origin.
func byRate(value string, r domain.Rate) string {
	parts := []string{value}
	if r.Date != "" {
		parts = append(parts, r.Date)
	}
	if r.Origin == "" {
		return strings.Join(append(parts, "origin not stated"), ", ")
	}
	return strings.Join(append(parts, r.Origin), ", ")
}

func withWord(number, word string) string { return strings.TrimSpace(number + " " + word) }
