package web

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// patience is how long a test waits for the page before it gives up.
const patience = 10 * time.Second

// browser is one headless Chromium with one page. When the test ends it must
// have nothing to complain of: no uncaught error, nothing blocked by the
// content security policy.
type browser struct {
	t   *testing.T
	ctx context.Context

	opened     sync.Once
	mu         sync.Mutex
	complaints []string
	left       bool // the test is over: what breaks off now is no fault
}

// newBrowser starts Chromium, beside those of other tests: most of a test is
// waiting for a page. Call it before the app is made, which would wait too.
func newBrowser(t *testing.T) *browser {
	t.Helper()
	if os.Getenv("SCOPEWRIGHT_MEASURE") == "" {
		t.Parallel()
	}
	return newBrowserAlone(t)
}

// newBrowserAlone starts Chromium while no other test runs one, for a test that
// measures. Without Chromium on the machine the test is skipped, or fails where
// SCOPEWRIGHT_BROWSER=required says that it must run.
func newBrowserAlone(t *testing.T) *browser {
	t.Helper()
	path := findChromium()
	if path == "" {
		const missing = "no chromium on this machine: install Debian's chromium package to run the browser tests"
		if os.Getenv("SCOPEWRIGHT_BROWSER") == "required" {
			t.Fatal(missing)
		}
		t.Skip(missing)
	}
	ctx, closeBrowser := chromedp.NewContext(context.Background(),
		chromedp.WithAllocatorOptions(chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU))
	t.Cleanup(closeBrowser)
	// The browser starts here, before a timeout exists that would end it.
	require.NoError(t, chromedp.Do(ctx))
	ctx, stop := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(stop)

	b := &browser{t: t, ctx: ctx}
	b.listen()
	t.Cleanup(b.checkComplaints)
	return b
}

func findChromium() string {
	for _, name := range []string{"chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// listen collects what the console calls an error. Answers of 4xx and 5xx are
// logged there too, by the network: tests provoke those on purpose.
func (b *browser) listen() {
	messages := chromedp.Console(b.ctx)
	go func() {
		for message, err := range messages {
			if err != nil {
				return
			}
			if message.Source == "network" || message.Type != chromedp.ConsoleError && !message.IsException() {
				continue
			}
			b.mu.Lock()
			if !b.left {
				b.complaints = append(b.complaints, message.String())
			}
			b.mu.Unlock()
		}
	}()
}

func (b *browser) checkComplaints() {
	assert.Empty(b.t, b.takeComplaints(), "the browser console has errors")
}

// takeComplaints gives what the console complained of so far, and forgets it.
func (b *browser) takeComplaints() []string {
	time.Sleep(50 * time.Millisecond) // console messages come after the page's own events
	b.mu.Lock()
	defer b.mu.Unlock()
	complaints := b.complaints
	b.complaints = nil
	return complaints
}

// do runs steps such as chromedp.Click(chromedp.CSS("#save")).
func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, steps...))
}

func (b *browser) open(url string) {
	b.t.Helper()
	b.opened.Do(func() { b.t.Cleanup(b.leave) })
	b.do(chromedp.Navigate(url))
}

// leave ends the page before the server that it talks to ends: the cleanup of a
// server that started before the page opened comes after this.
func (b *browser) leave() {
	b.checkComplaints()
	b.mu.Lock()
	defer b.mu.Unlock()
	b.left = true
}

// evaluate runs JavaScript in the page, also under a policy that forbids eval,
// and waits for a promise.
func evaluate[T any](b *browser, expression string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err, expression)
	return value
}

// waitFor polls a JavaScript condition. (chromedp.Poll evaluates text in the
// page, which our policy forbids.)
func (b *browser) waitFor(condition string) {
	b.t.Helper()
	require.Eventually(b.t, func() bool { return evaluate[bool](b, "!!("+condition+")") },
		patience, 20*time.Millisecond, "the page never reached: %s", condition)
}

// screenshot keeps a picture of the page when SCOPEWRIGHT_SCREENSHOTS names a folder.
func (b *browser) screenshot(name string) {
	b.t.Helper()
	folder := os.Getenv("SCOPEWRIGHT_SCREENSHOTS")
	if folder == "" {
		return
	}
	picture, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	require.NoError(b.t, err)
	require.NoError(b.t, os.WriteFile(filepath.Join(folder, name+".png"), picture, 0o600))
}
