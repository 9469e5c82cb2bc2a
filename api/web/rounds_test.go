package web_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/api/apitest"
)

func TestRoutePage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/routes/B?plan=1")
			assert.Equal(t, "Route B", tb.text("h1"))
			assert.Contains(t, tb.text("#timetable"), "Shift night 22:00 00:15")
			assert.Contains(t, tb.text("#stops tbody tr:nth-child(2)"), "R4")
			assert.Contains(t, tb.text("#stops"), "TEST/2")
			tb.clean()
		})
	}
}
