package export_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"scopewright/domain/demo"
	"scopewright/export"
	"scopewright/export/pdf"
	"scopewright/export/sheet"
)

func TestLookAtPlans(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip()
	}
	in, err := export.InputOf(demo.Scope(), june())
	require.NoError(t, err)
	doc, err := export.Build("plan", in, sheet.Only{})
	require.NoError(t, err)
	for name, paper := range map[string]pdf.Paper{"letter": pdf.Letter, "archd": pdf.ArchD, "a3": pdf.A3} {
		f, _ := os.Create(dir + "/plan-" + name + ".pdf")
		require.NoError(t, export.Write(f, export.PDF, doc, export.Options{Paper: paper}))
		f.Close()
	}
	f, _ := os.Create(dir + "/plan.svg")
	require.NoError(t, export.Write(f, export.SVG, doc, export.Options{Paper: pdf.Tabloid}))
	f.Close()
	var only sheet.Only
	for _, n := range []string{"201", "1S1", "204"} {
		o, err := export.RoomNumbered(in.Scope, n)
		require.NoError(t, err)
		only.Rooms = append(only.Rooms, o.Rooms...)
	}
	doc, err = export.Build("scope", in, only)
	require.NoError(t, err)
	f, _ = os.Create(dir + "/rooms.pdf")
	require.NoError(t, export.Write(f, export.PDF, doc, export.Options{}))
	f.Close()
	k, _ := export.KindByID("scope")
	css, _ := os.ReadFile("../static/css/sheet.css")
	size, _ := os.ReadFile("../static/css/paper-letter.css")
	_, err = export.Files(dir, k, export.HTML, in, only, export.Options{}, string(css)+string(size))
	require.NoError(t, err)
}
