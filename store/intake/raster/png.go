package raster

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

// Chunks and numbers below are those of the PNG specification (W3C, Portable
// Network Graphics, 3rd edition), from memory.

const signature = "\x89PNG\r\n\x1a\n"

// Color types of IHDR.
const (
	gray      = 0
	trueColor = 2
	palette   = 3
	grayAlpha = 4
	fullAlpha = 6
)

// mostUnpacked bounds the memory of a picture that is written anew, in bytes.
const mostUnpacked = 200 << 20

// unpacked is how much memory the picture takes as image/png unpacks it.
func (h pngHead) unpacked() int64 {
	bytes := int64(4)
	if h.depth > 8 {
		bytes = 8
	}
	return int64(h.width) * int64(h.height) * bytes
}

type chunk struct {
	kind string
	data []byte
}

// pngHead is what IHDR says.
type pngHead struct {
	width, height int
	depth, color  byte
	interlaced    bool
}

// readPNG reads a PNG to its end. What a PDF cannot hold as it is, or can hold
// only by unpacking it (16 bits, see-through, interlaced), is written anew.
func readPNG(data []byte) (*Picture, error) {
	chunks, err := pngChunks(data)
	if err != nil {
		return nil, err
	}
	head, err := chunks[0].head()
	if err != nil {
		return nil, err
	}
	p := &Picture{Media: PNG, Width: head.width, Height: head.height, Data: data}
	plain := !head.interlaced && head.depth <= 8 && head.color != grayAlpha && head.color != fullAlpha
	for _, c := range chunks {
		switch c.kind {
		case "pHYs":
			p.Across, p.Down = c.resolution()
		case "tRNS":
			plain = false
		}
	}
	if err := head.inflate(chunks); err != nil {
		return nil, err
	}
	if plain {
		return p, nil
	}
	if head.unpacked() > mostUnpacked {
		return nil, building.Refuse("The picture has %d x %d pixels with %d bits or with see-through parts, which takes too much room. Save it as a plain picture in 8 bits or fewer, or as JPEG.", p.Width, p.Height, head.depth)
	}
	p.Data, err = flattened(data, p)
	return p, err
}

// pngChunks takes a PNG apart; the first chunk is IHDR, the last IEND.
func pngChunks(data []byte) ([]chunk, error) {
	const around = 12 // length, kind and checksum
	var out []chunk
	rest := data[len(signature):]
	for {
		if len(rest) < around {
			return nil, errCutShort
		}
		length := binary.BigEndian.Uint32(rest)
		if int64(length) > int64(len(rest)-around) {
			return nil, errCutShort
		}
		body := rest[4 : 8+length]
		c := chunk{kind: string(body[:4]), data: body[4:]}
		if crc32.ChecksumIEEE(body) != binary.BigEndian.Uint32(rest[8+length:]) {
			return nil, damaged("a checksum in it is wrong")
		}
		if out == nil && c.kind != "IHDR" {
			return nil, damaged("its head is missing")
		}
		if out == nil { // too many pixels are told before what else is wrong
			if _, err := c.head(); err != nil {
				return nil, err
			}
		}
		out = append(out, c)
		if c.kind == "IEND" {
			return out, nil
		}
		rest = rest[around+length:]
	}
}

func (c chunk) head() (h pngHead, err error) {
	if len(c.data) != 13 {
		return h, damaged("its head is of the wrong length")
	}
	width, height := binary.BigEndian.Uint32(c.data), binary.BigEndian.Uint32(c.data[4:])
	if width > 1<<31-1 || height > 1<<31-1 {
		return h, damaged("its size is no number")
	}
	h = pngHead{width: int(width), height: int(height), depth: c.data[8], color: c.data[9], interlaced: c.data[12] == 1}
	return h, sized(h.width, h.height)
}

// resolution reads pHYs: pixels a meter across and down. The two may differ.
func (c chunk) resolution() (across, down units.Metres) {
	const meters = 1 // of its last byte; else only the shape of a pixel is known
	if len(c.data) != 9 || c.data[8] != meters {
		return 0, 0
	}
	across, down = believed(float64(binary.BigEndian.Uint32(c.data))), believed(float64(binary.BigEndian.Uint32(c.data[4:])))
	if across == 0 || down == 0 {
		return 0, 0
	}
	return across, down
}

// channels is how many numbers a pixel has, by color type.
var channels = map[byte]int{gray: 1, trueColor: 3, palette: 1, grayAlpha: 2, fullAlpha: 4}

