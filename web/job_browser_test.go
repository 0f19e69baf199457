package web

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"scopewright/domain"
	"scopewright/store"
)

// fill types into a form field by its ID, as a person with the focus there.
func (b *browser) fill(id, text string) {
	b.t.Helper()
	b.do(chromedp.Focus(chromedp.CSS("#" + id)))
	evaluate[bool](b, fmt.Sprintf(`(() => { const f = document.getElementById(%q); f.value = %q; return true; })()`, id, text))
}

// press clicks the first button of that text in an element, and waits where it
// leads.
func (b *browser) press(within, text string) {
	b.t.Helper()
	b.waitFor("document.readyState === 'complete'")
	found := evaluate[bool](b, fmt.Sprintf(`(() => {
		const button = [...document.querySelectorAll(%q)].find((e) => e.textContent.trim().startsWith(%q) && !e.disabled);
		button?.click();
		return Boolean(button);
	})()`, within+" button, "+within+" a", text))
	require.True(b.t, found, "no button %q in %s", text, within)
}

// cell types into a grid cell and goes on.
func (b *browser) cell(path, text string) {
	b.t.Helper()
	b.focus(path)
	b.paste(text)
	b.waitFor(fmt.Sprintf(`[...document.querySelectorAll('.cell')].some((c) => c.dataset.path === %q && !c.classList.contains('saving'))`, path))
	b.waitFor(stored)
}

const roomList = "Room No.\tRoom Name\tLevel\tArea (SF)\tCeiling\tOccupants\n" +
	"101\tClassroom A\tLevel 1\t860\t9' 6\"\t30\n102\tClassroom B\tLevel 1\t860\t9' 6\"\t30\n103\tClassroom C\tLevel 1\t860\t9' 6\"\t30\n" +
	"104\tOffice\tLevel 1\t120\t9'\t1\n"

const luminaireList = "Type\tDescription\tWatts\tVoltage\tPF\tDriver\nA\tRecessed panel\t38\t277\t0.95\t0-10V\n"

// The whole job as a designer, a project manager and a reviewer do it: from an
// empty database to issued and signed scope sheets, in the browser alone.
func TestBrowser_theWholeJob(t *testing.T) {
	b := newBrowser(t)
	a := newEmptyApp(t)

	b.open(a.url + "/")
	b.fill("new-name", "North Street School")
	b.press("form[action='/projects']", "Create project")
	b.waitFor("location.pathname.startsWith('/projects/')")
	project := evaluate[string](b, "location.pathname")
	id := domain.ID(strings.TrimPrefix(project, "/projects/"))

	for _, pasted := range []string{luminaireList, roomList} {
		b.open(a.url + project + "/import")
		b.fill("pasted", pasted)
		b.press("form[data-upload]", "Read it")
		b.waitFor("location.pathname.includes('/import/')")
		b.press("form[action$='/apply']", "")
		b.waitFor("!location.pathname.includes('/import')")
	}
	rooms, total, err := a.store.RoomLines(t.Context(), id, store.Filter{Limit: 50})
	require.NoError(t, err)
	require.Equal(t, 4, total)

	// A typical, designed once.
	b.open(a.url + project)
	b.fill("typical-name", "CR-1")
	b.press("#add-typical", "Add typical")
	b.waitFor(`[...document.querySelectorAll('a')].some((l) => l.textContent === 'CR-1')`)
	b.press("main", "CR-1")
	b.waitFor("location.pathname.includes('/typicals/')")
	designTypical(b)
	typical := evaluate[string](b, "location.pathname")
	assert.Equal(t, "", evaluate[string](b, `[...document.querySelectorAll('.finding.error, .finding.warning')].map((f) => f.textContent).join('; ')`))

	// Three rooms follow it, in one step.
	b.open(a.url + project)
	evaluate[bool](b, `(() => { for (const row of document.querySelectorAll('#rooms tbody tr')) {
		if (row.textContent.includes('Classroom')) row.querySelector('td.tick input')?.click();
	} return true; })()`)
	b.press("#bulk", "Typical")
	b.waitFor("document.querySelector('#bulk-form select, #bulk-form input[type=radio]')")
	evaluate[bool](b, fmt.Sprintf(`(() => {
		const select = document.querySelector('#bulk-form select');
		select.value = %q;
		select.dispatchEvent(new Event('change', {bubbles: true}));
		return true;
	})()`, strings.TrimPrefix(typical, project+"/typicals/")))
	b.waitFor("[...document.querySelectorAll('#bulk-form button[type=submit]')].some((x) => !x.disabled)")
	evaluate[bool](b, "document.querySelector('#bulk-form footer button[type=submit]').click(), true")
	b.waitFor(`[...document.querySelectorAll('#rooms a')].filter((l) => l.textContent === 'CR-1').length === 3`)

	// The reviewer objects to nothing and signs one room.
	b.open(a.url + project + "/review/" + string(rooms[0].ID))
	b.fill("sign-name", "R. Reviewer")
	b.fill("sign-role", "Reviewer")
	evaluate[bool](b, `(() => { const c = document.querySelector('#sign textarea'); if (c) c.value = 'Looked at on the drawings'; return true; })()`)
	b.press("#sign", "Sign this room")
	b.waitFor(`document.body.textContent.includes('R. Reviewer')`)
	signs, err := a.store.SignOffs(t.Context(), id, rooms[0].ID)
	require.NoError(t, err)
	require.Len(t, signs, 1)

	// The project manager issues revision 1 and prints.
	b.open(a.url + project + "/documents/issue")
	b.fill("issue-purpose", "for construction")
	b.fill("issue-author", "P. Manager")
	b.press("#issue", "Issue revision 1")
	b.waitFor("!location.pathname.endsWith('/issue')")
	pdf := a.get(project + "/documents/set.pdf?revision=1")
	require.Equal(t, 200, pdf.status)
	assert.True(t, strings.HasPrefix(pdf.body, "%PDF"))
	page := a.get(project + "/documents/scope.html?room=" + string(rooms[0].ID)).body
	for _, text := range []string{"Scope of room 101 Classroom A", "typical CR-1, no exceptions", "8 x A", "LC-1.1", "Pressing button 1", "R. Reviewer", "holds for this content"} {
		assert.Contains(t, page, text)
	}

	// An edit of the typical makes the signature stale, and says so.
	b.open(a.url + typical + "?edit=1")
	load := evaluate[string](b, `document.querySelector('#grid-loads .cell[data-path$="/count"]').dataset.path`)
	b.cell(load, "9")
	b.open(a.url + project + "/review/" + string(rooms[0].ID))
	assert.Contains(t, strings.ToLower(evaluate[string](b, "document.querySelector('main').textContent")), "stale")
}

