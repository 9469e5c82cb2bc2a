package web_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lanewright/api/apitest"
)

func TestDocsPage(t *testing.T) {
	for _, w := range windows {
		t.Run(w.name, func(t *testing.T) {
			t.Parallel()
			tb := open(t, apitest.Filled(t), w.width, w.height)
			tb.visit("/docs")
			assert.Contains(t, tb.text("#make-plan"), "POST /api/v1/plants/{plant}/plans")
			tb.clean()
		})
	}
}
