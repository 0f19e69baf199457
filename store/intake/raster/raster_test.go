package raster

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain/units"
	"scopewright/store/intake/building"
)

func encoded(t testing.TB, m image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, m))
	return out.Bytes()
}

func photo(t testing.TB, width, height int) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, width, height)), nil))
	return out.Bytes()
}

// headOnly is a PNG that promises pixels and ends.
func headOnly(width, height uint32) []byte {
	head := append([]byte("IHDR"), make([]byte, 13)...)
	binary.BigEndian.PutUint32(head[4:], width)
	binary.BigEndian.PutUint32(head[8:], height)
	head[12] = 8
	return withChunk([]byte(signature), head)
}

func withChunk(to, body []byte) []byte {
	to = binary.BigEndian.AppendUint32(to, uint32(len(body)-4))
	to = append(to, body...)
	return binary.BigEndian.AppendUint32(to, crc32.ChecksumIEEE(body))
}

// bomb is a small PNG whose few bytes unpack to more pixels than it has.
func bomb(t testing.TB) []byte {
	t.Helper()
	large := encoded(t, image.NewGray(image.Rect(0, 0, 6000, 6000)))
	chunks, err := pngChunks(large)
	require.NoError(t, err)
	out := headOnly(10, 10)
	for _, c := range chunks {
		if c.kind == "IDAT" {
			out = withChunk(out, append([]byte("IDAT"), c.data...))
		}
	}
	return withChunk(out, []byte("IEND"))
}

// Each file that cannot be used says what it is and what to do.
func TestRead_refusals(t *testing.T) {
	whole := encoded(t, image.NewGray(image.Rect(0, 0, 400, 300)))
	flipped := bytes.Clone(whole)
	flipped[len(flipped)-20] ^= 0x10
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"nothing":             {nil, "The file is empty"},
		"no picture":          {[]byte("room,area\n101,20\n"), "no picture that can be read here"},
		"another picture":     {[]byte("GIF89a\x01\x00\x01\x00"), "save it as PNG or JPEG"},
		"huge":                {headOnly(100_000, 100_000), "100000 x 100000 pixels; at most 40 million"},
		"huge beyond numbers": {headOnly(1<<31+5, 4), "its size is no number"},
		"flat":                {headOnly(0, 4), "no pixels"},
		"only the name":       {[]byte(signature), "cut short"},
		"head only":           {headOnly(30, 30), "cut short"},
		"cut in half":         {whole[:len(whole)/2], "cut short"},
		"without its end":     {whole[:len(whole)-12], "cut short"},
		"a bit flipped":       {flipped, "damaged"},
		"bomb":                {bomb(t), "more pixels than its head says"},
		"JPEG head":           {[]byte("\xff\xd8\xff\xe0"), "cut short"},
		"JPEG cut in half":    {photo(t, 400, 300)[:700], "cut short"},
		"JPEG nonsense":       {[]byte("\xff\xd8\xff\xe0nonsense\xff\xd9"), "damaged"},
		"too many bytes":      {append(bytes.Clone(whole), make([]byte, MaxBytes)...), "at most 64 MB"},
	} {
		_, err := Read(c.data)
		var refused *building.Refusal
		if assert.ErrorAs(t, err, &refused, name) {
			assert.Contains(t, err.Error(), c.want, name)
		}
	}
}

func TestRead_takesWhatIsWhole(t *testing.T) {
	whole := encoded(t, image.NewGray(image.Rect(0, 0, 400, 300)))
	got, err := Read(whole)
	require.NoError(t, err)
	assert.Equal(t, &Picture{Media: PNG, Width: 400, Height: 300, Data: whole}, got, "a plain picture is kept as it is")
	got, err = Read(photo(t, 64, 48))
	require.NoError(t, err)
	assert.Equal(t, []any{JPEG, 64, 48}, []any{got.Media, got.Width, got.Height})
	_, err = jpeg.Decode(bytes.NewReader(got.Data))
	assert.NoError(t, err)
}

