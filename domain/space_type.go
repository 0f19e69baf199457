package domain

// SpaceType is a kind of space as the tables of energy codes tell them apart.
type SpaceType string

// NamedSpace is a kind of space with its name as printed.
type NamedSpace struct {
	Type SpaceType
	Name string
}

// spaceTypes are the kinds of space of the codes that can be chosen, all of which
// share one list. Areas in the names are the codes' own, in their unit.
var spaceTypes = []NamedSpace{
	{"office_enclosed_le_150ft2", "enclosed office, at most 150 sq ft"},
	{"office_enclosed_151_250ft2", "enclosed office, over 150 to 250 sq ft"},
	{"office_enclosed_251_300ft2", "enclosed office, over 250 to 300 sq ft"},
	{"office_enclosed_gt_300ft2", "enclosed office, over 300 sq ft"},
	{"office_open_gt_300ft2", "open-plan office, over 300 sq ft"},
	{"conference_meeting", "conference, meeting, multipurpose"},
	{"classroom_lecture_training", "classroom, lecture, training"},
	{"shop_classroom", "shop or workshop classroom"},
	{"lab_classroom", "laboratory used as classroom"},
	{"laboratory", "laboratory, not a classroom"},
	{"corridor", "corridor"},
	{"corridor_hospital", "corridor in a hospital"},
	{"stairwell", "stairwell"},
	{"restroom", "restroom"},
	{"lobby_general", "lobby, general"},
	{"lobby_elevator", "lobby, elevators"},
	{"lobby_hotel", "lobby, hotel"},
	{"atrium_lt_20ft", "atrium, under 20 ft high"},
	{"atrium_gt_40ft", "atrium, over 40 ft high"},
	{"storage_lt_50ft2", "storage, under 50 sq ft"},
	{"storage_ge_50ft2", "storage, 50 sq ft and over"},
	{"lounge_breakroom", "lounge or break room"},
	{"lounge_healthcare", "lounge in health care"},
	{"copy_print", "copy or print room"},
	{"library_reading", "library, reading"},
	{"library_stacks", "library, stacks"},
	{"gym_playing", "gymnasium, playing area"},
	{"gym_exercise", "gymnasium, exercise area"},
	{"auditorium_seating", "auditorium seating"},
	{"dining_cafeteria", "dining, cafeteria or fast food"},
	{"dining_family", "dining, family"},
	{"dining_bar_lounge", "dining, bar, lounge or leisure"},
	{"kitchen", "food preparation"},
	{"retail_sales", "sales area"},
	{"retail_fitting", "fitting room"},
	{"mall_concourse", "mall concourse"},
	{"warehouse_bulky", "warehouse, medium to bulky goods"},
	{"warehouse_small", "warehouse, small hand-carried goods"},
	{"loading_dock", "loading dock, indoors"},
	{"workshop", "workshop"},
	{"vehicle_maintenance", "vehicle maintenance"},
	{"parking_garage", "parking garage, drive and parking"},
	{"elec_mech_room", "electrical or mechanical room"},
	{"data_room", "computer or data room"},
	{"locker_room", "locker room"},
	{"laundry", "laundry or washing"},
	{"guestroom", "guest room"},
	{"exam_treatment", "examination or treatment room"},
	{"patient_room", "patient room"},
	{"nurse_station", "nurse station"},
	{"operating_room", "operating room"},
	{"imaging_room", "imaging room"},
	{"medical_supply", "medical supply room"},
	{"physical_therapy", "physical therapy"},
	{"pharmacy", "pharmacy"},
	{"museum_exhibition", "museum, general exhibition"},
	{"courtroom", "courtroom"},
	{"fellowship_hall", "fellowship hall"},
	{"seating_general", "seating, general"},
}

// SpaceTypes lists the kinds of space.
func SpaceTypes() []NamedSpace { return append([]NamedSpace(nil), spaceTypes...) }

// Name gives the kind of space as printed.
func (t SpaceType) Name() string {
	for _, s := range spaceTypes {
		if s.Type == t {
			return s.Name
		}
	}
	return string(t)
}

// spaceChoices begins with what holds as long as nobody has confirmed a kind: the one
// that use and area suggest.
func spaceChoices[T any](Env, *T) []Choice {
	out := []Choice{{"", "as proposed"}}
	for _, s := range spaceTypes {
		out = append(out, Choice{string(s.Type), s.Name})
	}
	return out
}

// KindOfSpace gives the kind of space that a person has confirmed of the room: the
// room's own, else that of its typical; empty: nobody has.
func (r *Resolved) KindOfSpace() SpaceType {
	if r.Space == "" && r.Typical != nil {
		return r.Typical.Space
	}
	return r.Space
}

func spaceNames() []string {
	out := make([]string, len(spaceTypes))
	for i, s := range spaceTypes {
		out[i] = string(s.Type)
	}
	return out
}
