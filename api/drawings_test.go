package api_test

import (
	"bytes"
	"encoding/xml"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestRackDrawings: each view of a rack is a picture, the build sheet a document,
// and who has one already is told so.
func TestRackDrawings(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	for query, want := range map[string]string{
		"": "Front, from the pick side, 1:", "?view=front": "Front, from the pick side, 1:",
		"?view=side": "Cut along the lanes, from the right end, 1:", "?view=plan": "Level 1 from above, 1:",
	} {
		w := call(t, h, "GET", "/api/v1/plans/1/racks/R3.svg"+query, "")
		require.Equal(t, 200, w.Code, "%s: %s", query, w.Body)
		assert.Equal(t, "image/svg+xml", w.Header().Get("Content-Type"))
		assert.Contains(t, w.Body.String(), want)
		require.NoError(t, xml.Unmarshal(w.Body.Bytes(), new(struct{ XMLName xml.Name })), query)
		again := call(t, h, "GET", "/api/v1/plans/1/racks/R3.svg"+query, "", "If-None-Match: "+w.Header().Get("ETag"))
		assert.Equal(t, 304, again.Code, query)
	}
	w := call(t, h, "GET", "/api/v1/plans/1/racks/R3.pdf", "")
	require.Equal(t, 200, w.Code, w.Body)
	assert.Equal(t, "application/pdf", w.Header().Get("Content-Type"))
	assert.Equal(t, `inline; filename="build-sheet-R3-plan-1.pdf"`, w.Header().Get("Content-Disposition"))
	assert.True(t, bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")))
	assert.Equal(t, w.Body.Bytes(), call(t, h, "GET", "/api/v1/plans/1/racks/R3.pdf", "").Body.Bytes(), "the same bytes")
}

// TestRackDrawingsThatAreNot: an unknown rack, also one with a dot or a slash in
// its code, and an unknown view are said to be so.
func TestRackDrawingsThatAreNot(t *testing.T) {
	t.Parallel()
	h, _ := filled(t)
	for address, want := range map[string]string{
		"R99.svg": "R99", "R99.pdf": "R99", "A.12.svg": "A.12", "A.12.pdf": "A.12", "A%2F1.x.svg": "A/1.x",
	} {
		w := call(t, h, "GET", "/api/v1/plans/1/racks/"+address, "")
		assert.Equal(t, http.StatusNotFound, w.Code, address)
		assert.Contains(t, w.Body.String(), want)
		assert.False(t, strings.Contains(w.Body.String(), ".svg") || strings.Contains(w.Body.String(), ".pdf"), "%s: %s", address, w.Body)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, call(t, h, "GET", "/api/v1/plans/1/racks/R3.svg?view=back", "").Code)
	assert.Equal(t, http.StatusNotFound, call(t, h, "GET", "/api/v1/plans/9/racks/R3.svg", "").Code)
}
