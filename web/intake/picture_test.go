package intake

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/store"
)

func scan(t *testing.T, width, height int) string {
	t.Helper()
	pic := image.NewGray(image.Rect(0, 0, width, height))
	pic.Set(1, 1, color.White)
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, pic))
	return out.String()
}

// hugePNG has only a head, of the PNG standard's IHDR chunk, that promises many pixels.
func hugePNG(width, height uint32) string {
	head := append([]byte("IHDR"), make([]byte, 13)...)
	binary.BigEndian.PutUint32(head[4:], width)
	binary.BigEndian.PutUint32(head[8:], height)
	head[12], head[13] = 8, 0
	out := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), head...)
	return string(binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head)))
}

var twoPoints = []string{"ax", "100", "ay", "400", "bx", "500", "by", "400", "distance", "20 m", "direction", "", "x", "2 m", "y", "3 m", "opacity", "40"}

func TestPicture_isPlacedTakenAwayAndPlacedAnew(t *testing.T) {
	a := newApp(t)
	address, body := a.preview("ground floor.png", scan(t, 1000, 500))
	assert.Contains(t, body, "ground floor.png, 1000 x 500 pixels")
	shown := a.Get(address + "/picture")
	assert.Equal(t, "image/png", shown.Header().Get("Content-Type"))
	assert.Equal(t, scan(t, 1000, 500), shown.Body.String())

	got := a.Plain(address+"/apply", append(twoPoints, "storey", "s1")...)
	require.Equal(t, http.StatusSeeOther, got.Code, got.Body.String())
	assert.Equal(t, "/projects/p1/storeys/s1/plan", got.Header().Get("Location"))
	plan, _, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	u := plan.Underlay
	require.NotNil(t, u)
	assert.EqualValues(t, 50, u.Width, "400 pixels are 20 m")
	assert.EqualValues(t, 25, u.Height)
	assert.InDelta(t, -3, u.At.X, 1e-9)
	assert.InDelta(t, 0.4, u.Opacity, 1e-9)
	history, err := a.Store.History(t.Context(), "p1", store.HistoryFilter{})
	require.NoError(t, err)
	assert.Contains(t, history[0].Said, "placed picture ground floor.png beneath Ground")
	assert.Contains(t, history[0].Said, "lengths good to 0.5 %")

	stored := a.Get("/projects/p1/pictures/" + u.Picture)
	assert.Equal(t, "image/png", stored.Header().Get("Content-Type"))
	assert.Contains(t, stored.Header().Get("Cache-Control"), "immutable")
	assert.Equal(t, 404, a.Get("/projects/p2/pictures/"+u.Picture).Code)

	page := a.Get(imports).Body.String()
	assert.Contains(t, page, "Pictures beneath storeys")
	again := a.Plain(imports + "/pictures/s1/again")
	require.Equal(t, 303, again.Code)
	assert.Contains(t, a.Get(again.Header().Get("Location")).Body.String(), "1000 x 500 pixels")
	assert.Equal(t, 404, a.Plain(imports+"/pictures/s2/again").Code)

	require.Equal(t, 303, a.Plain(imports+"/pictures/s1/remove").Code)
	plan, _, err = a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Nil(t, plan.Underlay)
	_, err = a.Store.Undo(t.Context(), store.Request{ProjectID: "p1", Scope: store.PlanSubject("s1")})
	require.NoError(t, err)
	plan, _, err = a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Equal(t, u, plan.Underlay)
}

func TestPicture_refusesAndKeepsWhatWasTyped(t *testing.T) {
	a := newApp(t)
	var photo bytes.Buffer
	require.NoError(t, jpeg.Encode(&photo, image.NewGray(image.Rect(0, 0, 600, 500)), nil))
	address, _ := a.preview("scan.jpg", photo.String())
	for want, change := range map[string][2]string{
		"Choose the storey":              {"storey", "nowhere"},
		"place across is missing":        {"ax", ""},
		"place down is missing":          {"by", "NaN"},
		"is not a length":                {"distance", "12 in the afternoon"},
		"say how far":                    {"distance", "0"},
		"is no angle":                    {"direction", "north"},
		"The opacity goes from 5 to 100": {"opacity", "0"},
		"lie on the picture":             {"bx", "601"},
	} {
		pairs := append([]string{"storey", "s1"}, twoPoints...)
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == change[0] {
				pairs[i+1] = change[1]
			}
		}
		got := a.Plain(address+"/apply", pairs...)
		assert.Equal(t, 422, got.Code, want)
		assert.Contains(t, strings.ToLower(got.Body.String()), strings.ToLower(want))
		if change[0] != "distance" {
			assert.Contains(t, got.Body.String(), `value="20 m"`, "what was typed stays")
		}
	}
	plan, _, err := a.Store.Plan(t.Context(), "p1", "s1")
	require.NoError(t, err)
	assert.Nil(t, plan.Underlay)
}

func TestPicture_bad(t *testing.T) {
	a := newApp(t)
	for want, content := range map[string]string{
		"cut short or damaged": "\x89PNG\r\n\x1a\n\x00\x00",
		"at most 40 million":   hugePNG(100_000, 100_000),
		"damaged":              "\xff\xd8\xff\xe0nonsense",
	} {
		got := a.send("plan.png", content, "", "")
		assert.Equal(t, 422, got.Code, want)
		assert.Contains(t, got.Body.String(), want)
	}
}

// Whatever the bytes, a picture is taken with a sound size or refused.
func FuzzReadPicture(f *testing.F) {
	var small bytes.Buffer
	require.NoError(f, png.Encode(&small, image.NewGray(image.Rect(0, 0, 3, 2))))
	f.Add(small.Bytes())
	small = bytes.Buffer{}
	require.NoError(f, jpeg.Encode(&small, image.NewGray(image.Rect(0, 0, 3, 2)), nil))
	f.Add(small.Bytes())
	f.Add([]byte(hugePNG(1<<31-1, 1<<31-1)))
	f.Add([]byte("\xff\xd8\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := readPicture(data)
		if err == nil && (got.width <= 0 || got.height <= 0 || got.width*got.height > mostPixels || !strings.HasPrefix(got.media, "image/")) {
			t.Fatalf("taken: %+v", got)
		}
	})
}
