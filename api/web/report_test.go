package web_test

import (
	"io"
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/archive"
)

// paper fetches what a link of the page leads to.
func (tb *tab) paper(id string) (kind string, body []byte) {
	tb.t.Helper()
	href := eval[string](tb, `document.getElementById("`+id+`").getAttribute("href")`)
	request, err := http.NewRequestWithContext(tb.t.Context(), http.MethodGet, tb.url+href, nil)
	require.NoError(tb.t, err)
	answer, err := http.DefaultClient.Do(request)
	require.NoError(tb.t, err)
	defer answer.Body.Close()
	body, err = io.ReadAll(answer.Body)
	require.NoError(tb.t, err)
	require.Equal(tb.t, http.StatusOK, answer.StatusCode, "%s: %s", href, body)
	return answer.Header.Get("Content-Type"), body
}

// TestSupervisorsDay: from the first page to the report of two cells, what changed since
// the plan that the floor works to, and every paper.
func TestSupervisorsDay(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			s := workshop(t)
			in, plan := madeUp()
			_, _, err := s.Publish(t.Context(), archive.NewPublication{Plant: in.Plant.Name, Plan: 1, By: "Kim"})
			require.NoError(t, err)
			_, err = s.SavePlan(t.Context(), in.Plant.Name, 1, plan)
			require.NoError(t, err)
			tb := open(t, s, w.width, w.height)
			tb.visit("/")
			tb.press(`.three-ways a[href^="/report"]`)
			tb.wait(`document.querySelector("h1")?.innerText === "Plant rack report" && document.querySelector("#by-cell")`)
			assert.Contains(t, tb.text(".lead"), "the floor works to plan 1")
			assert.Contains(t, tb.text(".figures"), "Racks 77 7 of them proposed")
			tb.wait(`document.querySelector("#since-part").innerText.includes("Nothing here differs from plan 1")`)
			assert.Contains(t, tb.text("#chosen summary"), "All 14 cells")

			tb.press("#chosen summary")
			tb.press(`#chosen input[value="HORN"]`)
			tb.press(`#chosen input[value="LENS"]`)
			assert.Equal(t, "2 cells: HORN, LENS", tb.text("#chosen summary"))
			assert.Equal(t, 2, eval[int](tb, `document.querySelectorAll("#by-cell tbody tr").length`))
			assert.Contains(t, tb.text(".figures"), "Racks 11 1 of them proposed")
			assert.Contains(t, tb.text("#to-build"), "LENS-N1")
			for _, id := range []string{"report-pdf", "labels", "cards", "routes", "build"} {
				kind, body := tb.paper(id)
				assert.Equal(t, "application/pdf", kind, id)
				assert.Greater(t, len(body), 1000, id)
			}
			kind, _ := tb.paper("report-xlsx")
			assert.Contains(t, kind, "spreadsheetml")
			tb.choose("#label-kind", "rack")
			tb.choose("#label-size", "99.1x67.7")
			assert.Contains(t, eval[string](tb, `document.getElementById("labels").href`), "kind=rack&size=99.1x67.7&cells=HORN&cells=LENS")
			tb.paper("labels")
			tb.clean()
			tb.accessible()
			tb.screenshot("report-" + w.name)

			// The address keeps the choice.
			tb.visit(eval[string](tb, `location.pathname + location.search`))
			assert.Equal(t, "2 cells: HORN, LENS", tb.text("#chosen summary"))
		})
	}
}
