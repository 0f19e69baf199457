package sequence

import (
	"fmt"

	"scopewright/domain"
	"scopewright/domain/domaintest"
	"scopewright/domain/edit"
	"scopewright/validate/rule"
)

// ScheduleHoliday asks what a schedule does on the project's holidays.
var ScheduleHoliday = rule.Rule{
	ID: "sequence-schedule-holiday", Title: "Schedule does not say what holidays do", Severity: rule.Warning, Scope: rule.OfRoom,
	Why:     "On a holiday that falls on a Monday an empty building lights up at seven, or the cleaners stand in the dark.",
	Source:  commonPractice,
	Example: "In a project with a list of holidays, Mon-Fri does not pass; Mon-Fri not holidays passes, and so does Mon-Sun, which counts every day.",
	Check: func(f *rule.Facts) []rule.Finding {
		if len(f.Project.Holidays) == 0 {
			return nil
		}
		return each(f, func(in *domain.Intent) (rule.Finding, bool) {
			if in.Kind != domain.BySchedule || in.OnAt == "" && in.OffAt == "" {
				return rule.Finding{}, false
			}
			days, err := domain.ParseDays(in.Days)
			if err != nil || days.Holidays != domain.HolidaysByWeekday || days.Week == domain.EveryDay.Week {
				return rule.Finding{}, false
			}
			out := of(in)
			out.Message = fmt.Sprintf("The schedule counts on %s, and the project lists holidays: write \"%s not holidays\" or \"%s and holidays\".", days, days, days)
			out.Fix = rule.SetFields("Leave holidays out", path(in, "days"), days.String()+" not holidays")
			return out, true
		})
	},
	Fires: func() *domaintest.Builder { return workdays("Mon-Fri") },
	Quiet: func() *domaintest.Builder { return workdays("Mon-Fri not holidays") },
}

// workdays gives a classroom with a schedule, in a project with a holiday.
func workdays(days string) *domaintest.Builder {
	b := domaintest.Classroom().Do(edit.AddIntent{ID: "clock", Kind: domain.BySchedule}).Set("intents/clock/days", days)
	b.P.Holidays = []string{"2026-12-25 Winter closing"}
	return b
}
