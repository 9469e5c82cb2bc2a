package web_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"

	"lanewright/api/apitest"
)

// TestMapPage: a rack is found by its part, shown and told of; what is shown stands in
// the address; the table has the same figures.
func TestMapPage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/map?plan=1")
			assert.Equal(t, "Plant map", tb.text("h1"))
			assert.True(t, eval[bool](tb, `(() => { const c = document.querySelector("canvas"); const d = c.getContext("2d").getImageData(0, 0, c.width, c.height).data;
				return new Set(new Uint32Array(d.buffer)).size > 3 })()`), "something is drawn")
			tb.choose("#overlay", "brought")
			assert.Contains(t, tb.text("#racks thead"), "Containers brought per hour")
			assert.Contains(t, eval[string](tb, "location.search"), "by=brought")
			tb.do(chromedp.SetValue(chromedp.CSS("#find"), "LE-105"))
			eval[bool](tb, `document.querySelector("#find").dispatchEvent(new Event("change"))`)
			tb.wait(`document.querySelector(".found ul") !== null`)
			assert.Contains(t, tb.text(".found"), "LE-105: rack R")
			assert.Contains(t, tb.text(".found"), "in use")
			tb.choose("#route", "B")
			assert.Contains(t, tb.text(".found"), "Route B: 1 R")
			tb.clean()
			tb.accessible()
		})
	}
}

// TestMapByKeys: the map moves and zooms by keys alone.
func TestMapByKeys(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 900)
	tb.visit("/map?plan=1")
	drawn := `(() => { const c = document.querySelector("canvas"); return c.toDataURL() })()`
	was := eval[string](tb, drawn)
	tb.do(chromedp.Focus(chromedp.CSS("canvas")))
	for _, key := range []string{"+", "\ue04d"} { // plus and an arrow
		tb.keyboard(key)
	}
	tb.wait(drawn + ` !== ` + fmt.Sprintf("%q", was))
	tb.clean()
}
