package sheet

import (
	"fmt"
	"strings"
	"unicode"
)

// Sheet numbers follow the pattern of the US National CAD Standard (discipline letters,
// sheet type digit, sequence; from memory): EL for electrical, lighting; type 0 general,
// 1 plans, 6 schedules and diagrams; 7 and 8 are left to the user there, and here mean rooms.
//
//	EL-001          cover and index            EL-607   control matrix
//	EL-002          general notes              EL-608   scene table
//	EL-003          changes since the last     EL-609   sequence of operations
//	EL-004          control intent narrative   EL-610   findings and waivers
//	EL-102          plan of the second storey  EL-611   review sheet of the project
//	EL-601          load schedule              EL-611-02-214  review of room 214
//	EL-602          device schedule            EL-612   points list
//	EL-603          bill of materials          EL-613   AV command list
//	EL-604          luminaire schedule         EL-614-02-214  functional test of room 214
//	EL-605          equipment and limits       EL-702-214  scope sheet of room 214 on the
//	EL-606          battery plan                           second storey of the project
//	EL-617          energy use                 EL-802-214  its installer's page
//	EL-618          panel and circuit schedule
//	EL-619          energy code checks
//	EL-620          daylight; with a room's number, daylight in it
//	EL-621-02-214   calibration of the daylight sensors of room 214; EL-621 its example
//	EL-616-02-214   radio and sight of room 214
//
// The room's number is the suffix, so that a room keeps its sheet number when other rooms
// come and go.
const (
	numberCover      = "EL-001"
	numberNotes      = "EL-002"
	numberChanges    = "EL-003"
	numberNarrative  = "EL-004"
	numberPlans      = "EL-100" // where there are none
	numberLoads      = "EL-601"
	numberDevices    = "EL-602"
	numberBill       = "EL-603"
	numberLuminaires = "EL-604"
	numberEquipment  = "EL-605"
	numberBattery    = "EL-606"
	numberMatrix     = "EL-607"
	numberScenes     = "EL-608"
	numberSequence   = "EL-609"
	numberFindings   = "EL-610"
	numberReview     = "EL-611"
	numberPoints     = "EL-612"
	numberCommands   = "EL-613"
	numberTests      = "EL-614"
	numberSurvey     = "EL-616"
	numberEnergy     = "EL-617"
	numberCircuits   = "EL-618"
	numberCode       = "EL-619"
	numberDaylight   = "EL-620"
	numberCalibrate  = "EL-621"
)

func (s *storey) planNumber() string { return fmt.Sprintf("EL-1%02d", s.place) }

func (r *room) scopeNumber() string   { return fmt.Sprintf("EL-7%02d-%s", r.on.place, r.number) }
func (r *room) installNumber() string { return fmt.Sprintf("EL-8%02d-%s", r.on.place, r.number) }
func (r *room) reviewNumber() string {
	return fmt.Sprintf("%s-%02d-%s", numberReview, r.on.place, r.number)
}
func (r *room) testNumber() string {
	return fmt.Sprintf("%s-%02d-%s", numberTests, r.on.place, r.number)
}

func (r *room) surveyNumber() string {
	return fmt.Sprintf("%s-%02d-%s", numberSurvey, r.on.place, r.number)
}

func (r *room) daylightNumber() string {
	return fmt.Sprintf("%s-%02d-%s", numberDaylight, r.on.place, r.number)
}

func (r *room) calibrationNumber() string {
	return fmt.Sprintf("%s-%02d-%s", numberCalibrate, r.on.place, r.number)
}

// longestSuffix keeps the sheet number inside its box.
const longestSuffix = 24

// sheetSuffix is a room's number as it may stand in a sheet number.
func sheetSuffix(number string) string {
	out := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '.' {
			return r
		}
		return '-'
	}, number)
	if r := []rune(out); len(r) > longestSuffix {
		out = string(r[:longestSuffix])
	}
	if out = strings.Trim(out, "-"); out == "" {
		return "x"
	}
	return out
}

// slugOf is a room's number in small letters, digits and dashes.
func slugOf(number string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(number) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
		if b.Len() >= longestSuffix {
			break
		}
	}
	if out := strings.Trim(b.String(), "-"); out != "" {
		return out
	}
	return "x"
}
