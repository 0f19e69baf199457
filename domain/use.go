package domain

// Use is what a room is for; it picks starting points and, later, code rows.
type Use string

// UseInfo describes one use.
type UseInfo struct {
	Use      Use
	Name     string
	Synonyms []string // as room lists spell it, lower case
}

// Uses lists the uses in alphabetical order of their names.
func Uses() []UseInfo {
	return []UseInfo{
		{"break-room", "Break room", []string{"kitchen", "kitchenette", "lunch", "pantry", "cafeteria", "lounge"}},
		{"classroom", "Classroom", []string{"teaching", "lecture", "seminar", "training"}},
		{"conference", "Conference room", []string{"meeting", "conf", "boardroom", "board room", "huddle"}},
		{"copy-room", "Copy and print room", []string{"copy", "print"}},
		{"corridor", "Corridor", []string{"hall", "hallway", "passage", "vestibule"}},
		{"electrical", "Electrical or plant room", []string{"mech", "mechanical", "elec", "plant", "it room", "server", "riser", "idf", "mdf"}},
		{"lab", "Laboratory", []string{"laboratory"}},
		{"lobby", "Lobby", []string{"entrance", "reception", "atrium", "foyer"}},
		{"office-open", "Open office", []string{"open plan", "open office", "open-plan", "workstations", "bullpen"}},
		{"office-private", "Private office", []string{"office", "private"}},
		{"other", "Other", nil},
		{"restroom", "Restroom", []string{"toilet", "wc", "washroom", "lavatory", "toilets", "locker"}},
		{"retail", "Sales area", []string{"shop", "sales", "retail"}},
		{"stair", "Stair", []string{"stairs", "stairwell", "staircase"}},
		{"storage", "Store room", []string{"store", "closet", "janitor", "archive"}},
		{"warehouse", "Warehouse", []string{"aisle", "dock"}},
		{"workshop", "Workshop", []string{"shop floor", "assembly", "maker"}},
	}
}

// Info gives what is known of the use; ok is false for an unknown one.
func (u Use) Info() (info UseInfo, ok bool) {
	for _, x := range Uses() {
		if x.Use == u {
			return x, true
		}
	}
	return UseInfo{}, false
}

// Name gives the use as printed.
func (u Use) Name() string {
	if info, ok := u.Info(); ok {
		return info.Name
	}
	return string(u)
}
