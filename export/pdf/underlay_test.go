package pdf

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/export/drawing"
	"scopewright/export/sheet/sheettest"
)

func TestUnderlay_goesIntoThePDF(t *testing.T) {
	var asPNG, asJPEG bytes.Buffer
	m := image.NewGray(image.Rect(0, 0, 60, 30))
	require.NoError(t, png.Encode(&asPNG, m))
	require.NoError(t, jpeg.Encode(&asJPEG, m, nil))
	for name, c := range map[string]struct {
		stored drawing.Stored
		image  bool
	}{
		"PNG":     {drawing.Stored{Media: "image/png", Data: asPNG.Bytes()}, true},
		"JPEG":    {drawing.Stored{Media: "image/jpeg", Data: asJPEG.Bytes()}, true},
		"lines":   {sheettest.Lines(), false},
		"unknown": {drawing.Stored{Media: drawing.TracingMedia, Data: []byte("nonsense")}, false},
	} {
		var first, second bytes.Buffer
		require.NoError(t, Render(&first, sheettest.Beneath(c.stored), Options{}), name)
		require.NoError(t, Render(&second, sheettest.Beneath(c.stored), Options{}), name)
		assert.Equal(t, first.Bytes(), second.Bytes(), name)
		assert.Equal(t, c.image, bytes.Contains(first.Bytes(), []byte("/Subtype /Image")), name)
		assert.Contains(t, first.String(), "/ca 0.4", name)
	}
}

// A picture that a PDF cannot hold is an error, not a sheet without it.
func TestUnderlay_refusesWhatItCannotHold(t *testing.T) {
	err := Render(&bytes.Buffer{}, sheettest.Beneath(drawing.Stored{Media: "image/png", Data: []byte("nonsense")}), Options{})
	assert.Error(t, err)
	err = Render(&bytes.Buffer{}, sheettest.Beneath(drawing.Stored{Media: "image/gif", Data: []byte("GIF89a")}), Options{})
	assert.Error(t, err)
}
