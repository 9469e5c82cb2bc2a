package web_test

import (
	"context"
	"errors"
	"fmt"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"lanewright/api"
)

// browser finds Chromium; a test without it is skipped with a sentence, but
// fails where everything must run (CI=true).
func browser(t *testing.T) string {
	t.Helper()
	for _, path := range []string{os.Getenv("CHROMIUM"), "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"} {
		if _, err := os.Stat(path); path != "" && err == nil {
			return path
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("Chromium is missing and CI=true: install the package chromium or set CHROMIUM to its path")
	}
	t.Skip("Chromium is not installed: the pages are not tried in a browser. Install the package chromium or set CHROMIUM to its path.")
	return ""
}

// windows are those of a desk and of a phone.
var windows = []struct {
	name          string
	width, height int64
}{{"desk", 1280, 900}, {"phone", 390, 844}}

// tab is a browser window on a running server.
type tab struct {
	t   *testing.T
	ctx context.Context
	url string

	mu       sync.Mutex
	troubles []string
}

// open starts a server on a store and a window of a size.
func open(t *testing.T, store api.Store, width, height int64) *tab {
	t.Helper()
	path := browser(t)
	server := httptest.NewServer(api.New(api.Options{Store: store, Version: "test", Heartbeat: time.Second}))
	t.Cleanup(server.Close)
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	t.Cleanup(cancel)
	tb := &tab{t: t, url: server.URL}
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(path), chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("lang", "en-GB"), chromedp.Flag("accept-lang", "en-GB"),
		chromedp.Flag("host-resolver-rules", "MAP floor.test 127.0.0.1"), // a name that is not localhost
	}
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	tb.ctx, cancel = chromedp.NewContext(ctx, chromedp.WithAllocatorOptions(options...), chromedp.WithListener(tb.listen))
	t.Cleanup(cancel)
	tb.do(chromedp.EmulateViewport(width, height))
	return tb
}

// listen collects what a person would find in the console in red.
func (tb *tab) listen(event any) {
	tb.mu.Lock()
	defer tb.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		trouble := e.ExceptionDetails.Text + " " + e.ExceptionDetails.URL
		if thrown := e.ExceptionDetails.Exception; thrown != nil {
			trouble += " " + thrown.Description
		}
		tb.troubles = append(tb.troubles, trouble)
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			tb.troubles = append(tb.troubles, fmt.Sprint(e.Args))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning {
			tb.troubles = append(tb.troubles, e.Entry.Text+" "+e.Entry.URL)
		}
	}
}

func (tb *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	tb.t.Helper()
	require.NoError(tb.t, chromedp.Do(tb.ctx, actions...))
}

// visit opens a page and waits until its content stands.
func (tb *tab) visit(path string) {
	tb.t.Helper()
	tb.do(chromedp.Navigate(tb.url + path))
	tb.wait(`document.querySelector("#content")?.getAttribute("aria-busy") === "false" && !document.querySelector("[aria-busy=true]") && !document.querySelector(".list:empty")`)
}

// wait waits until an expression is true. A page that opens meanwhile ends the
// polling of the one before, so it is begun again.
func (tb *tab) wait(expression string) {
	tb.t.Helper()
	var err error
	if strings.HasPrefix(expression, "document.querySelector(") { // an element will do
		expression = "!!(" + expression + ")"
	}
	for range 5 {
		_, err = chromedp.Run(tb.ctx, chromedp.Poll[bool](expression, chromedp.WithPollingTimeout(20*time.Second)))
		if err == nil || errors.Is(err, chromedp.ErrPollingTimeout) {
			break
		}
	}
	require.NoError(tb.t, err, "%s\n%s", expression, strings.Join(tb.troubles, "\n"))
}

// text returns what a person reads at a selector, white space folded.
func (tb *tab) text(selector string) string {
	tb.t.Helper()
	return strings.Join(strings.Fields(eval[string](tb, fmt.Sprintf(`document.querySelector(%q)?.innerText ?? "nothing at %s"`, selector, selector))), " ")
}

func eval[T any](tb *tab, expression string) T {
	tb.t.Helper()
	v, err := chromedp.Run(tb.ctx, chromedp.Evaluate[T](expression))
	require.NoError(tb.t, err, expression)
	return v
}

// press clicks what stands at a selector.
func (tb *tab) press(selector string) {
	tb.t.Helper()
	tb.do(chromedp.Click(chromedp.CSS(selector)))
}

// keyboard types keys where the focus is; kb has the names of special ones.
func (tb *tab) keyboard(keys string) {
	tb.t.Helper()
	tb.do(chromedp.KeyEvent(keys))
}

// focused tells what has the focus: its name as a person hears it.
func (tb *tab) focused() string {
	tb.t.Helper()
	return eval[string](tb, `((e) => e.getAttribute("aria-label") || e.labels?.[0]?.innerText || e.innerText.trim())(document.activeElement)`)
}

// awaited is eval of a promise.
func awaited[T any](tb *tab, expression string) T {
	tb.t.Helper()
	v, err := chromedp.Run(tb.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(tb.t, err)
	return v
}

// choose picks the option of a select by its value.
func (tb *tab) choose(selector, value string) {
	tb.t.Helper()
	eval[bool](tb, fmt.Sprintf(`((e) => { e.value = %q; return e.dispatchEvent(new Event("change", { bubbles: true })) })(document.querySelector(%q))`, value, selector))
}

// screenshot writes the whole page as a picture where LANEWRIGHT_SCREENSHOTS
// names a folder.
func (tb *tab) screenshot(name string) {
	tb.t.Helper()
	folder := os.Getenv("LANEWRIGHT_SCREENSHOTS")
	if folder == "" {
		return
	}
	png, err := chromedp.Run(tb.ctx, chromedp.FullScreenshot(100))
	require.NoError(tb.t, err)
	require.NoError(tb.t, os.WriteFile(filepath.Join(folder, name+".png"), png, 0o600))
}

// scheme sets what the person prefers, light or dark.
func (tb *tab) scheme(dark bool) {
	tb.t.Helper()
	value := "light"
	if dark {
		value = "dark"
	}
	tb.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: value}},
		})
		return err
	}))
}
