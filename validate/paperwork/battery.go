package paperwork

import (
	"fmt"
	"math"
	"strings"
	"time"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/validate/rule"
)

// Battery looks for batteries whose life is over, or soon is. Real life
// depends on use and warmth.
var Battery = rule.Rule{
	ID: "paperwork-battery", Title: "Battery due for replacement", Severity: rule.Warning, Scope: rule.OfRoom,
	Limits:  []domain.LimitID{domain.StationBatteryLife, domain.SensorBatteryLife, domain.BatteryNotice},
	Why:     "A flat battery in the only station of a room leaves people in the dark; a planned round costs a fraction of a call.",
	Source:  "5 years for stations, 10 for sensors where the type states none: " + commonPractice,
	Example: "A station's battery of 2021-03-01 with a life of 5 years is due on 2026-03-01: on that day it is a warning, from 2025-09-01 on (6 months before) a note, and before that nothing.",
	Check: func(f *rule.Facts) []rule.Finding {
		var out []rule.Finding
		for i := range f.Devices {
			d := &f.Devices[i]
			if d.Fitted == "" || !d.Battery() {
				continue
			}
			fitted, err := time.Parse(time.DateOnly, d.Fitted)
			if err != nil {
				out = append(out, unreadable(d))
				continue
			}
			years := lifeYears(f, d)
			if years <= 0 {
				continue
			}
			due, today := plusMonths(fitted, years*12), day(f.Today)
			notice := plusMonths(due, -f.Limit(domain.BatteryNotice))
			switch {
			case !today.Before(due):
				out = append(out, dueFinding(d, rule.Warning, "due", due, years))
			case !today.Before(notice):
				out = append(out, dueFinding(d, rule.Info, "soon", due, years))
			}
		}
		return out
	},
	Fires: func() *domaintest.Builder { return domaintest.Classroom().Set("devices/ps/fitted", "2000-01-01") },
	Quiet: func() *domaintest.Builder { return domaintest.Classroom().Set("devices/ps/fitted", "2090-01-01") },
}

// lifeYears gives a battery's life: the type's own, else the limit of its sort.
func lifeYears(f *rule.Facts, d *rule.Device) float64 {
	switch {
	case d.Type.LifeYears > 0:
		return d.Type.LifeYears
	case d.Traits.Buttons:
		return f.Limit(domain.StationBatteryLife)
	}
	return f.Limit(domain.SensorBatteryLife)
}

// plusMonths adds whole months and stays in the month that they lead to: six
// months before 31 August is the last of February, not early March.
func plusMonths(t time.Time, months float64) time.Time {
	n := int(math.Round(months))
	first := time.Date(t.Year(), t.Month()+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(t.Day(), last)-1)
}

func day(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// dueFinding carries no number of days: it would get worse every day, and a
// waiver would last no longer than that.
func dueFinding(d *rule.Device, weight rule.Severity, stage string, due time.Time, years float64) rule.Finding {
	cell := strings.TrimSpace(d.Type.Cell + " battery")
	when := "fell due"
	if stage == "soon" {
		when = "falls due"
	}
	return rule.Finding{Severity: weight, Key: string(d.ID) + "/" + d.Fitted + "/" + stage, Subjects: []rule.Subject{d.Subject()},
		Message: fmt.Sprintf("The %s of %s, fitted %s with a life of %s years, %s on %s: replace it and write the new date.",
			cell, rule.Named(d.Tag), d.Fitted, rule.Number(years), when, due.Format(time.DateOnly))}
}

func unreadable(d *rule.Device) rule.Finding {
	return rule.Finding{Key: string(d.ID) + "/" + d.Fitted, Subjects: []rule.Subject{d.Subject()},
		Message: fmt.Sprintf("The battery date of %s, %q, is no date: write it like 2026-03-31.", rule.Named(d.Tag), d.Fitted)}
}
