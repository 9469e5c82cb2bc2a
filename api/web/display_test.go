package web_test

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"

	"lanewright/api/apitest"
)

// display chooses in the control Display.
func (tb *tab) display(name, value string) {
	tb.t.Helper()
	tb.press("#display")
	tb.wait(`!!document.querySelector("dialog[open]")`)
	tb.choose("#display-"+name, value)
	tb.press(`dialog button[value="keep"]`)
	tb.wait(`!document.querySelector("dialog") && document.querySelector("#content")?.getAttribute("aria-busy") === "false" && !document.querySelector("[aria-busy=true]")`)
}

// TestLanguageChosen: the page is in the language that was chosen, numbers and
// headings, header and title included; what the server says stays English and
// is marked as such.
func TestLanguageChosen(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 800)
	tb.visit("/")
	for _, c := range []struct{ lang, nav, heading, round, placed string }{
		{"de", "Werk", "Zellen mit zu wenig Bahnen", "13,5 min", "Kreisläufe mit Bahn 16 von 18 2 ohne"},
		{"es", "Planta", "Celdas con falta de carriles", "13,5 min", "Circuitos con carril 16 de 18 2 sin carril"},
		{"en", "Plant", "Cells short of lanes", "13.5 min", "Loops with a lane 16 of 18 2 without"},
	} {
		tb.display("language", c.lang)
		tb.wait(`document.documentElement.lang === "` + c.lang + `" && document.querySelector("#cells-title")?.innerText === "` + c.heading + `"`)
		assert.Equal(t, c.nav, tb.text(".mast nav a"))
		assert.Contains(t, tb.text("#routes tbody tr"), c.round)
		assert.Contains(t, tb.text(".figures"), c.placed)
		tb.wait(`document.querySelectorAll("#findings .list > li").length === 3`)
		assert.Equal(t, "en", eval[string](tb, `document.querySelector("#findings strong").lang`))
		tb.clean()
		tb.accessible()
		tb.screenshot("language-" + c.lang)
	}
}

// TestLongWords: German and Spanish fit a phone.
func TestLongWords(t *testing.T) {
	t.Parallel()
	tb := open(t, exampleStore(t), 390, 844)
	for _, lang := range []string{"de", "es"} {
		tb.visit("/docs")
		eval[bool](tb, `localStorage.setItem("lanewright.language", "`+lang+`"), true`)
		for _, address := range examples {
			tb.visit(address)
			assert.Equal(t, lang, eval[string](tb, `document.documentElement.lang`))
			tb.clean()
			tb.press("#menu")
			tb.clean()
		}
		tb.visit("/cells")
		tb.press("#menu")
		tb.accessible()
		tb.screenshot("menu-" + lang)
	}
}

func TestUnitsChosen(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 800)
	tb.visit("/cells")
	assert.Contains(t, tb.text("#racks tbody tr"), "1,200 mm")
	tb.display("units", "inch")
	tb.wait(`document.querySelector("#racks tbody tr")?.innerText.includes("47.24")`)
	assert.Contains(t, tb.text("#racks tbody tr"), "47.24 in", "1200 / 25.4")
	tb.visit("/routes/B?plan=1")
	assert.Contains(t, tb.text(".figures"), "218.3 lb", "99 / 0.45359237")
}

// TestThemeChosen: the choice holds against the device, from the first paint:
// it is there before the page's own module runs.
func TestThemeChosen(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 800)
	ground := func() string { return eval[string](tb, `getComputedStyle(document.body).backgroundColor`) }
	tb.visit("/docs")
	light := ground()
	tb.scheme(true)
	dark := ground()
	assert.NotEqual(t, light, dark)
	tb.display("theme", "light")
	assert.Equal(t, light, ground())
	tb.scheme(false)
	tb.display("theme", "dark")
	assert.Equal(t, dark, ground())
	tb.visit("/cells")
	assert.Equal(t, dark, ground())
	assert.True(t, eval[bool](tb, `[...document.head.querySelectorAll("script[src]")].every((s, i) => (i === 0) === (s.type !== "module") && (i > 0 || s.src.endsWith("/assets/display.js")))`))
	tb.press("#display")
	tb.wait(`!!document.querySelector("dialog[open]")`)
	tb.accessible()
	tb.screenshot("display")
}

// TestKeyboard: keys open what they say; the dialog takes the focus, closes
// with Escape and gives it back; nothing happens while somebody types, or where
// single keys are switched off.
func TestKeyboard(t *testing.T) {
	t.Parallel()
	tb := open(t, apitest.Filled(t), 1280, 800)
	tb.visit("/")
	tb.keyboard(kb.Tab)
	assert.Equal(t, "To the content", tb.focused())
	tb.do(focus("#display"))
	tb.keyboard("?")
	tb.wait(`document.querySelector("dialog[open]")?.innerText.includes("show this list")`)
	assert.Equal(t, "Close", tb.focused())
	tb.accessible()
	tb.screenshot("keys")
	tb.keyboard(kb.Escape)
	tb.wait(`!document.querySelector("dialog")`)
	assert.Equal(t, "Display", tb.focused())
	tb.keyboard("2")
	tb.wait(`document.querySelector("h1")?.innerText === "Cells"`)
	tb.display("keys", "off")
	tb.keyboard("?")
	tb.keyboard("1")
	assert.Equal(t, "Cells", tb.text("h1"))
	assert.False(t, eval[bool](tb, `!!document.querySelector("dialog")`))
	tb.clean()
}
