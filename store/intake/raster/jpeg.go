package raster

import (
	"bytes"
	"encoding/binary"
	"image/jpeg"

	"scopewright/domain/units"
)

// Markers are those of ITU-T T.81 table B.1, the density that of JFIF 1.02
// (ITU-T T.871), from memory.
const (
	startOfScan = 0xDA
	endOfImage  = 0xD9
	app0        = 0xE0
	app1        = 0xE1
	temporary   = 0x01
	restart0    = 0xD0
	restart7    = 0xD7
)

// readJPEG reads the head of a JPEG and looks for its end. Pixels are not
// unpacked: that of a progressive picture takes many times their room.
func readJPEG(data []byte) (*Picture, error) {
	head, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		if !bytes.Contains(data, []byte{0xFF, endOfImage}) {
			return nil, errCutShort
		}
		return nil, damaged("its head cannot be read")
	}
	if err := sized(head.Width, head.Height); err != nil {
		return nil, err
	}
	if !bytes.Contains(data[max(0, len(data)-afterEnd):], []byte{0xFF, endOfImage}) {
		return nil, errCutShort
	}
	p := &Picture{Media: JPEG, Width: head.Width, Height: head.Height}
	p.Data = p.withoutNotes(data)
	return p, nil
}

// afterEnd is how much some programs write behind the end of a picture.
const afterEnd = 64 << 10

// withoutNotes reads the density and leaves out what cameras note of place and
// time, and of the way they were held: the plan's places count pixels as they
// are stored.
func (p *Picture) withoutNotes(data []byte) []byte {
	out := append(make([]byte, 0, len(data)), data[:2]...)
	rest := data[2:]
	for len(rest) >= 4 && rest[0] == 0xFF {
		kind := rest[1]
		if kind == startOfScan || kind == endOfImage {
			break
		}
		if kind == 0xFF || kind == temporary || kind >= restart0 && kind <= restart7 {
			step := 2
			if kind == 0xFF {
				step = 1 // fill
			}
			out, rest = append(out, rest[:step]...), rest[step:]
			continue
		}
		length := 2 + int(binary.BigEndian.Uint16(rest[2:]))
		if length < 4 || length > len(rest) {
			break
		}
		switch kind {
		case app0:
			p.density(rest[4:length])
			out = append(out, rest[:length]...)
		case app1:
		default:
			out = append(out, rest[:length]...)
		}
		rest = rest[length:]
	}
	return append(out, rest...)
}

func (p *Picture) density(body []byte) {
	if len(body) < 12 || string(body[:5]) != "JFIF\x00" {
		return
	}
	toMeters := map[byte]float64{1: 1 / units.MetresPerInch, 2: 100}[body[7]]
	across := believed(float64(binary.BigEndian.Uint16(body[8:])) * toMeters)
	down := believed(float64(binary.BigEndian.Uint16(body[10:])) * toMeters)
	if across > 0 && down > 0 {
		p.Across, p.Down = across, down
	}
}