// designTypical makes a small, sound classroom on the workbench.
func designTypical(b *browser) {
	b.t.Helper()
	add := func(typ string) {
		b.t.Helper()
		n := evaluate[int](b, "document.querySelectorAll('#grid-devices tbody tr').length")
		evaluate[bool](b, fmt.Sprintf("document.getElementById('add-type').value = %q, true", typ))
		b.press("#sec-devices form", "Add")
		b.waitFor(fmt.Sprintf("document.querySelectorAll('#grid-devices tbody tr').length === %d", n+1))
	}
	b.press("#sec-loads", "Add lighting")
	b.waitFor("document.querySelectorAll('#grid-loads tbody tr').length === 1")
	for _, typ := range []string{"lc-1", "st-4-mains", "ps-ceiling", "ps-ceiling", "gw-room"} {
		add(typ)
	}
	path := func(grid, name string) string {
		return evaluate[string](b, fmt.Sprintf(`document.querySelector('#%s .cell[data-path$="/%s"]').dataset.path`, grid, name))
	}
	b.cell(path("grid-loads", "count"), "8")
	b.cell(path("grid-loads", "circuit"), "LP-1")
	b.cell(path("grid-loads", "controller"), "LC-1")
	b.press("#sec-scenes", "Add scene")
	b.waitFor("document.querySelector('#grid-scenes')")
	b.focus(path("grid-buttons", "buttons/1"))
	b.paste("On\tRaise\tLower\tOff")
	b.waitFor(`document.querySelector('#sec-matrix').textContent.includes('4 Off')`)
	first := evaluate[string](b, `document.querySelector('#grid-matrix .cell[data-path]').dataset.path`)
	b.focus(first)
	b.paste("SC1\nUP\nDN\n0\nACT\nACT")
	b.waitFor(`document.querySelector('#grid-matrix tfoot').textContent.includes('2 / 1')`)
	for i, kind := range []string{"manual", "presence", "power-back"} {
		evaluate[bool](b, fmt.Sprintf("document.getElementById('add-intent').value = %q, true", kind))
		b.press("#sec-intents form", "Add intent")
		b.waitFor(fmt.Sprintf("document.querySelectorAll('.intent').length === %d", i+1))
	}
	b.press("#findings", "Assign parents")
	b.waitFor(`!document.querySelector('#findings').textContent.includes('capacity-parents')`)
}