// What a PDF cannot hold as it is comes out in 8 bits on white paper.
func TestRead_laysSeeThroughPicturesOnWhite(t *testing.T) {
	from := image.NewNRGBA(image.Rect(0, 0, 2, 1))
	from.SetNRGBA(0, 0, color.NRGBA{R: 200, A: 0})
	from.SetNRGBA(1, 0, color.NRGBA{A: 128})
	got, err := Read(encoded(t, from))
	require.NoError(t, err)
	m, err := png.Decode(bytes.NewReader(got.Data))
	require.NoError(t, err)
	assert.Equal(t, color.RGBA{255, 255, 255, 255}, color.RGBAModel.Convert(m.At(0, 0)))
	assert.Equal(t, color.RGBA{127, 127, 127, 255}, color.RGBAModel.Convert(m.At(1, 0)), "half of black on white")

	deep := image.NewGray16(image.Rect(0, 0, 3, 3))
	deep.SetGray16(1, 1, color.Gray16{Y: 0x8123})
	got, err = Read(encoded(t, deep))
	require.NoError(t, err)
	m, err = png.Decode(bytes.NewReader(got.Data))
	require.NoError(t, err)
	assert.IsType(t, &image.Gray{}, m)
	assert.Equal(t, color.Gray{Y: 0x81}, m.At(1, 1))
}

// 300 dots to the inch are 11811 pixels a meter (300 / 0.0254).
func TestRead_resolution(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 600, 300))
	data, err := EncodePNG(m, units.MetresPerInch/300, units.MetresPerInch/300)
	require.NoError(t, err)
	assert.Contains(t, string(data), "pHYs\x00\x00\x2e\x23\x00\x00\x2e\x23\x01")
	got, err := Read(data)
	require.NoError(t, err)
	width, height := got.Paper()
	assert.InDelta(t, 2*units.MetresPerInch, float64(width), 1e-6)
	assert.InDelta(t, 1*units.MetresPerInch, float64(height), 1e-6)

	// JFIF: version 1.01, unit 1 (inch), 200 x 200.
	body := "JFIF\x00\x01\x01\x01\x00\xc8\x00\xc8\x00\x00"
	scanned := photo(t, 64, 48)
	scanned = append([]byte("\xff\xd8\xff\xe0\x00\x10"+body), scanned[2:]...)
	got, err = Read(scanned)
	require.NoError(t, err)
	assert.InDelta(t, 200, units.MetresPerInch/float64(got.Across), 1e-9)

	for _, lie := range []string{"JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00", "JFIF\x00\x01\x01\x01\x00\x00\x00\x00\x00\x00", "JFIF\x00\x01\x01\x01\xff\xff\x00\xc8\x00\x00"} {
		got, err = Read(append([]byte("\xff\xd8\xff\xe0\x00\x10"+lie), photo(t, 64, 48)[2:]...))
		require.NoError(t, err)
		assert.Zero(t, got.Across)
	}
}

// Where and how a camera was held is left out: browsers would turn the picture
// by it, and its places count pixels as they are stored.
func TestRead_leavesOutWhatCamerasNote(t *testing.T) {
	plain := photo(t, 64, 48)
	noted := append([]byte("\xff\xd8\xff\xe1\x00\x10Exif\x00\x00secret!!"), plain[2:]...)
	got, err := Read(noted)
	require.NoError(t, err)
	assert.Equal(t, plain, got.Data)
}

// Interlaced pictures have seven passes; the sizes of PNG's own figure of 8 x 8
// pixels: 1, 1, 2, 4, 8, 16 and 32 pixels (specification, clause 8, from memory).
func TestPNGHead_interlacedBytes(t *testing.T) {
	h := pngHead{width: 8, height: 8, depth: 8, color: gray, interlaced: true}
	assert.EqualValues(t, 64+1+1+1+2+2+4+4, h.bytes(), "64 pixels and a filter byte for each row of each pass")
}

func FuzzRead(f *testing.F) {
	f.Add(encoded(f, image.NewGray(image.Rect(0, 0, 3, 2))))
	f.Add(encoded(f, image.NewNRGBA64(image.Rect(0, 0, 3, 2))))
	f.Add(photo(f, 3, 2))
	f.Add(headOnly(1<<31-1, 1<<31-1))
	f.Add([]byte("\xff\xd8\xff\xe0\x00\x01\xff\xd9"))
	f.Add([]byte("\xff\xd8\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := Read(data)
		if err != nil {
			if strings.TrimSpace(err.Error()) == "" {
				t.Fatal("refused without a word")
			}
			return
		}
		if got.Width <= 0 || got.Height <= 0 || got.Width > MaxPixels/got.Height || len(got.Data) == 0 || !(got.Across >= 0) {
			t.Fatalf("taken: %+v", got)
		}
		if got.Media == PNG {
			if _, err := png.Decode(bytes.NewReader(got.Data)); err != nil {
				t.Fatalf("taken, but %v", err)
			}
		}
	})
}