// inflate unpacks the pixels without keeping them: all must be there, and no more.
func (h pngHead) inflate(chunks []chunk) error {
	var parts []io.Reader
	for _, c := range chunks {
		if c.kind == "IDAT" {
			parts = append(parts, bytes.NewReader(c.data))
		}
	}
	z, err := zlib.NewReader(io.MultiReader(parts...))
	if err != nil {
		return damaged("its pixels cannot be unpacked")
	}
	want := h.bytes()
	n, err := io.Copy(io.Discard, io.LimitReader(z, want))
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF) || err == nil && n < want:
		return errCutShort
	case err != nil:
		return damaged("its pixels cannot be unpacked")
	}
	switch n, err := io.CopyN(io.Discard, z, 1); {
	case n > 0:
		return damaged("it holds more pixels than its head says")
	case errors.Is(err, io.ErrUnexpectedEOF):
		return errCutShort
	case !errors.Is(err, io.EOF):
		return damaged("a checksum in it is wrong")
	}
	return nil
}

// bytes is how much the pixels unpack to: rows, each after a byte that names its
// filter.
func (h pngHead) bytes() (n int64) {
	bits := int64(channels[h.color]) * int64(h.depth)
	rows := func(width, height int64) {
		if width > 0 && height > 0 {
			n += height * (1 + (width*bits+7)/8)
		}
	}
	width, height := int64(h.width), int64(h.height)
	if !h.interlaced {
		rows(width, height)
		return n
	}
	for _, pass := range []struct{ x, y, dx, dy int64 }{{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}} {
		rows((width-pass.x+pass.dx-1)/pass.dx, (height-pass.y+pass.dy-1)/pass.dy)
	}
	return n
}

// flattened writes a picture anew in 8 bits on white paper.
func flattened(data []byte, p *Picture) ([]byte, error) {
	from, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, damaged(err.Error())
	}
	var onto image.Image
	if inGray(from) {
		g := image.NewGray(from.Bounds())
		each(from, func(x, y int, c color.RGBA64) { g.SetGray(x, y, color.Gray{Y: uint8(onWhite(c.R, c.A) >> 8)}) })
		onto = g
	} else {
		rgb := image.NewRGBA(from.Bounds())
		each(from, func(x, y int, c color.RGBA64) {
			rgb.SetRGBA(x, y, color.RGBA{uint8(onWhite(c.R, c.A) >> 8), uint8(onWhite(c.G, c.A) >> 8), uint8(onWhite(c.B, c.A) >> 8), 255})
		})
		onto = rgb
	}
	return EncodePNG(onto, p.Across, p.Down)
}

// onWhite lays a part of a color, multiplied by how opaque it is, on white.
func onWhite(v, alpha uint16) uint32 { return uint32(v) + 0xFFFF - uint32(alpha) }

func inGray(m image.Image) bool {
	switch m.(type) {
	case *image.Gray, *image.Gray16:
		return true
	}
	return false
}

func each(m image.Image, f func(x, y int, c color.RGBA64)) {
	b := m.Bounds()
	at, fast := m.(image.RGBA64Image)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if fast {
				f(x, y, at.RGBA64At(x, y))
			} else {
				f(x, y, color.RGBA64Model.Convert(m.At(x, y)).(color.RGBA64))
			}
		}
	}
}

// EncodePNG writes a picture and the size of its pixels on paper, 0 for none.
func EncodePNG(m image.Image, across, down units.Metres) ([]byte, error) {
	var out bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.DefaultCompression}).Encode(&out, m); err != nil {
		return nil, err
	}
	if across <= 0 || down <= 0 {
		return out.Bytes(), nil
	}
	if out.Len() > MaxBytes {
		return nil, building.Refuse("The picture takes more than %d MB. Save it smaller.", MaxBytes>>20)
	}
	const beforePixels = len(signature) + 12 + 13 // after IHDR
	data := out.Bytes()
	body := append([]byte("pHYs"), make([]byte, 9)...)
	binary.BigEndian.PutUint32(body[4:], uint32(1/float64(across)+0.5))
	binary.BigEndian.PutUint32(body[8:], uint32(1/float64(down)+0.5))
	body[12] = 1
	whole := append(make([]byte, 0, len(data)+21), data[:beforePixels]...)
	whole = binary.BigEndian.AppendUint32(whole, 9)
	whole = append(whole, body...)
	whole = binary.BigEndian.AppendUint32(whole, crc32.ChecksumIEEE(body))
	return append(whole, data[beforePixels:]...), nil
}
