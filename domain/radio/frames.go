package radio

import "math"

// BitErrors gives the rate of bit errors of the O-QPSK layer of IEEE 802.15.4 at
// 2.4 GHz for a ratio of signal to noise and interference in dB:
// (8/15)(1/16) sum over k from 2 to 16 of (-1)^k C(16,k) exp(20 s (1/k - 1)).
// Source: IEEE 802.15.4-2006 E.4.1.7, as an open network simulator has it.
func BitErrors(sinr float64) float64 {
	s, sum, binomial := math.Pow(10, sinr/10), 0.0, 16.0
	for k := 2; k <= 16; k++ {
		binomial = binomial * float64(16-k+1) / float64(k)
		term := binomial * math.Exp(20*s*(1/float64(k)-1))
		if k%2 == 1 {
			term = -term
		}
		sum += term
	}
	return math.Min(1, math.Max(0, sum*8/15/16))
}

// FrameErrors gives the share of frames of a length in octets that are lost:
// 1 - (1 - BitErrors)^(8 n), reckoned so that small shares keep their digits.
func FrameErrors(sinr float64, octets int) float64 {
	return -math.Expm1(float64(8*octets) * math.Log1p(-BitErrors(sinr)))
}

// sinrAtSensitivity is the ratio at which 1 % of frames of 20 octets are lost,
// which is where IEEE 802.15.4 puts a receiver's sensitivity.
const sinrAtSensitivity = 0.403

// LostAt gives the share of frames that are lost at a margin over the
// receiver's stated sensitivity, dB, with the curve tied to the data sheet.
func LostAt(margin float64, octets int) float64 {
	return FrameErrors(margin+sinrAtSensitivity, octets)
}

// NoiseFloor gives the thermal noise in dBm of a bandwidth in Hz at 290 K with a
// noise figure in dB: 10 log10(k T B / 1 mW) + NF.
func NoiseFloor(bandwidth, noiseFigure float64) float64 {
	const boltzmann, kelvin = 1.380649e-23, 290
	return 10*math.Log10(boltzmann*kelvin*bandwidth*1000) + noiseFigure
}

// AirTime gives how long a frame is on the air in ms: 32 us an octet with the 6
// octets before it (from memory). octets counts the frame's own, at most 127.
func AirTime(octets int) float64 { return float64(octets+6) * 0.032 }
