package energy

// Sum is what rooms use together in a year.
type Sum struct {
	Rooms   int     // with a figure
	Area    float64 // m2
	Watts   float64 // of lamps
	Lamps   float64 // kWh, with the controls
	Standby float64 // kWh
	ByHand  float64 // kWh by LENI, switched at the door
	LeftOn  float64 // kWh, what light left on adds to ByHand
	Played  float64 // kWh, of the weeks, standby in it
	Hand    float64 // kWh, of the same weeks switched by hand
	Weeks   int     // rooms that were played
}

// Add adds a room; one without a figure, or without lamps whose watts are known, is
// left out.
func (s *Sum) Add(y *Year, habit Habit) {
	if y.Problem != "" || len(y.LENI.Lines) == 0 {
		return
	}
	one := Sum{Rooms: 1, Area: float64(y.LENI.Area), Watts: float64(y.LENI.Connected()), Lamps: y.LENI.Use.Lamps, Standby: y.LENI.Use.Standby, ByHand: y.LENI.ByHand.Total(),
		LeftOn: habit.LeftOn(y.LENI.Connected(), y.Setting.Profile)}
	if y.Played != nil {
		one.Weeks, one.Played, one.Hand = 1, y.Played.Total(), y.Played.ByHand
	}
	s.Join(one)
}

// Join adds another sum.
func (s *Sum) Join(o Sum) {
	*s = Sum{s.Rooms + o.Rooms, s.Area + o.Area, s.Watts + o.Watts, s.Lamps + o.Lamps, s.Standby + o.Standby, s.ByHand + o.ByHand, s.LeftOn + o.LeftOn, s.Played + o.Played, s.Hand + o.Hand, s.Weeks + o.Weeks}
}

// Total is lamps and standby, kWh.
func (s Sum) Total() float64 { return s.Lamps + s.Standby }

// LENI gives kWh/(m2 year); 0 without a floor.
func (s Sum) LENI() float64 {
	if s.Area <= 0 {
		return 0
	}
	return s.Total() / s.Area
}

// SavedKWh is what the controls save over switches by hand; below 0 where their
// standby is more.
func (s Sum) SavedKWh() float64 { return s.ByHand - s.Total() }

// Saved is the same as a share of ByHand; 0 without any.
func (s Sum) Saved() float64 {
	if s.ByHand <= 0 {
		return 0
	}
	return s.SavedKWh() / s.ByHand
}

// AllPlayed tells that the weeks of all its rooms were played: sums of some are no sums.
func (s Sum) AllPlayed() bool { return s.Rooms > 0 && s.Weeks == s.Rooms }

// PlayedSavedKWh is what the controls save in the weeks over the same weeks switched by
// hand; below 0 where they use more.
func (s Sum) PlayedSavedKWh() float64 { return s.Hand - s.Played }

// PlayedSaved is the same as a share of Hand; 0 without any.
func (s Sum) PlayedSaved() float64 {
	if s.Hand <= 0 {
		return 0
	}
	return s.PlayedSavedKWh() / s.Hand
}
