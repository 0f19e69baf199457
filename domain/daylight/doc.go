// Package daylight tells what daylight does in a room: the daylight zones of
// energy codes, sky and sun, the daylight factor on the work plane, what a
// daylight sensor makes of it, and how far it dims the lamps through a year. It
// reckons on plain values; NewSpace reads them from a room and the walls around
// it. Real skies differ from these by a factor of two, so that a result helps to
// choose and never promises.
package daylight
