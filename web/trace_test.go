package web

import (
	"context"
	"encoding/json"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/tracing"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// traced is one event of the browser's own performance trace; times in microseconds.
type traced struct {
	Name     string  `json:"name"`
	Phase    string  `json:"ph"`
	At       float64 `json:"ts"`
	Duration float64 `json:"dur"`
	Worked   float64 `json:"tdur"` // of the processor's time, which other programs do not lengthen
	Thread   int     `json:"tid"`
	Args     struct {
		Name      string `json:"name"` // of a thread
		BeginData struct {
			Dirty int `json:"dirtyObjects"` // that a layout has to lay out
		} `json:"beginData"`
	} `json:"args"`
}

// trace records what the browser does meanwhile.
func (b *browser) trace(do func()) []traced {
	b.t.Helper()
	var out []traced
	ctx, stop := context.WithTimeout(b.ctx, time.Minute)
	defer stop()
	buckets, over := chromedp.Events(ctx, tracing.DataCollected), chromedp.Events(ctx, tracing.TracingComplete)
	call := func(f func(ctx context.Context, t *chromedp.Target) error) {
		require.NoError(b.t, chromedp.Do(ctx, chromedp.Func(f)))
	}
	call(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, tracing.Start, tracing.StartParams{TraceConfig: &tracing.TraceConfig{
			IncludedCategories: []string{"devtools.timeline", "disabled-by-default-devtools.timeline", "devtools.timeline.frame", "disabled-by-default-devtools.timeline.frame", "toplevel", "__metadata"}}})
		return err
	})
	do()
	call(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, tracing.End, cdp.Empty{})
		return err
	})
	for _, err := range over {
		require.NoError(b.t, err)
		break
	}
	// All buckets were sent before the end was: none is waited for any longer.
	reading, enough := context.WithTimeout(ctx, 200*time.Millisecond)
	defer enough()
	go func() { <-reading.Done(); stop() }()
	for bucket, err := range buckets {
		if err != nil {
			break
		}
		for _, raw := range bucket.Value {
			var one traced
			require.NoError(b.t, json.Unmarshal(raw, &one))
			out = append(out, one)
		}
	}
	return out
}

// report logs how far frames lie apart and what they spend their time on. It
// asserts nothing about time: machines differ, and other work runs beside, which
// is why tasks are given in the processor's time.
func report(t *testing.T, name string, events []traced) {
	t.Helper()
	main := mainThread(events)
	var drawn, tasks []float64
	spent := map[string]float64{}
	for _, e := range events {
		switch {
		case e.Name == "DrawFrame":
			drawn = append(drawn, e.At)
		case e.Thread == main && e.Name == "RunTask":
			tasks = append(tasks, e.Worked/1000)
		case e.Phase == "X":
			spent[e.Name] += e.Worked / 1000
		}
	}
	slices.Sort(drawn)
	var apart []float64
	for i := 1; i < len(drawn); i++ {
		apart = append(apart, (drawn[i]-drawn[i-1])/1000)
	}
	slices.Sort(apart)
	slices.Sort(tasks)
	t.Logf("%s: %d frames, apart median %.1f ms, 95 %% %.1f ms, longest %.1f ms; %d tasks of the page, median %.2f ms, 95 %% %.1f ms, longest %.1f ms",
		name, len(drawn), part(apart, 0.5), part(apart, 0.95), part(apart, 1), len(tasks), part(tasks, 0.5), part(tasks, 0.95), part(tasks, 1))
	for _, what := range []string{"FunctionCall", "ParseHTML", "UpdateLayoutTree", "Layout", "PrePaint", "Paint", "Layerize", "Commit", "RasterTask", "ImageDecodeTask"} {
		if ms := spent[what]; ms > 0.5 {
			t.Logf("  %s %.1f ms in all", what, ms)
		}
	}
}

func part(sorted []float64, share float64) float64 {
	if len(sorted) == 0 {
		return 0
	}
	return sorted[min(len(sorted)-1, int(share*float64(len(sorted))))]
}

// mainThread gives the thread that runs the page.
func mainThread(events []traced) int {
	for _, e := range events {
		if e.Name == "thread_name" && e.Args.Name == "CrRendererMain" {
			return e.Thread
		}
	}
	return 0
}
