// Package radio reckons with the wireless side of a room.
package radio

// Refused tells which of the messages sent at the given times (milliseconds,
// in order) do not go out when at most most may be on the air in any window:
// a message at t goes out if fewer than most went out in (t - window, t], and
// one that does not go out takes no place.
//
// Common practice: 8 in 9 s; the 9 s agree with nwkcBroadcastDeliveryTime of
// the Zigbee network layer, the life of a record in the table of broadcasts.
// A record that ends exactly at t is free.
func Refused(times []int, most, window int) []int {
	var refused, sent []int
	for i, t := range times {
		live := 0
		for j := len(sent) - 1; j >= 0 && sent[j]+window > t; j-- {
			live++
		}
		if live >= most {
			refused = append(refused, i)
			continue
		}
		sent = append(sent, t)
	}
	return refused
}
