package main

import (
	"context"
	"net/http/httptest"
	"net/url"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"lanewright/api"
	"lanewright/api/apitest"
	"lanewright/cmd/lanebench/internal/scale"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// window is a browser on a server that keeps one planned plant in memory.
type window struct {
	b   *testing.B
	ctx context.Context
	url string
}

func newWindow(b *testing.B, facts *plant.Plant) *window {
	b.Helper()
	path := os.Getenv("CHROMIUM")
	if path == "" {
		path = "/usr/bin/chromium"
	}
	if _, err := os.Stat(path); err != nil {
		b.Skip("Chromium is not installed: set CHROMIUM to its path")
	}
	settings := planner.DefaultSettings(facts)
	settings.Placement.Steps = 0
	plan, err := planner.Run(b.Context(), planner.Input{Plant: facts}, settings, planner.Options{Threads: 2})
	require.NoError(b, err)
	s := apitest.NewStore()
	_, _, err = s.SaveRevision(b.Context(), facts.Name, facts, plant.Revision(facts), nil, nil)
	require.NoError(b, err)
	_, err = s.SavePlan(b.Context(), facts.Name, 1, plan)
	require.NoError(b, err)
	server := httptest.NewServer(api.New(api.Options{Store: s, Version: "bench"}))
	b.Cleanup(server.Close)
	options := []chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.UserDataDir(b.TempDir()), chromedp.Flag("disable-dev-shm-usage", true)}
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	ctx, cancel := chromedp.NewContext(b.Context(), chromedp.WithAllocatorOptions(options...))
	b.Cleanup(cancel)
	w := &window{b: b, ctx: ctx, url: server.URL}
	require.NoError(b, chromedp.Do(ctx, chromedp.EmulateViewport(1280, 900)))
	return w
}

// open goes to a page and returns the milliseconds until its content stands, painted, as
// the page's own clock counts them from the beginning of the navigation.
func (w *window) open(path string) float64 {
	w.b.Helper()
	require.NoError(w.b, chromedp.Do(w.ctx, chromedp.Navigate(w.url+path)))
	return w.wait(`document.querySelector("#content")?.getAttribute("aria-busy") === "false"`)
}

// wait polls each frame until an expression holds, and one frame more.
func (w *window) wait(expression string) float64 {
	w.b.Helper()
	return w.run(`new Promise((done) => { const look = () => (` + expression + `) ? requestAnimationFrame(() => done(performance.now())) : requestAnimationFrame(look); look(); })`)
}

func (w *window) run(script string) float64 {
	w.b.Helper()
	ctx, cancel := context.WithTimeout(w.ctx, time.Minute)
	defer cancel()
	ms, err := chromedp.Run(ctx, chromedp.Evaluate[float64](script, chromedp.EvalAwaitPromise))
	require.NoError(w.b, err)
	return ms
}

// middle is the one in the middle.
func middle(list []float64) float64 { return slices.Sorted(slices.Values(list))[len(list)/2] }

// BenchmarkCellInBrowser opens a cell of 150 loops, chooses a loop and moves it, and
// reports the milliseconds until each stands painted; the middle of several.
func BenchmarkCellInBrowser(b *testing.B) {
	facts := scale.Cell(150, 1)
	w := newWindow(b, facts)
	cell := "/cells/" + url.PathEscape(string(facts.Cells[0].Cell)) + "?plan=1"
	w.open(cell)
	w.run(`localStorage.setItem("lanewright.who", "bench"), 0`)
	var open, choose, edit []float64
	for b.Loop() {
		open = append(open, w.open(cell))
		choose = append(choose, w.run(`new Promise((done) => {
			const start = performance.now();
			document.querySelector(".lane.used").click();
			const look = () => document.querySelector(".fit") ? requestAnimationFrame(() => done(performance.now() - start)) : requestAnimationFrame(look);
			look();
		})`))
		edit = append(edit, w.run(`new Promise((done) => {
			const start = performance.now();
			const told = document.querySelector("#part-told");
			told.replaceChildren();
			document.querySelector("#pin").click();
			const look = () => told.firstChild ? requestAnimationFrame(() => done(performance.now() - start)) : requestAnimationFrame(look);
			look();
		})`))
	}
	b.ReportMetric(middle(open), "open-ms")
	b.ReportMetric(middle(choose), "fits-ms")
	b.ReportMetric(middle(edit), "edit-ms")
}

// BenchmarkMapInBrowser pans the map of a plant of 250 cells with the arrow keys and reports
// frames a second; the browser draws 60 at most.
func BenchmarkMapInBrowser(b *testing.B) {
	w := newWindow(b, scale.Plant(250, 20000, 1))
	start := w.open("/?plan=1")
	opened := w.open("/map?plan=1")
	var rates []float64
	for b.Loop() {
		rates = append(rates, w.run(`new Promise((done) => {
			const canvas = document.querySelector("canvas");
			const start = performance.now();
			let frames = 0;
			const step = () => {
				if (performance.now() - start > 3000) return done(1000 * frames / (performance.now() - start));
				frames++;
				canvas.dispatchEvent(new KeyboardEvent("keydown", { key: frames % 100 < 50 ? "ArrowRight" : "ArrowLeft", bubbles: true, cancelable: true }));
				requestAnimationFrame(step);
			};
			requestAnimationFrame(step);
		})`))
	}
	b.ReportMetric(middle(rates), "frames/s")
	b.ReportMetric(start, "first-page-ms")
	b.ReportMetric(opened, "map-ms")
}
